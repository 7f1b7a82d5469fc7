"""From metres on the ground to units on the sheet: north up, one scale, all in view."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from coursekit.rigging.plan import Vector
from coursekit.rigging.vehicle import Position

Point = tuple[float, float]
"""Across and down, in units of the drawing."""

WIDTH = 320.0
"""Units across; on the smallest phone one unit is nearly one CSS pixel."""
LOWEST, HIGHEST = 200.0, 330.0
PAD = 30.0
"""Room left round everything, for the words."""

# A vehicle with nothing near it is not drawn as large as the sheet.
LARGEST_SCALE = 22.0


@dataclass(frozen=True)
class Box:
    """A level rectangle, in units."""

    left: float
    top: float
    right: float
    bottom: float

    @classmethod
    def around(cls, middle: Point, width: float, height: float) -> Box:
        """Return the box of a size about its middle."""
        x, y = middle
        return cls(x - width / 2, y - height / 2, x + width / 2, y + height / 2)

    @property
    def width(self) -> float:
        """How wide it is."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """How high it is."""
        return self.bottom - self.top

    @property
    def middle(self) -> Point:
        """Its middle."""
        return (self.left + self.right) / 2, (self.top + self.bottom) / 2

    def grown(self, by: float) -> Box:
        """Return the box with a border added on each side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)

    def holds(self, other: Box) -> bool:
        """Whether the other lies wholly inside."""
        return (
            self.left <= other.left
            and self.top <= other.top
            and other.right <= self.right
            and other.bottom <= self.bottom
        )

    def meets(self, other: Box) -> bool:
        """Whether the two overlap."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.top < other.bottom
            and other.top < self.bottom
        )

    def nearest(self, point: Point) -> Point:
        """Return the point of the box that is nearest to another."""
        x, y = point
        return min(max(x, self.left), self.right), min(max(y, self.top), self.bottom)


@dataclass(frozen=True)
class Footprint:
    """Something at a place in metres that takes a box of units round it, whatever the scale."""

    at: Position
    takes: Box


@dataclass(frozen=True)
class Frame:
    """How the ground lies on the sheet: units for each metre, and the sheet's corner."""

    scale: float
    west: float
    north: float
    width: float
    height: float

    @property
    def box(self) -> Box:
        """The whole sheet."""
        return Box(0.0, 0.0, self.width, self.height)

    def place(self, at: Position) -> Point:
        """Return where a position lies on the sheet.

        >>> Frame(10.0, west=-2.0, north=5.0, width=320.0, height=200.0).place((0.0, 4.0))
        (20.0, 10.0)
        """
        return (at[0] - self.west) * self.scale, (self.north - at[1]) * self.scale


def frame_of(footprints: Iterable[Footprint], room: float = 0.0) -> Frame:
    """Return the largest frame in which every footprint lies inside its border.

    `room` is height added for labels that found none.

    >>> apart = [Footprint((x, 0.0), Box(-10, -10, 10, 10)) for x in (0.0, 24.0)]
    >>> frame_of(apart).scale
    10.0
    """
    spread = list(footprints)
    scale = _largest_scale(spread)
    extent = _extent(spread, scale)
    height = round(min(HIGHEST, max(LOWEST, extent.height + 2 * PAD)) + room, 1)
    x, y = extent.middle
    return Frame(scale, (x - WIDTH / 2) / scale, (height / 2 - y) / scale, WIDTH, height)


def heading(vector: Vector) -> Vector:
    """Return a direction of the ground as a direction on the sheet, where down is positive."""
    return vector[0], -vector[1]


def _largest_scale(spread: list[Footprint]) -> float:
    low, high = 0.0, LARGEST_SCALE
    if _fits(_extent(spread, high)):
        return high
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (middle, high) if _fits(_extent(spread, middle)) else (low, middle)
    return round(low, 6)


def _fits(extent: Box) -> bool:
    return extent.width <= WIDTH - 2 * PAD and extent.height <= HIGHEST - 2 * PAD


def _extent(spread: list[Footprint], scale: float) -> Box:
    boxes = [
        Box(
            east * scale + each.takes.left,
            -north * scale + each.takes.top,
            east * scale + each.takes.right,
            -north * scale + each.takes.bottom,
        )
        for each in spread
        for east, north in [each.at]
    ]
    return Box(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
    )
