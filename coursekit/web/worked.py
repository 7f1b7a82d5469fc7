"""Worked solutions: the steps of a chain with their formula, numbers and source."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from flask_babel import gettext as _

from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.solver import Solution
from coursekit.rigging.steps import Step
from coursekit.scenario.model import Scenario
from coursekit.web.worded import worded

NOTHING = "\u2013"
GREEK = {"theta": "θ", "phi": "φ", "beta": "β", "eta": "η", "pi": "π"}
_GREEK = re.compile(rf"\b({'|'.join(GREEK)})\b")

Show = Callable[[float, str, str], str]


@dataclass(frozen=True)
class WorkedStep:
    """One step: what it is, its formula, the numbers put in, its value and its source."""

    key: str
    name: str
    formula: str
    numbers: tuple[str, ...]
    value: str
    source: str


def worked_steps(scenario: Scenario, solution: Solution, key: str) -> tuple[WorkedStep, ...]:
    """Return the steps that lead to a quantity, in the order of solving."""
    return tuple(_worked(scenario, solution, step) for step in solution.chain.working(key))


def all_worked_steps(scenario: Scenario, solution: Solution) -> tuple[WorkedStep, ...]:
    """Return every step of a solved rig that has a value, in the order of solving."""
    return tuple(
        _worked(scenario, solution, step)
        for step in solution.chain
        if solution.values[step.key] is not None
    )


def step_value(step: Step, value: Any, show: Show) -> str:
    """Return the value of a step with its unit; a dash where it has none."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return NOTHING if value is None else str(value)
    return show(float(value), step.unit, step.rounds)


def formula_text(step: Step) -> str:
    """Return the formula of a step, its symbol before it, with Greek letters."""
    formula = step.working.text(_)
    text = formula if "=" in formula else f"{step.symbol} = {formula}"
    return _GREEK.sub(lambda match: GREEK[match[1]], text)


def _worked(scenario: Scenario, solution: Solution, step: Step) -> WorkedStep:
    show = shower(units_of(scenario))
    return WorkedStep(
        step.key,
        worded(scenario, step.title),
        formula_text(step),
        tuple(_numbers(scenario, solution, step)),
        step_value(step, solution.values[step.key], show),
        step.origin.text(_),
    )


def _numbers(scenario: Scenario, solution: Solution, step: Step) -> Iterator[str]:
    """Yield the values of earlier steps that this one rests on."""
    show = shower(units_of(scenario))
    for need in step.needs:
        if need in solution.chain:
            earlier = solution.chain.step(need)
            value = step_value(earlier, solution.values[need], show)
            yield f"{worded(scenario, earlier.title)} {value}"
