"""`coursekit mark` on every scenario: right answers in mixed units, and a paper of mistakes.

The verdicts stand in `mistakes.py`, the answers in `answers/`.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from coursekit.cli.main import main
from tests.shell.cli.mistakes import MISTAKES

ROOT = Path(__file__).resolve().parents[3]
ANSWERS = Path(__file__).parent / "answers"
IDS = sorted(path.stem for path in (ROOT / "scenarios").glob("*.yaml"))


@cache
def marked(name: str, paper: str) -> dict[str, Any]:
    """Return the marks of a paper at the scenario's own numbers."""
    file, answers = ROOT / "scenarios" / f"{name}.yaml", ANSWERS / f"{name}-{paper}.yaml"
    result = CliRunner().invoke(main, ["mark", str(file), str(answers), "--json"])
    assert result.exit_code == 0, result.stderr
    document: dict[str, Any] = json.loads(result.stdout)
    return document


def test_every_scenario_has_a_right_paper_and_one_of_mistakes() -> None:
    expected = {f"{name}-{paper}" for name in IDS for paper in ("right", "slips")}

    assert {path.stem for path in ANSWERS.glob("*.yaml")} == expected
    assert sorted(MISTAKES) == IDS


@pytest.mark.parametrize("name", IDS)
def test_right_answers_in_three_figures_and_mixed_units_earn_every_mark(name: str) -> None:
    paper = marked(name, "right")

    assert {task["verdict"] for task in paper["tasks"]} == {"right"}
    assert paper["marks"] == paper["out_of"]
    assert (paper["outcome"], paper["safe"], paper["seed"]) == ("competent", True, None)


@pytest.mark.parametrize("name", IDS)
def test_each_mistake_gets_its_verdict_its_marks_and_its_name(name: str) -> None:
    found = {task["id"]: task for task in marked(name, "slips")["tasks"]}

    verdicts = {task_id: task["verdict"] for task_id, task in found.items()}
    assert verdicts == {task_id: verdict for task_id, (verdict, _, _) in MISTAKES[name].items()}
    marks = {task_id: task["marks"] for task_id, task in found.items()}
    assert marks == {task_id: earned for task_id, (_, earned, _) in MISTAKES[name].items()}
    for task_id, (_, _, slip) in MISTAKES[name].items():
        assert found[task_id]["slips"][:1] == ([slip] if slip else []), task_id


@pytest.mark.parametrize("name", IDS)
def test_a_paper_of_mistakes_is_unsafe_whatever_it_earns(name: str) -> None:
    paper = marked(name, "slips")

    assert paper["marks"] == sum(earned for _, earned, _ in MISTAKES[name].values())
    assert (paper["outcome"], paper["safe"]) == ("unsafe", False)


@pytest.mark.parametrize("name", IDS)
def test_the_paper_of_mistakes_shows_every_verdict_that_is_not_right(name: str) -> None:
    shown = {verdict for verdict, _, _ in MISTAKES[name].values()}

    assert shown >= {"carried", "unit", "slip", "part", "wrong", "missing"}


@pytest.mark.parametrize("name", IDS)
def test_feedback_on_each_mistake_says_something_to_the_student(name: str) -> None:
    for task in marked(name, "slips")["tasks"]:
        if task["verdict"] != "right":
            assert task["feedback"].strip().endswith("."), task["id"]
            assert "{" not in task["feedback"]
