"""A misspelt key of a rig, or a number out of range, hid what else was wrong with the rig."""

from __future__ import annotations

from pathlib import Path

import pytest

from coursekit.files.rig_file import read_rig
from coursekit.files.scenario_file import read_scenario_text
from coursekit.problems import Problem
from tests.shell.files.ford import FILE, FORD, changed, problem_at, problems_of, problems_raised

SITUATION = read_scenario_text(FORD, FILE).situation
RIG = """\
method: winch
lines:
  - from: recovery_vehicle.winch
    made_of: [line-9]
    to: {at: elm, with: [{item: bow-9, hitch: basket}]}
    pulleys:
      - {at: oak, by: ring-9}
"""
WRONG = {"lines.0.made_of.0", "lines.0.to.at", "lines.0.to.with.0", "lines.0.pulleys.0.by"}


def problems_of_rig(path: Path, text: str) -> tuple[Problem, ...]:
    path.write_text(text, "utf-8")
    return problems_raised(lambda: read_rig(path, SITUATION))


@pytest.mark.parametrize(
    ("right", "wrong", "field"),
    [
        ("method: winch", "method: winc", "method"),
        ("method: winch\n", "", "method"),
        ("from: recovery", "form: recovery", "lines.0.from"),
        ("from: recovery_vehicle.winch", "from: [winch]", "lines.0.from"),
        ("{at: oak, by", "{by", "lines.0.pulleys.0.at"),
        ("at: elm, ", "", "lines.0.to.at"),
        ("item: bow-9, ", "", "lines.0.to.with.0.item"),
        ("[line-9]", "[[line-9]]", "lines.0.made_of.0"),
    ],
)
def test_what_can_not_be_read_of_a_rig_hides_nothing_else(
    tmp_path: Path, right: str, wrong: str, field: str
) -> None:
    problems = problems_of_rig(tmp_path / "rig.yaml", changed((right, wrong), text=RIG))
    found = {problem.where.field for problem in problems}

    assert found >= {each for each in WRONG if not f"{field}.".startswith(f"{each}.")}
    assert field in found
    assert all("?" not in problem.what for problem in problems)


def test_a_speed_below_zero_is_not_called_missing(tmp_path: Path) -> None:
    text = changed(("method: winch", "speed: -2 m/s\nmethod: kinetic"), text=RIG)
    problems = problems_of_rig(tmp_path / "rig.yaml", text)

    assert "-2 m/s is not zero or more" in [problem.what for problem in problems]


def test_an_empty_mass_is_one_problem_and_not_a_second_one_of_its_range() -> None:
    """The mass of the stuck vehicle varies, so its range looks for it."""
    problems = problems_of(changed(("mass: 2650 kg", "mass:")))

    assert [problem.where.field for problem in problems] == ["stuck_vehicle.mass"]


def test_a_task_without_a_name_is_not_among_those_that_are_known() -> None:
    text = changed(("id: total, ", ""))

    assert "Known here: build, rear" in problem_at("tasks.2.after.0", text)
