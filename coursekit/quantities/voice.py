"""The units in which a scenario speaks: those of its own file."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping
from typing import cast

from coursekit.mechanics.constants import STANDARD_GRAVITY
from coursekit.quantities.display import Direction, show, show_given
from coursekit.quantities.errors import QuantityError
from coursekit.quantities.parse import read_number
from coursekit.quantities.units import Kind, find_unit
from coursekit.rigging.site import Situation
from coursekit.scenario.model import Scenario

METRIC: Mapping[Kind, str] = {
    Kind.FORCE: "kN",
    Kind.MASS: "kg",
    Kind.LENGTH: "m",
    Kind.ANGLE: "deg",
    Kind.SPEED: "m/s",
    Kind.RATIO: "",
    Kind.ENERGY: "kJ",
    Kind.STIFFNESS: "kN/m",
}
US: Mapping[Kind, str] = {
    **METRIC,
    Kind.FORCE: "lbf",
    Kind.MASS: "lb",
    Kind.LENGTH: "ft",
    Kind.SPEED: "mph",
    Kind.ENERGY: "ft·lbf",
    Kind.STIFFNESS: "lbf/ft",
}
# A figure that was given has no more; one of another unit may have any number.
MOST_FIGURES = 5
_US_UNITS = frozenset({"lb", "lbf", "ft", "in", "mph", "short ton", "kip", "ft/s"})


def units_of(scenario: Scenario) -> Mapping[Kind, str]:
    """Return the unit for each kind: US ones where most of the file is written in them."""
    return units_at(scenario.situation)


def units_at(situation: Situation) -> Mapping[Kind, str]:
    """Return the unit for each kind as the readers of a situation use them."""
    return US if situation.us_units else METRIC


def is_us(shown: Mapping[str, str]) -> bool:
    """Whether most quantities of a file, as they stand there, are written in US units.

    >>> is_us({"mass": "4800 lb", "slope": "8 deg", "length": "9 m", "pull": "9500 lbf"})
    True
    """
    votes = Counter(_reads_us(text) for text in shown.values())
    return votes[True] > votes[False]


def _reads_us(text: str) -> bool | None:
    try:
        unit = find_unit(read_number(text).token)
    except QuantityError:
        return None
    if unit is None or unit.kind in (Kind.ANGLE, Kind.RATIO):
        return None
    return unit.symbol in _US_UNITS


def shower(units: Mapping[Kind, str]) -> Callable[[float, str, str], str]:
    """Return what words a value: (value, SI unit, direction of rounding) -> text.

    "given" in place of a direction keeps the figures that it was given with, where they are few.

    >>> shower(METRIC)(9042.2, "N", "up"), shower(US)(9042.2, "N", "up")
    ('9.05 kN', '2,040 lbf')
    """

    def worded(value: float, si_unit: str, direction: str) -> str:
        if si_unit == "m/s2":
            return _gravity(value, units)
        kind = Kind.of_si(si_unit)
        if direction == "given":
            return _as_given(value, kind, units[kind])
        return show(value, kind, units[kind], cast("Direction", direction))

    return worded


def _gravity(value: float, units: Mapping[Kind, str]) -> str:
    """Return an acceleration; to those who weigh in pounds, as the weight of a pound."""
    if units[Kind.FORCE] == US[Kind.FORCE]:
        return f"{value / STANDARD_GRAVITY:g} lbf/lb"
    return f"{value:g} m/s\N{SUPERSCRIPT TWO}"


def _as_given(value: float, kind: Kind, unit: str) -> str:
    """Return a value unrounded, unless it was given in another unit and comes out long."""
    text = show_given(value, kind, unit)
    few = sum(letter.isdigit() for letter in text) <= MOST_FIGURES
    return text if few else show(value, kind, unit, figures=MOST_FIGURES)
