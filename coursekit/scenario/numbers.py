"""A scenario with other numbers in its fields, by the names that its file gives them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any

from coursekit.scenario.model import Scenario

_SITUATION = {
    "stuck_vehicle": "stuck",
    "recovery_vehicle": "recovery",
    "ground": "ground",
    "anchors": "anchors",
    "gear": "gear",
    "policy": "policy",
}


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
