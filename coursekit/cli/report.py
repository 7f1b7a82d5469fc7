"""Solved rigs and marked papers as plain text for a terminal.

Loads are rounded up and limits down; a verdict is never taken from the rounded
numbers, and where those would contradict it more digits are shown.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from textwrap import TextWrapper
from typing import Any

from coursekit.assessment.marks import Paper
from coursekit.quantities.display import show_pair
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.findings import Finding
from coursekit.rigging.solver import ItemLoad, Solution, Weakest
from coursekit.scenario.model import Scenario

WIDTH = 96
NO_VALUE = "no value"
CAUTION = (
    "Caution: this verifies formulas for training, on an invented scenario. It clears no real "
    "pull: the maker's rating on the gear, the vehicle maker's instructions, local codes and the "
    "qualified people on the spot decide. Keep everyone out of the line and beyond the stand-off."
)
_OUTCOMES = {
    "competent": "competent",
    "not-yet": "not yet competent",
    "unsafe": "unsafe: what would have hurt someone stands below",
}


def solution_report(scenario: Scenario, solution: Solution, numbers: str) -> str:
    """Return the report of one solved rig: findings, loads against limits, worked steps."""
    show = Voice(scenario)
    parts = [
        [f"{scenario.id}: {scenario.title}", numbers],
        _findings(solution, show),
        ["Loads (rounded up) against limits (rounded down)", *_loads(solution, show)],
        ["Worked steps", *_steps(solution, show)],
        wrapped(CAUTION, ""),
    ]
    return "\n\n".join("\n".join(part) for part in parts)


def paper_report(paper: Paper, numbers: str) -> str:
    """Return the report of a marked paper, task by task."""
    head = [
        f"{paper.scenario.id}: {paper.scenario.title}",
        numbers,
        f"{paper.marks:g} of {paper.out_of:g} marks; {_OUTCOMES[paper.outcome]}",
        *(f"  {stop}" for stop in paper.stops),
    ]
    tasks = []
    for task in paper.tasks:
        tasks.append(f"{task.task}: {task.verdict}, {task.marks:g} of {task.out_of:g}")
        for message in task.feedback:
            tasks += wrapped(str(message), "  ")
    return "\n\n".join(["\n".join(head), "\n".join(tasks), "\n".join(wrapped(CAUTION, ""))])


class Voice:
    """Words values in the units that the scenario's file uses."""

    def __init__(self, scenario: Scenario) -> None:
        units = units_of(scenario)
        self.force_unit = units[Kind.FORCE]
        self._show = shower(units)

    def value(self, value: Any, unit: str, rounds: str) -> str:
        """Return a value in its unit, rounded to the safe side; a flag as yes or no."""
        if isinstance(value, bool):
            return "yes" if value else "no"
        if not isinstance(value, int | float) or not math.isfinite(value):
            return NO_VALUE
        if unit == "-" and float(value).is_integer():
            return f"{value:.0f}"
        return self._show(float(value), unit, rounds)

    def against(self, load: float | None, limit: float | None) -> str:
        """Return a load beside its limit, with digits enough to tell which is larger."""
        if load is None or limit is None:
            shown_load = self.value(load, "N", "up")
            shown_limit = self.value(limit, "N", "down")
        else:
            shown_load, shown_limit = show_pair(load, limit, self.force_unit)
        return f"{shown_load:>12} of {shown_limit:>12}"


def per_cent(use: float | None) -> str:
    """Return a use in per cent, rounded up; nothing where it has no meaning."""
    return "" if use is None or not math.isfinite(use) else f"{math.ceil(use * 100.0 - 1e-9)} %"


def _findings(solution: Solution, show: Voice) -> list[str]:
    verdict = (
        "SAFE as far as these rules go: no finding is critical."
        if solution.is_safe
        else "NOT SAFE: see what is critical."
    )
    return [verdict, *(line for finding in solution.findings for line in _finding(finding, show))]


def _finding(finding: Finding, show: Voice) -> Iterator[str]:
    places = " ".join(dict.fromkeys(word for word in (finding.at, finding.item) if word))
    said = finding.message.shown(show.value)
    yield from wrapped(f"{finding.severity:<9}{finding.rule} ({places}): {said}", "  ")


def _loads(solution: Solution, show: Voice) -> Iterator[str]:
    for line in solution.lines:
        role = "holding line" if line.role == "hold" else "line"
        yield f"  {role} from {line.start}: {show.value(line.load, 'N', 'up')}"
        yield from _items(line.items, show)
    for place in solution.places:
        anchor = "" if place.holds is None else f" of {show.value(place.holds, 'N', 'down')}"
        bearing = show.value(place.bearing, "rad", "nearest")
        yield f"  {place.at}: {show.value(place.load, 'N', 'up')}{anchor}, bearing {bearing}"
        yield from _items(place.items, show)
    if solution.weakest is not None:
        yield f"  weakest: {_weakest(solution.weakest)}"


def _items(items: Iterable[ItemLoad], show: Voice) -> Iterator[str]:
    for item in items:
        factor = show.value(item.safety_factor, "-", "down")
        safety = "" if factor == NO_VALUE else f"  safety factor {factor}"
        pair = show.against(item.load, item.limit)
        yield f"    {item.item:<24} {pair} {per_cent(item.use):>6}{safety}"


def _weakest(weakest: Weakest) -> str:
    place = "" if weakest.at in {None, weakest.item} else f" at {weakest.at}"
    return f"{weakest.item}{place}, {per_cent(weakest.use)} of its limit"


def _steps(solution: Solution, show: Voice) -> Iterator[str]:
    for step in solution.chain:
        value = show.value(solution.values[step.key], step.unit, step.rounds)
        yield f"  {step.title}: {step.symbol} = {value}"
        yield from wrapped(f"{step.working}  [{step.source}]", "    ")


def wrapped(text: str, indent: str) -> list[str]:
    """Return a text as lines of the report's width, those that follow set in."""
    wrapper = TextWrapper(WIDTH, initial_indent=indent, subsequent_indent=f"{indent}  ")
    return wrapper.wrap(text)
