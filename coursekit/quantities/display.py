"""SI values as text: loads rounded up, capacities down, never against the verdict."""

from __future__ import annotations

from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from typing import Literal

from coursekit.quantities.units import Kind, Unit, si_factor, unit_of

Direction = Literal["nearest", "up", "down"]

FIGURES = 3
"""Significant figures shown, unless a pair needs more."""

_ROUNDING = {"nearest": ROUND_HALF_EVEN, "up": ROUND_CEILING, "down": ROUND_FLOOR}

# Sums of floats end in dust: 9042.0000000001 is 9042, and rounds up to no more.
_DUST = Decimal("1e-9")

# A float has no more figures than this: rounding to them loses nothing.
_ALL_FIGURES = 17


def show(
    value: float,
    kind: Kind,
    unit: str,
    direction: Direction = "nearest",
    figures: int = FIGURES,
) -> str:
    """Return an SI value in the unit, with its thousands marked by commas.

    >>> show(0.14, Kind.ANGLE, "deg")
    '8.02°'
    >>> show(25_987.6, Kind.FORCE, "N", "up")
    '26,000 N'
    """
    shown = unit_of(unit)
    number = _rounded(_in_unit(value, kind, shown), direction, figures)
    return _with_unit(number, shown)


def show_load(newtons: float, unit: str = "kN", figures: int = FIGURES) -> str:
    """Return a load, rounded up.

    >>> show_load(9042.2)
    '9.05 kN'
    """
    return show(newtons, Kind.FORCE, unit, "up", figures)


def show_capacity(newtons: float, unit: str = "kN", figures: int = FIGURES) -> str:
    """Return a capacity or limit, rounded down.

    >>> show_capacity(9806.65)
    '9.80 kN'
    """
    return show(newtons, Kind.FORCE, unit, "down", figures)


def show_share(share: float, limit: float) -> str:
    """Return a share that counts against an item, rounded up, so that it shows its verdict.

    It has one decimal, and more where it would otherwise seem to reach a limit that it is below.

    >>> show_share(0.0526, 0.10), show_share(0.09999, 0.10), show_share(0.10, 0.10)
    ('5.3 %', '9.999 %', '10.0 %')
    """
    percent = Decimal(repr(max(0.0, share))) * 100
    bound = Decimal(repr(limit)) * 100
    for places in range(1, _ALL_FIGURES):
        shown = (percent - _DUST).quantize(Decimal(1).scaleb(-places), ROUND_CEILING)
        if (shown >= bound) == (percent >= bound - _DUST):
            break
    return f"{abs(shown):f} %"


def show_pair(load: float, limit: float, unit: str = "kN") -> tuple[str, str]:
    """Return a load and its limit with as many digits as their verdict needs.

    >>> show_pair(9803.0, 9806.65)
    ('9.803 kN', '9.806 kN')
    """
    shown = unit_of(unit)
    exact_load, exact_limit = (_in_unit(each, Kind.FORCE, shown) for each in (load, limit))
    for figures in range(FIGURES, _ALL_FIGURES):
        up = _rounded(exact_load, "up", figures)
        down = _rounded(exact_limit, "down", figures)
        if (up <= down) == (load <= limit):
            return _with_unit(up, shown), _with_unit(down, shown)
    # They differ by dust alone, yet the verdict stands on it.
    nearest = (_at_figures(each, "nearest", _ALL_FIGURES) for each in (exact_load, exact_limit))
    up, down = nearest
    return _with_unit(up, shown), _with_unit(down, shown)


def show_given(value: float, kind: Kind, unit: str) -> str:
    """Return a given value with the digits it was given with, unrounded.

    >>> show_given(42258.10534497475, Kind.FORCE, "lbf")
    '9,500 lbf'
    """
    shown = unit_of(unit)
    exact = _in_unit(value, kind, shown)
    for figures in range(1, _ALL_FIGURES):
        number = _at_figures(exact, "nearest", figures)
        if abs(number - exact) <= abs(exact) * Decimal("1e-12"):
            return _with_unit(number, shown)
    return _with_unit(exact, shown)


def _in_unit(value: float, kind: Kind, unit: Unit) -> Decimal:
    return Decimal(repr(float(value))) / si_factor(unit, kind)


def _rounded(number: Decimal, direction: Direction, figures: int) -> Decimal:
    nearest = _at_figures(number, "nearest", figures)
    if abs(number - nearest) <= abs(number) * _DUST:
        return nearest
    return _at_figures(number, direction, figures)


def _at_figures(number: Decimal, direction: Direction, figures: int) -> Decimal:
    """Round once more where the first rounding gained a figure: 9.996 is 10.0."""
    for _ in range(2):
        step = Decimal(1).scaleb(number.adjusted() - figures + 1)
        number = number.quantize(step, _ROUNDING[direction])
    return number


def _with_unit(number: Decimal, unit: Unit) -> str:
    # A figure that rounds to nothing is plain nothing, without a sign or decimals.
    digits = f"{number:,f}" if number else "0"
    return f"{digits}{unit}" if unit.symbol in {"", "°"} else f"{digits} {unit}"
