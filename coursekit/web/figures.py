"""Solved values as text: the unit of each kind, loads up and capacities down."""

from __future__ import annotations

from typing import Any, cast

from coursekit.quantities.display import Direction, show
from coursekit.quantities.units import Kind
from coursekit.rigging.steps import Step

NOTHING = "\u2013"
UNITS = {
    Kind.FORCE: "kN",
    Kind.MASS: "kg",
    Kind.LENGTH: "m",
    Kind.ANGLE: "deg",
    Kind.SPEED: "m/s",
    Kind.RATIO: "",
    Kind.ENERGY: "kJ",
    Kind.STIFFNESS: "kN/m",
}


def step_value(step: Step, value: Any) -> str:
    """Return the value of a step with its unit; a dash where it has none."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        return NOTHING if value is None else str(value)
    kind = Kind.of_si(step.unit)
    return show(float(value), kind, UNITS[kind], cast("Direction", step.rounds))
