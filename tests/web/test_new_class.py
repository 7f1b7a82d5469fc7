"""Making a class: its name, its date, its course."""

from coursekit.services import teaching
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.visitor import Visitor


def test_a_class_of_a_known_course_is_made_and_asks_for_its_scenarios(
    instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    instructor.open("/classes/new")
    instructor.send(title="Sunday group", on="2026-06-14", course_id=str(cast.course_id))

    assert instructor.heading == "What will Sunday group work on?"
    newest = teaching.classes(unit, cast.instructor.actor)[0]
    assert (newest.title, newest.course, str(newest.on)) == (
        "Sunday group",
        "Winch basics",
        "2026-06-14",
    )


def test_a_new_course_is_made_with_its_first_class(
    instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    instructor.open("/classes/new")
    instructor.send(
        title="Sunday group", on="2026-06-14", course_id="0", course_title="Kinetic pulls"
    )

    assert "Kinetic pulls" in instructor.html
    titles = [course.title for course in teaching.courses(unit, cast.instructor.actor)]
    assert titles == ["Kinetic pulls", "Winch basics"]


def test_the_date_is_today_unless_another_is_given(instructor: Visitor) -> None:
    assert instructor.open("/classes/new").value("on") == "2026-06-13"


def test_a_new_course_without_a_name_is_asked_for_it_and_the_rest_is_kept(
    instructor: Visitor,
) -> None:
    instructor.open("/classes/new")
    instructor.send(title="Sunday group", on="2026-06-14", course_id="0", course_title=" ")

    assert instructor.status == 422
    assert instructor.errors == ["▲ Fill this in."]
    assert (instructor.value("title"), instructor.value("on")) == ("Sunday group", "2026-06-14")


def test_a_class_without_a_name_or_a_date_is_not_made(
    instructor: Visitor, unit: Unit, cast: Cast
) -> None:
    before = len(teaching.classes(unit, cast.instructor.actor))
    instructor.open("/classes/new").send(title="", on="31 June")

    assert instructor.status == 422
    assert len(instructor.errors) == 2
    assert len(teaching.classes(unit, cast.instructor.actor)) == before


def test_the_list_says_which_class_is_open_and_how_many_are_in(instructor: Visitor) -> None:
    instructor.open("/classes")

    assert instructor.heading == "Saturday group is open: 1 is in"
    assert "1 scenario, 1 student" in instructor.html
