"""A class marked again by a corrected scenario, from its page to the student's."""

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from coursekit.services import preparing, teaching
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import handed_in
from tests.shell.files.ford import FILE, changed
from tests.web.visitor import Visitor

WIDER = ("tolerance: {below: 3 %, above: 8 %}", "tolerance: {below: 30 %, above: 30 %}")
WHY = "The tolerance of the total was too narrow"


@pytest.fixture
def attempt_id(unit: Unit, cast: Cast, now: datetime, tmp_path: Path) -> int:
    attempt_id = handed_in(unit, cast, now)
    path = tmp_path / FILE
    path.write_text(changed(WIDER), encoding="utf-8")
    preparing.load_scenarios(unit, cast.instructor.actor, [path], now + timedelta(days=1))
    return attempt_id


@pytest.fixture
def closed(unit: Unit, cast: Cast, now: datetime, attempt_id: int) -> int:
    """The paper of a class that is over."""
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    return attempt_id


def begun(instructor: Visitor, cast: Cast) -> Visitor:
    return instructor.open(f"/classes/{cast.class_id}/mark-again").send()


def test_who_would_move_is_shown_and_counts_only_once_it_is_confirmed(
    instructor: Visitor, student: Visitor, cast: Cast, closed: int
) -> None:
    assert "Mark again" in instructor.open(f"/classes/{cast.class_id}").html
    begun(instructor, cast)
    assert instructor.heading == "The marks of 1 paper would move"
    assert "Ana Lim" in instructor.html
    assert "0 → 3" in instructor.html
    marks = f"/attempts/{closed}/marks"
    assert "marked again" not in student.open(marks).html

    instructor.send("/marking-again/1/confirm", code="wrong-key", reason=WHY)

    assert instructor.heading == "Marked again: 1 paper moved"
    student.open(marks)
    assert "0 → 3, marked again by version 2 of the scenario, by Mara Quint" in student.html
    assert WHY in student.html


@pytest.mark.usefixtures("attempt_id")
def test_an_open_class_is_not_marked_again_and_the_page_says_why(
    instructor: Visitor, cast: Cast
) -> None:
    instructor.open(f"/classes/{cast.class_id}/mark-again")
    assert "Close the class first" in instructor.notices[0]
    assert [form for form in instructor.forms if "slug" in dict(form.pairs)] == []

    instructor.open(f"/scenarios/{cast.version_id}/mark-again")
    assert "Still open: Saturday group." in instructor.notices[0]


@pytest.mark.usefixtures("closed")
def test_without_a_reason_the_preview_stays_and_nothing_counts(
    instructor: Visitor, cast: Cast
) -> None:
    begun(instructor, cast).send("/marking-again/1/confirm", code="wrong-key", reason=" ")

    assert instructor.status == 422
    assert instructor.errors
    assert instructor.heading == "The marks of 1 paper would move"


@pytest.mark.usefixtures("closed")
def test_all_papers_of_a_scenario_are_marked_again_from_its_page(
    instructor: Visitor, cast: Cast
) -> None:
    assert "Mark papers again" in instructor.open(f"/scenarios/{cast.version_id}").html
    instructor.open(f"/scenarios/{cast.version_id}/mark-again").send(falling="fall")

    assert instructor.heading == "The marks of 1 paper would move"
    assert "Marks may fall." in instructor.html


@pytest.mark.usefixtures("closed")
def test_a_run_that_was_left_is_found_on_the_page_of_its_class(
    instructor: Visitor, cast: Cast
) -> None:
    begun(instructor, cast)
    instructor.open(f"/classes/{cast.class_id}/mark-again")

    assert "waits to be confirmed" in instructor.html
    instructor.open("/marking-again/1")
    assert instructor.heading == "The marks of 1 paper would move"
