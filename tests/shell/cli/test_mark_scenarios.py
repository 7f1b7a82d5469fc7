"""`coursekit mark` on every scenario: right answers in mixed units, and a paper of mistakes.

The verdicts stand here as an instructor would reason them out, each beside its sum;
the answers stand in `answers/`.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from coursekit.cli.main import main

ROOT = Path(__file__).resolve().parents[3]
ANSWERS = Path(__file__).parent / "answers"
IDS = sorted(path.stem for path in (ROOT / "scenarios").glob("*.yaml"))

# Task: verdict, marks earned, and the mistake that must be named where there is one.
MISTAKES: dict[str, dict[str, tuple[str, float, str]]] = {
    "meadow-gate": {
        # Two of three found: 2/3 of 3 marks.
        "bin": ("part", 2, ""),
        # 6 % is an angle of 3.43 deg: 25.5 kN x 0.0599 = 1.53 kN, the dangerous side.
        "slope": ("slip", 0, "percent-for-degrees"),
        # 1.53 + 3.55 = 5.08 kN follows from it.
        "total": ("carried", 2, ""),
        # On the ball: it would come up, and nothing else counts.
        "build": ("part", 1, ""),
        # 44 kN is 4,487 kgf, and was written as kN.
        "limit": ("unit", 1, "unit-slip"),
        "use": ("missing", 0, ""),
        # Backwards: no pair stands right.
        "steps": ("wrong", 0, ""),
    },
    "wash-road": {
        # 0.33 x 6,000 x cos 10 deg = 1,950 lbf is the rolling share alone.
        "total": ("slip", 1, "grade-left-out"),
        # Ten feet too short: neither safe nor out.
        "build": ("wrong", 0, ""),
        # 90 + 10 - 7.5 = 92.5 ft are 28.2 m.
        "reach": ("unit", 1, "unit-slip"),
        "pull": ("carried", 1, ""),
        "layer": ("wrong", 0, ""),
        "weak": ("missing", 0, ""),
        # Five of six stand in order: 2 x 4/5 = 1.6, down to halves.
        "steps": ("part", 1.5, ""),
    },
    "landing-ramp": {
        "bin": ("missing", 0, ""),
        # 18.63 kN x 6/60 = 1.86 kN is the slope alone.
        "total": ("slip", 1, "rolling-left-out"),
        # 1.86 + 3.06 = 4.92 kN.
        "need": ("carried", 2, ""),
        # 8.875 kN are 905 kgf.
        "grip": ("unit", 1, "unit-slip"),
        "build": ("part", 1, ""),
        "jerk": ("wrong", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "snow-lane": {
        # 9,000 x 21/60 = 3,150 lbf is the slope alone.
        "total": ("slip", 1, "rolling-left-out"),
        "lines": ("wrong", 0, ""),
        # 24,000 / 5 = 4,800 lbf against 5,445.
        "build": ("part", 1, ""),
        "advantage": ("right", 2, ""),
        # 3,150 / 1.82 = 1,731 lbf.
        "pull": ("carried", 2, ""),
        # 5,445 lbf are 2,470 kgf.
        "point": ("unit", 1, "unit-slip"),
        "weak": ("missing", 0, ""),
    },
    "peat-cutting": {
        "first": ("wrong", 0, ""),
        # Once the weight, 20.6 kN, is the figure for a vehicle sunk to its hubs.
        "bog": ("slip", 0, "bogged-one-class-lower"),
        # 20.6 / 1.95 = 10.6 kN.
        "pull": ("carried", 2, ""),
        # 41.2 kN are 4,200 kgf.
        "point": ("unit", 1, "unit-slip"),
        # The mass on the label, 3,000 kg, written as newtons.
        "may-carry": ("unit", 0.5, "unit-slip"),
        "weak": ("missing", 0, ""),
        # Five of six stand in order: 3 x 4/5 = 2.4.
        "steps": ("part", 2, ""),
    },
    "dune-mouth": {
        "total": ("slip", 1, "weight-for-resistance"),
        "strap": ("wrong", 0, ""),
        "build": ("part", 1, ""),
        "stiffness": ("missing", 0, ""),
        # 1.664 mph x 4,800 / 1,440 = 5.55 mph.
        "lowest": ("carried", 3, ""),
        # 45 ft are 13.7 m.
        "clear": ("unit", 1, "unit-slip"),
        "steps": ("part", 1.5, ""),
    },
    "ford-exit": {
        # 27.7 + 0.50 x 25.4 = 40.4 kN counts the mud twice.
        "total": ("slip", 1.5, "rolling-added-to-bogging"),
        "plan": ("wrong", 0, ""),
        # 110 / 5 = 22 kN against 27.7.
        "build": ("part", 1, ""),
        # 27.37 kN are 2,791 kgf.
        "layer": ("unit", 1.5, "unit-slip"),
        # 40.4 / 1.95 = 20.7 kN.
        "pull": ("carried", 2, ""),
        "point": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "spur-track": {
        # 29.42 kN x sin 9 deg = 4.60 kN is the slope alone; a third of two marks, in halves.
        "total": ("slip", 0.5, "rolling-left-out"),
        # Choked the sling may carry 7.85 kN, and carries 10.6.
        "build": ("part", 1, ""),
        # 4.60 / 0.95 = 4.84 kN.
        "pull": ("carried", 2, ""),
        # 10.57 kN are 2,377 lbf.
        "turn": ("unit", 1.5, "unit-slip"),
        "sling": ("slip", 0, "choker-not-reduced"),
        "weak": ("wrong", 0, ""),
        "tree": ("missing", 0, ""),
    },
    "canal-verge": {
        # 24.52 kN x sin 6 deg = 2.56 kN is the slope alone.
        "total": ("slip", 1, "rolling-left-out"),
        "anchor": ("wrong", 0, ""),
        "build": ("part", 1, ""),
        # To the stone, 16 east and 4 south: 2.56 / cos 14.0 deg = 2.64 kN.
        "pull": ("carried", 2, ""),
        # 28.32 kN are 2,888 kgf.
        "layer": ("unit", 1, "unit-slip"),
        "sling": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "hill-road": {
        # 5,400 x sin 9 deg = 845 lbf is the slope alone.
        "away": ("slip", 1, "rolling-left-out"),
        "plan": ("wrong", 0, ""),
        # 30 ft of line for 32.8 ft: neither safe nor down.
        "build": ("wrong", 0, ""),
        "behind": ("carried", 2, ""),
        # 1,100 lbf are 499 kgf.
        "count-on": ("unit", 1, "unit-slip"),
        "weak": ("missing", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "estuary-track": {
        "total": ("right", 2, ""),
        # 100 kN / 0.30 = 333 kN for a metre that was a share.
        "stiffness": ("slip", 1, "strain-as-metres"),
        # 2.44 + sqrt(2.08^2 + 333 x 1.242 x 3.98) = 43.0 kN.
        "peak": ("carried", 4, ""),
        "design": ("missing", 0, ""),
        # 28.33 kN are 2,889 kgf.
        "rope": ("unit", 1.5, "unit-slip"),
        "faster": ("wrong", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "quarry-ramp": {
        # 12 % is an angle of 6.84 deg: 7,600 x 1.1191 = 8,506 lbf.
        "total": ("slip", 0, "percent-for-degrees"),
        # Choked the sling may carry 7,040 lbf, and carries 9,180.
        "build": ("part", 1, ""),
        # A part left out keeps one mark of three; a third of two, in halves.
        "advantage": ("slip", 0.5, "friction-left-out"),
        # 8,506 / 2 = 4,253 lbf.
        "pull": ("carried", 2, ""),
        # 9,180 lbf are 4,164 kgf.
        "anchor": ("unit", 1.5, "unit-slip"),
        "layer": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
    },
    "gully-bend": {
        "total": ("right", 2, ""),
        # 2 x 18 / 18.68 = 1.93; a part left out keeps one mark of three.
        "advantage": ("slip", 1, "friction-left-out"),
        # 21.2 / 1.93 = 11.0 kN.
        "pull": ("carried", 2, ""),
        # 19.02 kN are 4,276 lbf.
        "north": ("unit", 2, "unit-slip"),
        "weak": ("missing", 0, ""),
        "extension": ("wrong", 0, ""),
        "steps": ("part", 1.5, ""),
    },
    "culvert-edge": {
        # 8,800 x (1 + sin 7 deg) = 9,872 lbf is the figure for the hubs.
        "total": ("slip", 0, "bogged-one-class-lower"),
        # 9,870 / 1.912 = 5,161 lbf.
        "pull": ("carried", 2, ""),
        # 9,276 lbf are 4,207 kgf.
        "tree": ("unit", 1, "unit-slip"),
        "may-carry": ("missing", 0, ""),
        "weak": ("wrong", 0, ""),
        "go": ("wrong", 0, ""),
        "steps": ("part", 1.5, ""),
    },
}


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
