"""Marks that change after a record was issued: no page goes on saying what they no longer say."""

from __future__ import annotations

import re

import pytest
from flask import Flask
from sqlalchemy import select

from coursekit.services import moderating, recording, teaching
from coursekit.services.moderating import MarkChange
from coursekit.services.recording import Circumstances
from coursekit.store.tables import AssessmentRecord, Certificate
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.classroom import COMPETENT, colleague, handed_in
from tests.web.visitor import Visitor

YARD = Circumstances("North yard", "", "")


@pytest.fixture
def attempt(unit: Unit, cast: Cast) -> int:
    """Ana's paper, competent, whose class is closed and recorded."""
    attempt_id = handed_in(unit, cast, NOW, **COMPETENT)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, NOW)
    recording.issue(unit, cast.instructor.actor, cast.class_id, YARD, NOW)
    return attempt_id


def fallen(unit: Unit, cast: Cast, attempt_id: int, task: str, marks: str) -> None:
    """A colleague gives a task of the paper other marks."""
    other = colleague(unit, cast, "Oda Wren")
    seen = moderating.paper_history(unit, other.actor, attempt_id).number
    change = MarkChange(attempt_id, task, marks, "scheme-misapplied", "It was counted wrong", seen)
    moderating.change_mark(unit, other.actor, change, NOW)


def of_the_only(unit: Unit) -> tuple[int, str]:
    """The number of the only record, and its code."""
    with unit.read() as session:
        row = session.execute(
            select(AssessmentRecord.id, Certificate.code).join(
                Certificate, Certificate.record_id == AssessmentRecord.id
            )
        ).one()
    return row.id, row.code


def said(visitor: Visitor) -> str:
    """The words of a page."""
    return " ".join(re.sub(r"<[^>]+>", " ", visitor.html).split())


def test_nobody_is_counted_competent_whose_marks_have_fallen(
    unit: Unit, cast: Cast, instructor: Visitor, attempt: int
) -> None:
    fallen(unit, cast, attempt, "build", "0")
    instructor.open("/records")
    assert instructor.heading == "0 people are competent today"
    assert "1 record no longer says what the marks say: issue it again" in said(instructor)
    assert "marks changed since; they now say ◆ Not yet competent" in said(instructor)
    assert "Ana Lim" in instructor.open("/records?standing=in-question").html
    assert "In question" in instructor.client.get("/records/table.csv").text


def test_the_pages_of_the_class_and_the_record_ask_for_another(
    unit: Unit, cast: Cast, instructor: Visitor, attempt: int
) -> None:
    fallen(unit, cast, attempt, "build", "0")
    record_id, _code = of_the_only(unit)
    for path in (f"/classes/{cast.class_id}", f"/classes/{cast.class_id}/report",
                 f"/records/classes/{cast.class_id}", f"/records/{record_id}"):  # fmt: skip
        assert "issue it again" in said(instructor.open(path)).lower(), path


def test_the_student_is_told_too_and_not_asked_to_issue(
    unit: Unit, cast: Cast, student: Visitor, attempt: int
) -> None:
    fallen(unit, cast, attempt, "build", "0")
    record_id, _code = of_the_only(unit)
    student.open(f"/records/{record_id}")
    assert "They now say: ◆ Not yet competent" in said(student)
    assert "Issue it again" not in student.html
    assert student.open(f"/records/{record_id}/certificate").heading == (
        "Ana Lim: this certificate is in question"
    )


def test_the_check_says_that_it_is_in_question_and_no_marks(
    unit: Unit, cast: Cast, attempt: int, app: Flask
) -> None:
    fallen(unit, cast, attempt, "build", "0")
    _record_id, code = of_the_only(unit)
    anybody = Visitor(app.test_client()).open(f"/C/{code}")
    assert anybody.heading == "Ana Lim: this certificate is in question"
    assert "Ask the school before you rely on it" in anybody.html
    for told in ("Not yet competent", "counted wrong", "Oda Wren"):
        assert told not in anybody.html


def test_a_certificate_that_a_later_record_took_the_place_of_is_withdrawn_on_the_check(
    unit: Unit, cast: Cast, instructor: Visitor, attempt: int, app: Flask
) -> None:
    fallen(unit, cast, attempt, "build", "0")
    _record_id, code = of_the_only(unit)
    recording.issue(unit, cast.instructor.actor, cast.class_id, YARD, NOW)
    anybody = Visitor(app.test_client()).open(f"/C/{code}")
    assert anybody.heading == "Ana Lim: this certificate is withdrawn"
    assert "issue it again" not in said(instructor.open("/records"))


def test_other_marks_with_the_same_outcome_leave_the_certificate_as_it_is(
    unit: Unit, cast: Cast, instructor: Visitor, attempt: int
) -> None:
    fallen(unit, cast, attempt, "total", "1.5")
    instructor.open("/records")
    assert instructor.heading == "1 person is competent today"
    assert "issue it again" in said(instructor)
