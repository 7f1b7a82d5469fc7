"""Handing in, and the marks that follow."""

from datetime import datetime

import pytest

from coursekit.services import teaching
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.rigs import SINGLE_LINE
from tests.web.visitor import Visitor


@pytest.fixture
def handed_in(student: Visitor, attempt: str) -> Visitor:
    """Ana after a right rig, a wrong total, no order, and everything else unanswered."""
    student.open(f"{attempt}/tasks/build").send(**SINGLE_LINE)
    student.open(f"{attempt}/tasks/total").send(answer="1 kN")
    student.open(f"{attempt}/tasks/bin").send(answer="old-strap")
    return student.open(f"{attempt}/hand-in").send()


def test_what_has_no_answer_is_named_before_handing_in(student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/tasks/go").send(answer="go")
    student.open(f"{attempt}/hand-in")

    assert student.heading == "6 tasks have no answer. Hand in all the same?"
    assert "What is the total resistance?" in student.html
    assert f"{attempt}/tasks/go" not in student.html


def test_the_title_gives_the_marks_and_whether_it_is_safe(handed_in: Visitor) -> None:
    assert handed_in.path.endswith("/marks")
    assert " of 18, and " in handed_in.heading


def test_each_verdict_is_a_shape_and_a_word(handed_in: Visitor) -> None:
    assert '<span aria-hidden="true">✕</span> Not right' in handed_in.html
    assert '<span aria-hidden="true">✓</span> Right' in handed_in.html
    assert '<span aria-hidden="true">○</span> No answer' in handed_in.html


def test_the_worked_steps_have_formula_numbers_and_source(handed_in: Visitor) -> None:
    assert "total resistance" in handed_in.html
    assert 'class="formula"' in handed_in.html
    assert 'class="source"' in handed_in.html
    assert "with W = " in handed_in.html


def test_every_item_of_the_rig_has_its_bar(handed_in: Visitor) -> None:
    for name in ("Winch line", "Bow 1", "loaded utility 4x4, rear"):
        assert f"<b>{name}</b>" in handed_in.html
    assert "weakest link" in handed_in.html


def test_the_rig_is_drawn_with_its_loads_and_told_in_words(handed_in: Visitor) -> None:
    assert 'role="img"' in handed_in.html
    assert "Your rig and its loads" in handed_in.html
    assert "It ends at loaded utility 4x4, rear with Bow 1." in handed_in.html


def test_nothing_can_be_answered_after_handing_in(handed_in: Visitor) -> None:
    attempt = handed_in.path.removesuffix("/marks")

    assert handed_in.open(f"{attempt}/tasks/total").path == f"{attempt}/marks"
    assert handed_in.open(f"{attempt}/hand-in").path == f"{attempt}/marks"
    assert handed_in.open(attempt).path == f"{attempt}/marks"


def test_marks_are_not_to_be_seen_before_handing_in(student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/marks")

    assert student.status == 400
    assert "This has not been handed in. Hand it in first." in student.html


def test_an_attempt_without_a_kinetic_pull_has_no_chart(handed_in: Visitor) -> None:
    assert "force-time.svg" not in handed_in.html
    attempt = handed_in.path.removesuffix("/marks")
    assert handed_in.open(f"{attempt}/force-time.svg").status == 404


def test_a_kinetic_pull_has_its_chart_with_the_same_words(student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/tasks/build").send(
        method="kinetic",
        speed="2 m/s",
        **{
            "pull-start": "recovery_vehicle.front",
            "pull-start_pieces-0-item": "soft-1",
            "pull-made_of-0": "rope-k",
            "pull-to": "stuck_vehicle.rear",
            "pull-to_pieces-0-item": "bow-1",
        },
    )
    student.open(f"{attempt}/hand-in").send()
    page = student.html
    chart = student.open(f"{attempt}/force-time.svg")

    assert chart.response.mimetype == "image/svg+xml"
    assert "Force in the rope" in chart.html
    assert f'<img src="{attempt}/force-time.svg"' in page
    assert 'alt="The vehicle' in page


def test_the_class_page_shows_how_far_each_scenario_is(handed_in: Visitor) -> None:
    handed_in.open("/my-class")

    assert handed_in.heading == "You have handed in everything in Saturday group"
    assert "See my marks" in handed_in.html


def test_a_closed_class_takes_nothing_and_says_so_with_the_text_kept(
    unit: Unit, cast: Cast, student: Visitor, attempt: str, now: datetime
) -> None:
    student.open(f"{attempt}/tasks/rear")
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    student.send(answer="6.4 kN")

    assert student.status == 422
    assert student.notices[0].startswith("The class is closed.")
    assert student.value("answer") == "6.4 kN"
