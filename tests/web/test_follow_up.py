"""One short question beside a diagnosis on the page of marks."""

import pytest

from coursekit.services import answering
from coursekit.services.following_up import follow_up_view
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import slip_text, slipped
from tests.web.visitor import Visitor

SLIP = "weight-for-resistance"


@pytest.fixture
def marks(unit: Unit, cast: Cast, student: Visitor, attempt: str) -> str:
    """The address of the marks of a paper with one usual mistake."""
    text = slipped(unit, cast, int(attempt.rsplit("/", 1)[1]), SLIP)
    student.open(f"{attempt}/tasks/total").send(answer=text)
    student.open(f"{attempt}/hand-in").send()
    return student.path


def question_of(marks: str) -> str:
    return marks.replace("/marks", "/tasks/total/follow-up")


def test_the_question_stands_beside_the_diagnosis_and_its_reply_after(
    unit: Unit, cast: Cast, student: Visitor, instructor: Visitor, marks: str
) -> None:
    assert f'href="{question_of(marks)}"' in student.html
    scored = student.heading
    student.open(question_of(marks))
    assert student.heading == "Work it once more, with other numbers"
    attempt_id = int(marks.split("/")[2])
    asked = follow_up_view(unit, cast.student.actor, attempt_id, "total").asked
    student.send(answer=slip_text(asked.scenario, SLIP))

    assert student.heading.startswith("It was that: ")
    assert student.open(marks).heading == scored
    assert "Asked back: It was that: " in student.html
    assert question_of(marks) not in student.html
    instructor.open(f"/papers/{attempt_id}")
    assert answering.result_view(unit, cast.student.actor, attempt_id).follow_ups
    figures = instructor.open(f"/classes/{cast.class_id}/figures").html
    assert "diagnosis confirmed 1 of 1" in figures


def test_a_right_answer_says_that_it_was_that_one_answer(
    unit: Unit, cast: Cast, student: Visitor, marks: str
) -> None:
    student.open(question_of(marks))
    asked = follow_up_view(unit, cast.student.actor, int(marks.split("/")[2]), "total").asked
    student.send(answer=f"{asked.solution.values['resistance.total']:.0f} N")

    assert student.heading.startswith("Right this time: ")


def test_an_empty_reply_is_asked_for_again(student: Visitor, marks: str) -> None:
    student.open(question_of(marks)).send(answer="")

    assert student.status == 422
    assert len(student.errors) == 1


def test_a_question_that_is_not_offered_is_not_there(student: Visitor, marks: str) -> None:
    student.open(marks.replace("/marks", "/tasks/go/follow-up"))

    assert student.status == 404
