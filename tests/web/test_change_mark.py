"""A mark changed on the paper, with its reason beside the old one."""

from datetime import datetime

import pytest
from flask import Flask
from sqlalchemy import select

from coursekit.services import moderating, reviewing
from coursekit.services.errors import NotFound, Refused, RoleNeeded
from coursekit.services.moderating import MarkChange
from coursekit.store import tables
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import colleague, handed_in
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor

WHY = "The plan was misread, and the method is right"


@pytest.fixture
def attempt_id(unit: Unit, cast: Cast, now: datetime) -> int:
    return handed_in(unit, cast, now)


def rows(unit: Unit, attempt_id: int) -> list[tables.AttemptResult]:
    with unit.read() as session:
        query = select(tables.AttemptResult).where(tables.AttemptResult.attempt_id == attempt_id)
        return list(session.scalars(query.order_by(tables.AttemptResult.number)))


def change(visitor: Visitor, attempt_id: int, **typed: str) -> Visitor:
    visitor.open(f"/papers/{attempt_id}/tasks/total/marks")
    return visitor.send(**{"marks": "1.5", "code": "unusual-answer", "reason": WHY, **typed})


def test_the_new_mark_stands_beside_the_old_one_with_who_and_why(
    instructor: Visitor, unit: Unit, attempt_id: int
) -> None:
    before = rows(unit, attempt_id)[0]
    change(instructor, attempt_id)

    assert instructor.path == f"/papers/{attempt_id}"
    assert "0 → 1.5, changed by Mara Quint" in instructor.html
    assert WHY in instructor.html
    first, second = rows(unit, attempt_id)
    assert (first.marks, first.kind) == (before.marks, "first")
    assert (second.marks, second.kind) == (before.marks + 1.5, "changed")
    assert (second.code, second.reason) == ("unusual-answer", WHY)


def test_the_student_sees_that_the_mark_was_changed_and_why(
    instructor: Visitor, student: Visitor, attempt_id: int
) -> None:
    change(instructor, attempt_id)
    student.open(f"/attempts/{attempt_id}/marks")

    assert "These are not the first marks" in student.html
    assert "0 → 1.5, changed by Mara Quint" in student.html
    assert WHY in student.html


@pytest.mark.parametrize(
    ("marks", "said"),
    [
        ("4", "4 is more than the task is out of. Give 0 to 3, in halves."),
        ("NaN", "'NaN' is no mark. Give 0 to 3, in halves."),
        ("1e999", "'1e999' is no mark. Give 0 to 3, in halves."),
        ("-1", "'-1' is no mark. Give 0 to 3, in halves."),
        ("1.25", "'1.25' is no mark. Give 0 to 3, in halves."),
    ],
)
def test_marks_that_the_task_does_not_have_are_refused_and_stay_in_the_form(
    instructor: Visitor, unit: Unit, attempt_id: int, marks: str, said: str
) -> None:
    change(instructor, attempt_id, marks=marks)

    assert instructor.status == 422
    assert [said in error for error in instructor.errors] == [True]
    assert instructor.value("marks") == marks
    assert instructor.value("reason") == WHY
    assert len(rows(unit, attempt_id)) == 1


@pytest.mark.parametrize(("field", "text"), [("reason", " "), ("reason", ""), ("code", "")])
def test_a_change_without_a_reason_is_refused(
    instructor: Visitor, unit: Unit, attempt_id: int, field: str, text: str
) -> None:
    change(instructor, attempt_id, **{field: text})

    assert instructor.status == 422
    assert instructor.errors
    assert len(rows(unit, attempt_id)) == 1


def test_of_two_who_change_at_the_same_time_the_second_looks_again(
    app: Flask, instructor: Visitor, unit: Unit, cast: Cast, attempt_id: int
) -> None:
    other = on_the_device_of(app, colleague(unit, cast, "Oda Wren"))
    other.open(f"/papers/{attempt_id}/tasks/total/marks")
    change(instructor, attempt_id)
    other.send(marks="2", code="other", reason="Half of it is right")

    assert other.status == 422
    assert "have changed since this form was opened" in other.notices[0]
    other.send()
    assert len(rows(unit, attempt_id)) == 3


def test_only_instructors_of_the_school_change_marks(
    unit: Unit, cast: Cast, now: datetime, attempt_id: int
) -> None:
    wish = MarkChange(attempt_id, "total", "1", "other", WHY, seen=1)

    for member in (cast.student, cast.storekeeper):
        with pytest.raises(RoleNeeded):
            moderating.change_mark(unit, member.actor, wish, now)
    with pytest.raises(NotFound):
        moderating.change_mark(unit, cast.outsider.actor, wish, now)
    assert len(rows(unit, attempt_id)) == 1


def test_who_changed_a_mark_before_the_student_appealed_does_not_change_it_again(
    unit: Unit, cast: Cast, now: datetime, attempt_id: int
) -> None:
    first = MarkChange(attempt_id, "total", "1", "other", WHY, seen=1)
    moderating.change_mark(unit, cast.instructor.actor, first, now)
    reviewing.appeal(unit, cast.student.actor, attempt_id, "The total is right", now)
    again = MarkChange(attempt_id, "total", "2", "other", WHY, seen=2)

    with pytest.raises(Refused, match="you have marked this paper before"):
        moderating.change_mark(unit, cast.instructor.actor, again, now)
    moderating.change_mark(unit, colleague(unit, cast, "Oda Wren").actor, again, now)
    assert rows(unit, attempt_id)[-1].marked_by != cast.instructor.actor.person_id
