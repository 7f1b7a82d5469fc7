"""Where tasks stand in a picture of facility against discrimination.

It only places things; lengths are units of the drawing, one of them about a pixel
of a phone.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import hypot
from statistics import fmean

WIDTH, HEIGHT = 340.0, 240.0
LEFT, RIGHT, TOP, BOTTOM = 34.0, 24.0, 30.0, 40.0
LOWEST, HIGHEST = -0.5, 1.0
# Shapes that would cover each other become one that bears all their numbers.
APART = 30.0
SHAPE, LETTER = 10.0, 6.5


@dataclass(frozen=True)
class Dot:
    """A task: its number and name, the share of marks, and how it tells papers apart."""

    number: int
    name: str
    facility: float
    discrimination: float


@dataclass(frozen=True)
class Placed:
    """Where one shape stands, and the numbers of the tasks that it bears."""

    numbers: str
    x: float
    y: float
    width: float
    is_odd: bool


@dataclass(frozen=True)
class Scatter:
    """The picture: the shapes, the line of no discrimination, and the ticks."""

    placed: tuple[Placed, ...]
    zero: float
    ticks_x: tuple[tuple[float, str], ...]
    ticks_y: tuple[tuple[float, str], ...]
    dots: tuple[Dot, ...]
    width: float = WIDTH
    height: float = HEIGHT
    left: float = LEFT
    right: float = WIDTH - RIGHT
    top: float = TOP
    bottom: float = HEIGHT - BOTTOM


def place(dots: Iterable[Dot]) -> Scatter:
    """Return the picture of some tasks.

    >>> picture = place([Dot(1, "pull", 0.5, 0.25), Dot(2, "load", 0.5, 0.26)])
    >>> [shape.numbers for shape in picture.placed]
    ['1, 2']
    """
    ordered = tuple(dots)
    return Scatter(
        tuple(_shape(close) for close in _close_together(ordered)),
        _y(0.0),
        tuple((_x(share), f"{100 * share:.0f} %") for share in (0.0, 0.5, 1.0)),
        tuple((_y(at), f"{at:g}") for at in (0.0, 0.5, 1.0)),
        ordered,
    )


def _close_together(dots: Iterable[Dot]) -> list[list[Dot]]:
    groups: list[list[Dot]] = []
    for dot in sorted(dots, key=lambda dot: dot.facility):
        for group in groups:
            if any(_distance(one, dot) < APART for one in group):
                group.append(dot)
                break
        else:
            groups.append([dot])
    return groups


def _distance(one: Dot, other: Dot) -> float:
    return hypot(
        _x(one.facility) - _x(other.facility), _y(one.discrimination) - _y(other.discrimination)
    )


def _shape(dots: list[Dot]) -> Placed:
    numbers = ", ".join(str(number) for number in sorted(dot.number for dot in dots))
    return Placed(
        numbers,
        round(fmean(_x(dot.facility) for dot in dots), 1),
        round(fmean(_y(dot.discrimination) for dot in dots), 1),
        SHAPE + LETTER * len(numbers),
        any(dot.discrimination < 0 for dot in dots),
    )


def _x(facility: float) -> float:
    return LEFT + min(1.0, max(0.0, facility)) * (WIDTH - LEFT - RIGHT)


def _y(discrimination: float) -> float:
    share = (min(HIGHEST, max(LOWEST, discrimination)) - LOWEST) / (HIGHEST - LOWEST)
    return HEIGHT - BOTTOM - share * (HEIGHT - TOP - BOTTOM)
