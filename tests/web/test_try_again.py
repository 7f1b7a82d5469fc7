"""The student's page says when another try may begin, and begins it."""

from dataclasses import replace
from datetime import timedelta

import pytest
from freezegun.api import FrozenDateTimeFactory

from coursekit.assessment.school_policy import USUAL
from coursekit.services import policies, teaching
from coursekit.services.policies import PolicyChange
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.classroom import handed_in
from tests.web.visitor import Visitor


@pytest.fixture(autouse=True)
def short_wait(unit: Unit, cast: Cast) -> None:
    """Two hours, so that the student is still signed in when they are over."""
    change = PolicyChange(replace(USUAL, retry_wait_hours=2), "x", seen=0)
    policies.change_policy(unit, cast.instructor.actor, change, NOW)
    handed_in(unit, cast, NOW, go="no-go")


def again(cast: Cast) -> str:
    return f"/my-class/{cast.class_scenario_id}/again"


def test_until_the_wait_is_over_the_page_says_from_when(student: Visitor, cast: Cast) -> None:
    student.open("/my-class")

    assert "You may try again from 13 Jun 2026 11:30, with other numbers." in student.html
    assert again(cast) not in [form.action for form in student.forms]


def test_then_the_student_begins_another_try_and_both_are_told(
    student: Visitor, instructor: Visitor, cast: Cast, clock: FrozenDateTimeFactory
) -> None:
    clock.move_to(NOW + timedelta(hours=2))
    student.open("/my-class").send(action=again(cast))
    attempt = student.path
    assert attempt.startswith("/attempts/")
    student.open(f"{attempt}/hand-in").send()

    assert student.path == f"{attempt}/marks"
    assert "Try 1" in student.html
    assert "this one counts" in student.html
    instructor.open(attempt.replace("attempts", "papers"))
    assert instructor.html.count("/papers/") >= 1
    assert "Try 2" in instructor.html


def test_a_button_pressed_too_early_says_why(student: Visitor, cast: Cast) -> None:
    token = student.open("/me").value("csrf_token") or ""
    student.client.post(again(cast), data={"csrf_token": token})
    student.open("/my-class")

    assert student.path == "/my-class"
    assert "The wait before another try is not over" in student.html


def test_a_closed_class_points_to_another(student: Visitor, unit: Unit, cast: Cast) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, NOW)

    assert "You may try again in another class" in student.open("/my-class").html


def test_a_student_reads_which_strand_was_missed_and_the_rule_that_was_held(
    student: Visitor, unit: Unit, cast: Cast, clock: FrozenDateTimeFactory
) -> None:
    mara = cast.instructor.actor
    strict = replace(USUAL, strand_minimums={"decision": 1.0}, retry_wait_hours=0)
    policies.change_policy(unit, mara, PolicyChange(strict, "x", seen=1), NOW)
    student.open("/my-class").send(action=again(cast))
    student.open(f"{student.path}/hand-in").send()

    assert "75 % of the marks are needed." in student.html
    assert "Decisions and their order: 0 % of its marks; at least 100 % are needed." in student.html
