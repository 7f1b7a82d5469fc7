"""A student asks for another look, and somebody else answers."""

from datetime import datetime

import pytest
from flask import Flask

from coursekit.services import moderating, reviewing
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.services.moderating import MarkChange
from coursekit.services.reviewing import Answered
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import colleague, handed_in
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor

ASKED = "Task 1: I took the slope as 8 degrees.\nPlease look at <b>it</b> again."


@pytest.fixture
def attempt_id(unit: Unit, cast: Cast, now: datetime) -> int:
    return handed_in(unit, cast, now)


def asked(student: Visitor, attempt_id: int, text: str = ASKED) -> Visitor:
    return student.open(f"/attempts/{attempt_id}/appeal").send(reason=text)


def test_what_was_asked_stands_on_the_marks_page_as_plain_text(
    student: Visitor, attempt_id: int
) -> None:
    asked(student, attempt_id)

    assert student.path == f"/attempts/{attempt_id}/marks"
    assert "Please look at &lt;b&gt;it&lt;/b&gt; again." in student.html
    assert "Waits for an answer from somebody else." in student.html
    assert "/appeal" not in student.html


def test_instructors_find_it_on_their_list_and_on_the_class_and_the_student_reads_the_answer(
    instructor: Visitor, student: Visitor, cast: Cast, attempt_id: int
) -> None:
    asked(student, attempt_id)
    instructor.open(f"/classes/{cast.class_id}")
    assert "1 question about marks waits" in instructor.html
    instructor.open("/reviews")
    assert instructor.heading == "1 question about marks waits for an answer"

    instructor.open("/reviews/1").send(granted="no", reason="The brief says 6 degrees")

    assert "Answered." in instructor.html
    assert instructor.open("/reviews").heading == "No question about marks waits for an answer"
    student.open(f"/attempts/{attempt_id}/marks")
    assert "The marks stand: Mara Quint" in student.html
    assert "The brief says 6 degrees" in student.html
    assert "/appeal" in student.html


@pytest.mark.parametrize("text", ["", "   ", "x" * 2_001])
def test_an_empty_or_endless_question_is_not_sent_and_not_lost(
    student: Visitor, attempt_id: int, text: str
) -> None:
    asked(student, attempt_id, text)

    assert student.status == 422
    assert student.errors
    assert student.value("reason") == text


def test_one_question_a_paper_waits_at_a_time(
    unit: Unit, cast: Cast, now: datetime, attempt_id: int
) -> None:
    reviewing.appeal(unit, cast.student.actor, attempt_id, ASKED, now)

    with pytest.raises(Refused, match="no answer has come yet"):
        reviewing.appeal(unit, cast.student.actor, attempt_id, ASKED, now)


def test_that_the_marks_changed_is_only_said_by_whoever_changed_them(
    app: Flask, student: Visitor, unit: Unit, cast: Cast, attempt_id: int
) -> None:
    asked(student, attempt_id)
    oda = on_the_device_of(app, colleague(unit, cast, "Oda Wren"))
    oda.open("/reviews/1").send(granted="yes", reason="Right after all")
    assert "No mark was changed by you" in oda.notices[0]

    oda.open(f"/papers/{attempt_id}/tasks/weak/marks")
    oda.send(marks="0.5", code="not-seen", reason="Half of it is right")
    oda.open("/reviews/1").send(granted="yes", reason="Right after all")

    assert "The marks were changed: Oda Wren" in oda.html


def test_who_marked_before_the_question_does_not_answer_it(
    unit: Unit, cast: Cast, now: datetime, attempt_id: int
) -> None:
    change = MarkChange(attempt_id, "total", "1", "other", "Half", seen=1)
    moderating.change_mark(unit, cast.instructor.actor, change, now)
    request_id = reviewing.appeal(unit, cast.student.actor, attempt_id, ASKED, now)
    answer = Answered(request_id, granted=False, reason="It stands")

    with pytest.raises(Refused, match="you have marked this paper before"):
        reviewing.answer_request(unit, cast.instructor.actor, answer, now)


def test_it_is_answered_once_and_by_instructors_of_the_school_alone(
    unit: Unit, cast: Cast, now: datetime, attempt_id: int
) -> None:
    request_id = reviewing.appeal(unit, cast.student.actor, attempt_id, ASKED, now)
    answer = Answered(request_id, granted=False, reason="It stands")

    for member in (cast.student, cast.storekeeper):
        with pytest.raises(RoleNeeded):
            reviewing.answer_request(unit, member.actor, answer, now)
    with pytest.raises(NotFound):
        reviewing.answer_request(unit, cast.outsider.actor, answer, now)
    reviewing.answer_request(unit, cast.instructor.actor, answer, now)
    with pytest.raises(Conflict):
        reviewing.answer_request(unit, cast.instructor.actor, answer, now)
