"""A critical finding set aside where the key was wrong: one asks, another decides."""

from datetime import datetime

import pytest
from flask import Flask

from coursekit.services import answering, reviewing
from coursekit.services.errors import Refused
from coursekit.services.reviewing import Answered, Excuse
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import ANSWERS, colleague, handed_in
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor

WHY = "The key took the safe way for the dangerous one"
FINDING = "is unsafe."


@pytest.fixture
def attempt_id(unit: Unit, cast: Cast, now: datetime) -> int:
    """A paper that is unsafe by a critical choice alone."""
    return handed_in(unit, cast, now, **{**ANSWERS, "go": "no-go"})


def outcome(unit: Unit, cast: Cast, attempt_id: int) -> str:
    return answering.result_view(unit, cast.student.actor, attempt_id).outcome


def ask(unit: Unit, cast: Cast, attempt_id: int, now: datetime) -> int:
    wish = Excuse(attempt_id, 0, WHY, seen=1)
    return reviewing.ask_to_excuse(unit, colleague(unit, cast, "Oda Wren").actor, wish, now)


def test_another_instructor_decides_and_the_outcome_is_reckoned_without_it(
    app: Flask, unit: Unit, cast: Cast, student: Visitor, attempt_id: int
) -> None:
    assert outcome(unit, cast, attempt_id) == "unsafe"
    oda = on_the_device_of(app, colleague(unit, cast, "Oda Wren"))
    oda.open(f"/papers/{attempt_id}")
    assert f"/papers/{attempt_id}/findings/0/excuse" in oda.html
    oda.open(f"/papers/{attempt_id}/findings/0/excuse").send(reason=WHY)
    assert outcome(unit, cast, attempt_id) == "unsafe"

    edda = on_the_device_of(app, colleague(unit, cast, "Edda Moor"))
    edda.open("/reviews/1").send(granted="yes", reason="Checked: the key was wrong")

    assert outcome(unit, cast, attempt_id) != "unsafe"
    student.open(f"/attempts/{attempt_id}/marks")
    assert "No longer held against it" in student.html
    assert "decided by Edda Moor" in student.html
    assert "Oda Wren asks to excuse a critical finding" in student.html


def test_a_declined_wish_leaves_the_finding_and_both_reasons(
    unit: Unit, cast: Cast, now: datetime, attempt_id: int, instructor: Visitor
) -> None:
    request_id = ask(unit, cast, attempt_id, now)
    other = colleague(unit, cast, "Edda Moor").actor
    no = Answered(request_id, granted=False, reason="The key is right")
    reviewing.answer_request(unit, other, no, now)

    assert outcome(unit, cast, attempt_id) == "unsafe"
    instructor.open(f"/papers/{attempt_id}")
    assert "The finding stands: Edda Moor" in instructor.html
    assert WHY in instructor.html


def test_who_asked_does_not_decide(unit: Unit, cast: Cast, now: datetime, attempt_id: int) -> None:
    oda = colleague(unit, cast, "Oda Wren").actor
    request_id = reviewing.ask_to_excuse(unit, oda, Excuse(attempt_id, 0, WHY, seen=1), now)
    yes = Answered(request_id, granted=True, reason="It was")

    with pytest.raises(Refused, match="You asked for this yourself"):
        reviewing.answer_request(unit, oda, yes, now)
    assert outcome(unit, cast, attempt_id) == "unsafe"


def test_the_instructor_of_the_class_does_not_decide(
    unit: Unit, cast: Cast, now: datetime, attempt_id: int
) -> None:
    request_id = ask(unit, cast, attempt_id, now)
    yes = Answered(request_id, granted=True, reason="It was")

    with pytest.raises(Refused, match="your own class"):
        reviewing.answer_request(unit, cast.instructor.actor, yes, now)
    assert outcome(unit, cast, attempt_id) == "unsafe"


def test_it_is_asked_once_and_with_a_reason(
    unit: Unit, cast: Cast, now: datetime, attempt_id: int, instructor: Visitor
) -> None:
    instructor.open(f"/papers/{attempt_id}/findings/0/excuse").send(reason=" ")
    assert instructor.status == 422

    ask(unit, cast, attempt_id, now)

    wish = Excuse(attempt_id, 0, WHY, seen=1)
    with pytest.raises(Refused, match="asked already"):
        reviewing.ask_to_excuse(unit, cast.instructor.actor, wish, now)


def test_a_finding_that_the_paper_does_not_have_can_not_be_excused(
    instructor: Visitor, attempt_id: int
) -> None:
    assert instructor.open(f"/papers/{attempt_id}/findings/7/excuse").status == 404
