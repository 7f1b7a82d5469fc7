"""A panel's pages: judges rate, see one another, and the head takes the cut on."""

import pytest
from flask import Flask

from coursekit.services import standards
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.classroom import colleague
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor

TASKS = ("total", "build", "rear", "weak", "bin", "go", "steps")


@pytest.fixture
def ines(app: Flask, unit: Unit, cast: Cast) -> Visitor:
    """The second instructor, signed in."""
    return on_the_device_of(app, colleague(unit, cast, "Ines Roe"))


@pytest.fixture
def sheet(instructor: Visitor, cast: Cast) -> str:
    """The address of a sheet that the head has opened."""
    instructor.open("/school/standards").send(action=f"/school/standards/of/{cast.version_id}")
    return instructor.path


def rate(judge: Visitor, sheet: str, percent: str) -> None:
    judge.open(sheet).send(**{f"task-{task}": percent for task in TASKS})


def test_two_judges_rate_and_the_head_makes_their_cut_the_pass_mark(
    instructor: Visitor, ines: Visitor, sheet: str, unit: Unit, cast: Cast
) -> None:
    rate(instructor, sheet, "60")
    rate(ines, sheet, "80")
    assert "60 %" not in ines.html
    assert "How likely" in ines.heading

    instructor.open(sheet).send(action=f"{sheet}/next-round")
    assert instructor.heading == "The panel expects 12.6 of 18 marks: 70 %"
    assert "Mara Quint: 60 %" in ines.open(sheet).html
    rate(ines, sheet, "70")

    instructor.open(f"{sheet}/adopt").send(reason="The panel agreed in round two")
    assert instructor.path == "/school/standards"
    assert instructor.heading == "1 of 1 scenarios has a panel's pass mark"
    (line,) = standards.standards(unit, cast.instructor.actor)
    assert line.pass_mark is not None
    assert line.pass_mark.share == pytest.approx(0.65)


def test_the_head_reads_how_far_the_judges_agree_on_the_tasks(
    instructor: Visitor, ines: Visitor, sheet: str
) -> None:
    for judge in (instructor, ines):
        judge.open(sheet).send(**{f"task-{name}": f"{10 * n}" for n, name in enumerate(TASKS, 3)})
    instructor.open(sheet).send(action=f"{sheet}/next-round")
    # Both give the same for each task, and not the same for all.
    assert "they agree on the tasks to 1.00, where 1 is fully" in instructor.html
    rate(ines, sheet, "60")
    rate(instructor, sheet, "60")
    assert "they agree on the tasks" not in instructor.open(sheet).html


def test_a_rating_that_is_missing_or_no_percentage_is_told_beside_its_task(
    instructor: Visitor, sheet: str
) -> None:
    instructor.open(sheet).send(**{"task-total": "130", "task-build": "40"})

    assert instructor.status == 422
    assert "A number from 0 to 100." in instructor.errors[0]
    assert len(instructor.errors) == len(TASKS) - 1
    assert 'value="130"' in instructor.html


def test_a_form_of_the_blind_round_is_not_taken_for_the_second(
    instructor: Visitor, ines: Visitor, sheet: str, unit: Unit, cast: Cast
) -> None:
    rate(instructor, sheet, "60")
    rate(ines, sheet, "80")
    ines.open(sheet)
    instructor.open(sheet).send(action=f"{sheet}/next-round")
    ines.send(**{f"task-{task}": "90" for task in TASKS})

    assert "Another round has begun" in " ".join(ines.notices)
    assert 'value="90"' in ines.html


def test_one_judge_is_no_panel(instructor: Visitor, sheet: str) -> None:
    rate(instructor, sheet, "60")

    assert "Begin the second round" not in instructor.html
    assert "once two judges have rated" in instructor.html


def test_who_teaches_judges_and_does_not_decide(ines: Visitor, sheet: str) -> None:
    assert "Judge it" in ines.open("/school/standards").html
    assert ines.open(f"{sheet}/adopt").status == 403
