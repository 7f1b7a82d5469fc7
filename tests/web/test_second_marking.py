"""A second marker marks blind, both are compared, and what is agreed counts."""

from datetime import datetime

import pytest
from flask import Flask

from coursekit.services import answering, second_marking
from coursekit.services.errors import NotFound, Refused, RoleNeeded
from coursekit.services.second_marking import SecondMarks
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import colleague, handed_in
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor

TASKS = {"total": 3, "build": 6, "rear": 3, "weak": 1, "bin": 2, "go": 1, "steps": 2}
FULL = {f"task-{task}": str(most) for task, most in TASKS.items()}
WHY = "Both looked at the plan again"


@pytest.fixture
def attempt_id(unit: Unit, cast: Cast, now: datetime) -> int:
    return handed_in(unit, cast, now)


@pytest.fixture
def oda(app: Flask, unit: Unit, cast: Cast) -> Visitor:
    """Another instructor of the school."""
    return on_the_device_of(app, colleague(unit, cast, "Oda Wren"))


def total(unit: Unit, cast: Cast, attempt_id: int) -> float:
    return answering.result_view(unit, cast.student.actor, attempt_id).marks


def test_the_second_marker_sees_answers_brief_and_key_and_no_marks(
    oda: Visitor, attempt_id: int
) -> None:
    oda.open(f"/papers/{attempt_id}/second")

    assert oda.heading == "Which marks does this paper earn?"
    assert "answered: 7.3\u00a0kN" in oda.html
    assert "wet grass above the ford" in oda.html
    assert "From 0 to 3, in halves" in oda.html
    for told in ("Ana Lim", "of 18", "Not yet competent", "Competent", "Unsafe", 'class="why"'):
        assert told not in oda.html


def test_blind_marks_do_not_count_and_lead_to_the_comparison(
    oda: Visitor, unit: Unit, cast: Cast, attempt_id: int
) -> None:
    before = total(unit, cast, attempt_id)
    oda.open(f"/papers/{attempt_id}/second").send(**FULL)

    assert oda.path == f"/papers/{attempt_id}/compare"
    assert oda.heading.startswith("They differ in ")
    assert total(unit, cast, attempt_id) == before


def test_what_both_agree_on_counts_with_its_reason(
    oda: Visitor, student: Visitor, unit: Unit, cast: Cast, attempt_id: int
) -> None:
    oda.open(f"/papers/{attempt_id}/second").send(**FULL)
    (form,) = oda.forms
    asked = [name for name, _value in form.pairs if name.startswith("task-")]
    assert "task-total" in asked
    agreed = dict.fromkeys(asked, "0.5") | {"task-total": "3"}
    oda.send(code="scheme-misapplied", reason=WHY, **agreed)

    assert "Both have agreed." in oda.html
    marks = answering.result_view(unit, cast.student.actor, attempt_id)
    assert {task.task_id: task.marks for task in marks.tasks}["total"] == 3.0
    student.open(f"/attempts/{attempt_id}/marks")
    assert "0 → 3, agreed after a second marking, kept by Oda Wren" in student.html
    assert WHY in student.html


def test_passed_by_one_and_failed_by_the_other_stands_first_on_the_page_of_the_class(
    oda: Visitor, cast: Cast, attempt_id: int
) -> None:
    oda.open(f"/classes/{cast.class_id}/second")
    assert oda.heading == "No paper of this class is marked a second time yet"
    oda.open(f"/papers/{attempt_id}/second").send(**{**FULL, "unsafe": "The strap is cut"})

    oda.open(f"/classes/{cast.class_id}/second")
    assert "The same outcome in " in oda.html
    assert "passed by the first, failed by the second" in oda.html
    assert "kappa" in oda.html


def test_a_danger_that_only_the_second_found_counts_once_both_agree(
    oda: Visitor, unit: Unit, cast: Cast, attempt_id: int
) -> None:
    oda.open(f"/papers/{attempt_id}/second").send(**{**FULL, "unsafe": "The strap is cut"})
    assert "The strap is cut" in oda.html
    (form,) = oda.forms
    asked = [name for name, _value in form.pairs if name.startswith("task-")]
    oda.send(code="other", reason=WHY, is_unsafe="y", **dict.fromkeys(asked, "1"))

    assert oda.errors == []
    result = answering.result_view(unit, cast.student.actor, attempt_id)
    assert result.outcome == "unsafe"
    assert "The strap is cut" in [str(stop) for stop in result.stops]


@pytest.mark.parametrize("marks", ["4", "NaN", "", "-1", "0.3"])
def test_marks_that_a_task_does_not_have_are_refused_beside_it_and_nothing_is_lost(
    oda: Visitor, attempt_id: int, marks: str
) -> None:
    oda.open(f"/papers/{attempt_id}/second").send(**{**FULL, "task-total": marks})

    assert oda.status == 422
    assert len(oda.errors) == 1
    assert oda.value("task-build") == "6"
    assert oda.value("task-total") == marks


def test_whoever_knows_the_marks_does_not_mark_blind(
    unit: Unit, cast: Cast, now: datetime, attempt_id: int
) -> None:
    given = SecondMarks(attempt_id, {}, "")

    with pytest.raises(Refused, match="your own class"):
        second_marking.mark_second(unit, cast.instructor.actor, given, now)
    for member in (cast.student, cast.storekeeper):
        with pytest.raises(RoleNeeded):
            second_marking.blind_paper(unit, member.actor, attempt_id)
    with pytest.raises(NotFound):
        second_marking.blind_paper(unit, cast.outsider.actor, attempt_id)


def test_a_paper_is_marked_blind_once(oda: Visitor, attempt_id: int) -> None:
    oda.open(f"/papers/{attempt_id}/second").send(**FULL)

    assert oda.open(f"/papers/{attempt_id}/second").status == 400
    assert "marked a second time already" in oda.html


def test_without_a_second_marking_there_is_nothing_to_compare(
    instructor: Visitor, attempt_id: int
) -> None:
    assert instructor.open(f"/papers/{attempt_id}/compare").status == 400


def test_the_instructor_of_the_class_is_led_to_no_paper_that_is_refused(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    attempt_id = handed_in(unit, cast, now)
    instructor.open(f"/classes/{cast.class_id}/second")
    assert "another instructor marks it" in instructor.html
    assert f"/papers/{attempt_id}/second" not in instructor.html
