"""Courses and classes: draft, open, closed."""

from datetime import date, datetime

import pytest

from coursekit.problems import Problems
from coursekit.services import answering, teaching
from coursekit.services.class_now import class_now
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store.unit import Unit
from tests.cast import Cast


@pytest.fixture
def draft(unit: Unit, cast: Cast, now: datetime) -> int:
    """A class that nothing has been chosen for."""
    new = NewClass(cast.course_id, "Sunday group", date(2026, 6, 14))
    return teaching.create_class(unit, cast.instructor.actor, new, now)


def choose(unit: Unit, cast: Cast, class_id: int, *version_ids: int, seen: int = 1) -> None:
    choice = ScenarioChoice(class_id, version_ids, seen)
    teaching.choose_scenarios(unit, cast.instructor.actor, choice)


def test_a_class_takes_the_time_zone_of_its_school(unit: Unit, cast: Cast, draft: int) -> None:
    head = class_now(unit, cast.instructor.actor, draft).head

    assert (head.timezone, head.status, head.join_code) == ("Europe/London", "draft", None)
    assert head.instructor == "Mara Quint"


def test_classes_are_listed_newest_first(unit: Unit, cast: Cast, draft: int) -> None:
    found = teaching.classes(unit, cast.instructor.actor)

    assert [(row.title, row.status, row.scenarios, row.students) for row in found] == [
        ("Sunday group", "draft", 0, 0),
        ("Saturday group", "open", 1, 1),
    ]


def test_a_class_without_a_scenario_is_not_opened(
    unit: Unit, cast: Cast, now: datetime, draft: int
) -> None:
    with pytest.raises(Refused, match="no scenario"):
        teaching.open_class(unit, cast.instructor.actor, draft, now)


def test_opening_twice_gives_the_same_code(
    unit: Unit, cast: Cast, now: datetime, draft: int
) -> None:
    choose(unit, cast, draft, cast.version_id)
    code = teaching.open_class(unit, cast.instructor.actor, draft, now)

    assert teaching.open_class(unit, cast.instructor.actor, draft, now) == code
    assert code != cast.join_code


def test_a_scenario_chosen_twice_stands_once(unit: Unit, cast: Cast, draft: int) -> None:
    choose(unit, cast, draft, cast.version_id, cast.version_id)

    assert len(class_now(unit, cast.instructor.actor, draft).scenarios) == 1


def test_choosing_again_replaces_what_was_chosen(unit: Unit, cast: Cast, draft: int) -> None:
    choose(unit, cast, draft, cast.version_id)
    choose(unit, cast, draft, seen=2)

    assert class_now(unit, cast.instructor.actor, draft).scenarios == ()


def test_a_stale_choice_is_a_conflict(unit: Unit, cast: Cast, draft: int) -> None:
    choose(unit, cast, draft, cast.version_id)

    with pytest.raises(Conflict, match="has changed"):
        choose(unit, cast, draft, seen=1)


def test_an_open_class_keeps_its_scenarios(unit: Unit, cast: Cast) -> None:
    seen = class_now(unit, cast.instructor.actor, cast.class_id).head.version
    with pytest.raises(Refused, match="has begun"):
        choose(unit, cast, cast.class_id, seen=seen)


def test_a_scenario_that_is_not_there_is_not_found(unit: Unit, cast: Cast, draft: int) -> None:
    with pytest.raises(NotFound):
        choose(unit, cast, draft, cast.version_id, 999)

    assert class_now(unit, cast.instructor.actor, draft).scenarios == ()


def test_a_closed_class_stays_closed(unit: Unit, cast: Cast, now: datetime) -> None:
    mara = cast.instructor.actor
    teaching.close_class(unit, mara, cast.class_id, now)
    teaching.close_class(unit, mara, cast.class_id, now)

    with pytest.raises(Refused, match="over"):
        teaching.open_class(unit, mara, cast.class_id, now)
    head = class_now(unit, mara, cast.class_id).head
    assert (head.status, head.join_code, head.closed_at) == ("closed", None, now)


def test_a_draft_is_not_closed(unit: Unit, cast: Cast, now: datetime, draft: int) -> None:
    with pytest.raises(Refused, match="not begun"):
        teaching.close_class(unit, cast.instructor.actor, draft, now)


def test_students_still_see_a_closed_class(unit: Unit, cast: Cast, now: datetime) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)

    assert answering.my_class(unit, cast.student.actor).status == "closed"


def test_a_course_is_made_once(unit: Unit, cast: Cast, now: datetime) -> None:
    mara = cast.instructor.actor

    assert teaching.add_course(unit, mara, " Winch  basics ", now) == cast.course_id
    assert [course.title for course in teaching.courses(unit, mara)] == ["Winch basics"]


@pytest.mark.parametrize(
    "new",
    [
        NewClass(1, "", date(2026, 6, 14)),
        NewClass(1, "x", date(2026, 6, 14), "Mars/Olympus"),
    ],
)
def test_a_class_needs_a_title_and_a_real_zone(
    unit: Unit, cast: Cast, now: datetime, new: NewClass
) -> None:
    with pytest.raises(Problems):
        teaching.create_class(unit, cast.instructor.actor, new, now)


def test_a_class_belongs_to_a_course(unit: Unit, cast: Cast, now: datetime) -> None:
    new = NewClass(999, "x", date(2026, 6, 14))
    with pytest.raises(NotFound):
        teaching.create_class(unit, cast.instructor.actor, new, now)


def test_only_an_instructor_teaches(unit: Unit, cast: Cast, now: datetime) -> None:
    for member in (cast.storekeeper, cast.student):
        with pytest.raises(RoleNeeded):
            teaching.open_class(unit, member.actor, cast.class_id, now)
        with pytest.raises(RoleNeeded):
            class_now(unit, member.actor, cast.class_id)
