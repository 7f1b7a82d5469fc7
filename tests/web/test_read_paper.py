"""A student's paper as the instructor reads it."""

from datetime import datetime

import pytest

from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import OWN_RIG, handed_in, started
from tests.web.visitor import Visitor


@pytest.fixture
def paper(instructor: Visitor, unit: Unit, cast: Cast, now: datetime) -> Visitor:
    attempt_id = handed_in(unit, cast, now)
    return instructor.open(f"/papers/{attempt_id}")


def test_the_title_names_the_student_and_the_marks(paper: Visitor) -> None:
    assert paper.heading.startswith("Ana Lim: ")
    assert " of 18" in paper.heading


def test_answers_stand_as_they_were_typed_with_mark_reason_and_worked_steps(paper: Visitor) -> None:
    assert "answered: 7.3\u00a0kN" in paper.html
    assert 'class="why"' in paper.html
    assert 'class="formula"' in paper.html
    assert "you answered" not in paper.html


def test_the_rig_that_the_student_built_is_drawn_with_its_loads(paper: Visitor) -> None:
    assert "The rig that was built, and its loads" in paper.html
    assert "<b>Winch line</b>" in paper.html
    assert 'role="img"' in paper.html


def test_a_paper_that_is_not_handed_in_is_not_marked_yet(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    instructor.open(f"/papers/{started(unit, cast, now)}")

    assert instructor.status == 400
    assert "has not been handed in" in instructor.html


def test_a_paper_without_a_kinetic_pull_has_no_chart(paper: Visitor) -> None:
    assert paper.open(f"{paper.path}/force-time.svg").status == 404


@pytest.mark.parametrize("typed", [{"total": "7.55 N", "rear": "7.55 t"}, {"total": "7.55 N"}])
def test_a_usual_mistake_in_two_tasks_is_told_once_to_both(
    instructor: Visitor, student: Visitor, unit: Unit, cast: Cast, now: datetime,
    typed: dict[str, str],
) -> None:  # fmt: skip
    attempt_id = handed_in(unit, cast, now, build=OWN_RIG, **typed)
    for page in (student.open(f"/attempts/{attempt_id}/marks"),
                 instructor.open(f"/papers/{attempt_id}")):  # fmt: skip
        told = "More than once: another unit taken (the total resistance, the load on"
        assert page.html.count(told) == (len(typed) > 1)
