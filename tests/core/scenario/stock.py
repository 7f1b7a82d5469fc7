"""The scenarios of the repository, read once."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import product
from pathlib import Path

from coursekit.files.scenario_file import read_scenario
from coursekit.rigging.solver import Solution, solve
from coursekit.scenario.model import Range, Scenario
from coursekit.scenario.numbers import at_indices

FOLDER = Path(__file__).resolve().parents[3] / "scenarios"
IDS = sorted(path.stem for path in FOLDER.glob("*.yaml"))


@cache
def scenario(name: str) -> Scenario:
    """Return a scenario by its id."""
    return read_scenario(FOLDER / f"{name}.yaml")


@cache
def solved(name: str, rig: str = "given") -> Solution:
    """Return a named rig of a scenario, solved at the file's own numbers."""
    return solve(scenario(name).situation, scenario(name).rigs[rig])


def corners(name: str) -> Iterator[Scenario]:
    """Yield the scenario with each of its varied numbers at one end of its range."""
    own = scenario(name)
    for ends in product(*(_ends(grid) for grid in own.vary)):
        yield at_indices(own, ends)


def _ends(grid: Range) -> tuple[int, int]:
    return 0, grid.count - 1


def against(solution: Solution) -> set[str]:
    """Return the rules that stop a rig, or leave the vehicle where it is."""
    return {f.rule for f in solution.findings if f in solution.stops or f.leaves_stuck}
