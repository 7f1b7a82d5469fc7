"""No page before handing in holds a truth, a seed, a slip, or the answer to a task."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.solver import solve
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import ChoiceTask, QuantityTask
from coursekit.services import answering
from coursekit.services.answering import AttemptView
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.visitor import Visitor

TASKS = ("total", "build", "rear", "weak", "bin", "go", "steps")
NUMBER = re.compile(r"[0-9][0-9,]*(?:\.[0-9]+)?")


@pytest.fixture
def pages(student: Visitor, attempt: str) -> dict[str, str]:
    """Every page of an attempt that was not handed in."""
    paths = [attempt, *(f"{attempt}/tasks/{task}" for task in TASKS), f"{attempt}/hand-in"]
    return {path: student.open(path).html for path in paths}


@pytest.fixture
def view(unit: Unit, cast: Cast, attempt: str) -> AttemptView:
    return answering.attempt_view(unit, cast.student.actor, int(attempt.rsplit("/", 1)[-1]))


def _solved_texts(scenario: Scenario) -> Iterator[str]:
    """Yield every solved value of the given rig, as any page would show it."""
    assert scenario.given_rig is not None
    solution = solve(scenario.situation, scenario.given_rig)
    show = shower(units_of(scenario))
    for step in solution.chain:
        value = solution.values[step.key]
        if isinstance(value, float):
            yield show(value, step.unit, step.rounds)


def test_no_page_holds_a_value_that_a_task_asks_for(
    pages: dict[str, str], view: AttemptView
) -> None:
    assert view.scenario.given_rig is not None
    solution = solve(view.scenario.situation, view.scenario.given_rig)
    asked = [task.of for task in view.scenario.tasks if isinstance(task, QuantityTask)]
    for key in asked:
        exact = solution.values[key]
        shown = shower(units_of(view.scenario))(exact, "N", "up")
        for path, page in pages.items():
            assert shown not in page, (path, key)
            assert str(exact)[:6] not in page, (path, key)


def test_no_page_holds_any_solved_load_of_the_given_rig(
    pages: dict[str, str], view: AttemptView
) -> None:
    given = set(NUMBER.findall(" ".join(view.scenario.shown.values())))
    solved = {text for text in _solved_texts(view.scenario) if text.endswith("kN")} - {"0 kN"}
    numbers = {text for text in solved if NUMBER.findall(text)[0] not in given}

    assert numbers
    assert {(p, text) for p, page in pages.items() for text in numbers if text in page} == set()


def test_no_page_holds_the_seed(pages: dict[str, str], view: AttemptView) -> None:
    assert [path for path, page in pages.items() if str(view.seed) in page] == []


def test_no_page_holds_why_a_choice_is_right(pages: dict[str, str], view: AttemptView) -> None:
    reasons = [task.because for task in view.scenario.tasks if isinstance(task, ChoiceTask)]

    assert reasons
    assert [path for path, page in pages.items() if any(r in page for r in reasons)] == []


def test_a_condition_is_what_the_eye_sees_and_not_a_verdict(pages: dict[str, str]) -> None:
    for page in pages.values():
        assert "no-label" not in page
        assert not re.search(r"\bunfit\b", page)
    assert any("a nick as long as a thumb is wide" in page for page in pages.values())


def test_saving_an_answer_tells_a_script_nothing_about_it(student: Visitor, attempt: str) -> None:
    student.open(f"{attempt}/tasks/total")
    form = dict(student.forms[0].filled({"answer": "1 kN"}))
    told = student.client.post(
        f"{attempt}/tasks/total", data=form, headers={"Accept": "application/json"}
    ).json

    assert set(told or {}) == {"said", "answered"}


def test_the_title_on_the_class_page_shows_no_marks_before_handing_in(
    student: Visitor, attempt: str
) -> None:
    assert "marks" not in student.open("/my-class").html
