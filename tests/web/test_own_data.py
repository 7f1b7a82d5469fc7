"""Giving out and erasing what is kept about a person, in the browser."""

import io
import zipfile
from datetime import timedelta

from freezegun.api import FrozenDateTimeFactory

from coursekit.services import answering, teaching
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.classroom import handed_in
from tests.web.visitor import Visitor


def closed(unit: Unit, cast: Cast) -> str:
    """Close the class after Ana handed in, and return the address of her data."""
    handed_in(unit, cast, NOW)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, NOW)
    return f"/school/data/{cast.student.actor.person_id}"


def names_in(visitor: Visitor) -> set[str]:
    with zipfile.ZipFile(io.BytesIO(visitor.response.get_data())) as archive:
        return set(archive.namelist())


def test_a_student_saves_all_that_is_kept_about_them(student: Visitor) -> None:
    assert 'href="/me/data.zip"' in student.open("/me").html
    student.open("/me/data.zip")

    assert student.response.headers["Content-Disposition"] == 'attachment; filename="my-data.zip"'
    assert {"README.txt", "data.json", "people.csv"} <= names_in(student)


def test_the_head_looks_for_a_student_and_erases_the_name(
    unit: Unit, cast: Cast, instructor: Visitor
) -> None:
    address = closed(unit, cast)
    instructor.open("/school/data?name=lim")
    assert f'href="{address}"' in instructor.html
    instructor.open(address)
    assert instructor.heading == "What the school keeps about Ana Lim"
    instructor.open(f"{address}/data.zip")
    assert "answers.csv" in names_in(instructor)
    instructor.open(f"{address}/erase").send()

    assert instructor.path == address
    assert instructor.heading == "This name is erased"
    assert "Ana Lim" not in instructor.html
    assert "Nobody here has this" in instructor.open("/school/data?name=lim").html
    assert "Ana Lim" not in instructor.open(f"/classes/{cast.class_id}").html


def test_an_open_class_is_named_as_the_reason(cast: Cast, instructor: Visitor) -> None:
    instructor.open(f"/school/data/{cast.student.actor.person_id}/erase").send()

    assert instructor.status == 422
    assert "The class Saturday group is open" in " ".join(instructor.notices)


def test_nobody_but_the_head_reaches_anothers_data(
    unit: Unit, cast: Cast, student: Visitor, storekeeper: Visitor
) -> None:
    address = closed(unit, cast)
    for visitor in (student, storekeeper):
        for path in (address, f"{address}/data.zip", f"{address}/erase", "/school/data"):
            assert visitor.open(path).status == 403


def test_names_past_the_period_go_in_one_step(
    unit: Unit, cast: Cast, instructor: Visitor, clock: FrozenDateTimeFactory
) -> None:
    closed(unit, cast)
    assert instructor.open("/school/data").heading == "No name is past the school's period"
    clock.tick(timedelta(days=8 * 366))
    instructor.open("/sign-in").send(
        **{"sign-in-sign_in_name": cast.instructor.sign_in_name, "sign-in-password": cast.password}
    )
    assert instructor.open("/school/data").heading == "1 name is past the school's period"
    instructor.open("/school/data/past/erase").send()

    assert instructor.heading == "No name is past the school's period"
    assert answering.my_class(unit, cast.student.actor).title == "Saturday group"


def test_records_past_the_period_are_emptied_in_the_same_step(
    unit: Unit, cast: Cast, instructor: Visitor, clock: FrozenDateTimeFactory
) -> None:
    closed(unit, cast)
    instructor.open(f"/records/classes/{cast.class_id}").send(place="North yard")
    clock.tick(timedelta(days=8 * 366))
    instructor.open("/sign-in").send(
        **{"sign-in-sign_in_name": cast.instructor.sign_in_name, "sign-in-password": cast.password}
    )
    assert "A record without a name is kept for 84 months" in instructor.open("/school/data").html
    instructor.open("/school/data/past/erase").send()

    assert "1 name is erased." in instructor.html
    assert "1 record is emptied." in instructor.html
    assert instructor.open("/records/1").status == 404
