"""Fresh numbers for each student: the same on every machine, from digest and seed.

A variation is offered only where `offer.refusals` has nothing against it.
"""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from coursekit.problems import CoursekitError
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import reference_of, refusals

# How often numbers are drawn for one seed before the scenario is given up.
MOST_DRAWS = 400

_SITUATION = {
    "stuck_vehicle": "stuck",
    "recovery_vehicle": "recovery",
    "ground": "ground",
    "anchors": "anchors",
    "gear": "gear",
    "policy": "policy",
}


class Unsolvable(CoursekitError, ValueError):
    """No variation of a scenario can be offered; `scenario` names it."""

    def __init__(self, scenario: str) -> None:
        self.scenario = scenario
        super().__init__(scenario)

    def __str__(self) -> str:
        return (
            f"{self.scenario}: no numbers were found that can be offered. "
            "Narrow the ranges under vary, and see what check says of them."
        )


@dataclass(frozen=True)
class Variation:
    """A scenario with one student's numbers in place, as they read them."""

    scenario: Scenario
    seed: int
    values: Mapping[str, str]


def vary(scenario: Scenario, seed: int) -> Variation:
    """Return the variation of a seed; a scenario without `vary` has one for all.

    Raises
    ------
    Unsolvable
        If no numbers that can be offered are found.
    """
    if not scenario.vary:
        return Variation(scenario, seed, {})
    reference = reference_of(scenario)
    for draw in range(MOST_DRAWS):
        indices = drawn_indices(scenario, seed, draw)
        varied = at_indices(scenario, indices)
        if not refusals(reference, varied):
            return Variation(varied, seed, texts_at(scenario, indices))
    raise Unsolvable(scenario.id)


def drawn_indices(scenario: Scenario, seed: int, draw: int = 0) -> tuple[int, ...]:
    """Return a place on each grid, drawn from a SHA-256 counter over digest and seed."""
    return tuple(
        _drawn(f"{scenario.digest}:{seed}:{draw}:{number}", grid.count)
        for number, grid in enumerate(scenario.vary)
    )


def _drawn(counter: str, count: int) -> int:
    digest = hashlib.sha256(counter.encode()).digest()
    return int.from_bytes(digest[:16], "big") % count


def texts_at(scenario: Scenario, indices: tuple[int, ...]) -> dict[str, str]:
    """Return the varied fields as a student reads them."""
    return {
        grid.field: grid.text(index) for grid, index in zip(scenario.vary, indices, strict=True)
    }


def at_indices(scenario: Scenario, indices: tuple[int, ...]) -> Scenario:
    """Return the scenario with the numbers of these places on its grids."""
    numbers = zip(scenario.vary, indices, strict=True)
    varied = at_values(scenario, {grid.field: grid.value(index) for grid, index in numbers})
    shown = {**scenario.shown, **texts_at(scenario, indices)}
    return replace(varied, shown=shown)


def at_values(scenario: Scenario, numbers: Mapping[str, Any]) -> Scenario:
    """Return the scenario with other numbers in SI, by the field's dotted name in the file."""
    for field, number in numbers.items():
        scenario = with_value(scenario, field, number)
    return scenario


def with_value(scenario: Scenario, field: str, value: Any) -> Scenario:
    """Return a scenario with one field, by its dotted name in the file, replaced."""
    first, *rest = field.split(".")
    if first == "rigs":
        return replace(scenario, rigs=_replaced(scenario.rigs, rest, value))
    situation = _replaced(scenario.situation, [_SITUATION[first], *rest], value)
    return replace(scenario, situation=situation)


def _replaced(holder: Any, path: list[str], value: Any) -> Any:
    if not path:
        return value
    name, *rest = path
    if is_dataclass(holder) and not isinstance(holder, type):
        if name not in {entry.name for entry in fields(holder)}:
            raise KeyError(name)
        return replace(holder, **{name: _replaced(getattr(holder, name), rest, value)})
    if isinstance(holder, tuple):
        index = int(name)
        return (*holder[:index], _replaced(holder[index], rest, value), *holder[index + 1 :])
    return {**holder, name: _replaced(holder[name], rest, value)}
