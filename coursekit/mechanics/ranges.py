"""The refusal of numbers that a formula does not hold for.

A formula names its arguments in the call, so the error can name them:

>>> require_positive(mass=2300.0)
>>> require_positive(mass=0.0)
Traceback (most recent call last):
...
coursekit.mechanics.ranges.OutOfRange: mass: 0 kg is out of range. Give more than 0 kg.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import Final

from coursekit.mechanics.nomenclature import GLOSSARY
from coursekit.problems import CoursekitError

SMALLEST: Final = 1e-9
LARGEST: Final = 1e15
"""No recovery reaches these; between them no formula over- or underflows."""

RIGHT_ANGLE: Final = math.pi / 2
FULL_TURN: Final = 2 * math.pi


class OutOfRange(CoursekitError, ValueError):
    """A number outside the range that a formula holds for."""

    def __init__(self, name: str, value: float, low: float, high: float) -> None:
        super().__init__(name, value, low, high)
        self.name = name
        self.value = value
        self.low = low
        self.high = high

    def __str__(self) -> str:
        unit = GLOSSARY[self.name].unit_text if self.name in GLOSSARY else ""
        return f"{self.name}: {self.value:g}{unit} is out of range. Give {self._mend}{unit}."

    @property
    def _mend(self) -> str:
        if math.isnan(self.value):
            return f"a number from {self.low:g} to {self.high:g}"
        if self.value > self.high:
            return f"at most {self.high:g}"
        return "more than 0" if self.low == SMALLEST else f"at least {self.low:g}"


class UnknownChoice(CoursekitError, ValueError):
    """A word that is none of those a formula knows."""

    def __init__(self, name: str, value: str, known: Iterable[str]) -> None:
        self.name = name
        self.value = value
        self.known = tuple(known)
        super().__init__(name, value, self.known)

    def __str__(self) -> str:
        known = ", ".join(self.known)
        return f"{self.name}: {self.value!r} is not known. Give one of: {known}."


def require_in_range(low: float, high: float, /, **values: float) -> None:
    """Refuse a value below `low`, above `high`, or not finite."""
    for name, value in values.items():
        # Written so that a NaN, which compares false with everything, is refused.
        if not low <= value <= high:
            raise OutOfRange(name, value, low, high)


def require_positive(**values: float) -> None:
    """Refuse zero, negative, not finite or absurdly small or large values."""
    require_in_range(SMALLEST, LARGEST, **values)


def require_not_negative(**values: float) -> None:
    """Refuse negative, not finite or absurdly large values."""
    require_in_range(0.0, LARGEST, **values)


def require_finite(**values: float) -> None:
    """Refuse values that are not finite, or absurdly large either way."""
    require_in_range(-LARGEST, LARGEST, **values)


def require_slope(slope: float) -> None:
    """Refuse a slope below the level or beyond the vertical."""
    require_in_range(0.0, RIGHT_ANGLE, slope=slope)


def require_known(name: str, value: str, known: Iterable[str]) -> None:
    """Refuse a word that is not among the known ones."""
    choices = tuple(known)
    if value not in choices:
        raise UnknownChoice(name, value, choices)
