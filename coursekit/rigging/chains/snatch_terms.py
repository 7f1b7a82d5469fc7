"""The formulas of a kinetic pull with a place for each number, and the numbers in them."""

from __future__ import annotations

import math

from coursekit.rigging.steps import Term, Values

LOWEST_SPEED = (
    "sqrt(max(0, {pull}^2 - 2 * {drive} * {pull}) / ({recovery_mass} * {kinetic.stiffness}))"
)


def peak_expression(values: Values) -> str:
    """Return the formula of the peak: as long as it stays stuck, and once it moves."""
    if values["kinetic.peak"] <= values["pull"]:
        energy = "{recovery_mass} * {kinetic.stiffness} * {kinetic.speed}^2"
        return f"{{drive}} + sqrt({{drive}}^2 + {energy})"
    return "{T*} + sqrt(({pull} - {T*})^2 + {kinetic.stiffness} * {m_e} * {u}^2)"


def _both_as_one(v: Values) -> float:
    pulled = v["drive"] * v["mass"] + v["pull"] * v["recovery_mass"]
    return float(pulled / (v["recovery_mass"] + v["mass"]))


def _mass_in_one(v: Values) -> float:
    return float(v["recovery_mass"] * v["mass"] / (v["recovery_mass"] + v["mass"]))


def _speed_when_it_moves(v: Values) -> float:
    given_back = 2.0 * v["drive"] * v["pull"] - v["pull"] ** 2
    squared = v["kinetic.speed"] ** 2 + given_back / (v["kinetic.stiffness"] * v["recovery_mass"])
    return math.sqrt(max(0.0, squared))


PEAK_TERMS = (
    Term("T*", "force at which both vehicles move as one", "N", _both_as_one, "up"),
    Term("m_e", "both masses in one, m1 m2 / M", "kg", _mass_in_one),
    Term("u", "speed left when the stuck vehicle begins to move", "m/s", _speed_when_it_moves),
)


def highest_terms(limit: float | None, allowance: float) -> tuple[Term, Term]:
    """Return the numbers that the highest speed rests on."""
    return (
        Term("L_min", "smallest limit in the path", "N", limit, "down"),
        Term("a", "allowance on the load", "-", allowance),
    )
