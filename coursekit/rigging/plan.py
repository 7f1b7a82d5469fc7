"""A line on the plan: directions, lengths, and the share of the pull in each part.

Plan positions are (east, north) in metres; bearings run clockwise from north.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from coursekit.mechanics.elementary import acos, atan2, cos, hypot, sin
from coursekit.mechanics.line import tension_after
from coursekit.mechanics.nomenclature import Metre, Radian, Ratio
from coursekit.mechanics.tables import PULLEY_EFFICIENCY
from coursekit.rigging.gear import Item
from coursekit.rigging.rig import Line
from coursekit.rigging.site import Situation
from coursekit.rigging.vehicle import Position

Vector = tuple[float, float]


def unit_vector(bearing: Radian) -> Vector:
    """Return the direction of a bearing.

    >>> [round(x, 9) for x in unit_vector(math.pi / 2)]
    [1.0, 0.0]
    """
    return sin(bearing), cos(bearing)


def bearing_of(vector: Vector) -> Radian:
    """Return the bearing of a direction, 0 to 2 pi.

    >>> round(math.degrees(bearing_of((-1.0, 0.0))))
    270
    """
    return atan2(vector[0], vector[1]) % (2.0 * math.pi)


def off_uphill(bearing: Radian, downhill: Radian | None) -> Radian:
    """Return the angle of a bearing off straight uphill, -pi to pi; 0 on level ground.

    >>> round(math.degrees(off_uphill(math.radians(90.0), math.radians(270.0))), 9)
    0.0
    """
    if downhill is None:
        return 0.0
    return math.remainder(bearing - downhill - math.pi, 2.0 * math.pi)


def dot(one: Vector, other: Vector) -> float:
    """Return the component of one vector along another times the other's size."""
    return one[0] * other[0] + one[1] * other[1]


def scaled(vector: Vector, factor: float) -> Vector:
    """Return a vector times a number."""
    return vector[0] * factor, vector[1] * factor


def total(vectors: Iterable[Vector]) -> Vector:
    """Return the sum of vectors."""
    east = north = 0.0
    for vector in vectors:
        east += vector[0]
        north += vector[1]
    return east, north


def angle_between(one: Vector, other: Vector) -> Radian:
    """Return the angle between two directions, 0 to pi; 0 where one has no size.

    >>> round(math.degrees(angle_between((0.0, 1.0), (1.0, 0.0))))
    90
    """
    size = hypot(*one) * hypot(*other)
    if size == 0.0:
        return 0.0
    return acos(max(-1.0, min(1.0, dot(one, other) / size)))


# Below this share a force has no component along a direction, only float dust.
NO_COMPONENT = 1e-9


def has_component(force: Vector, way: Vector) -> bool:
    """Whether a force, in units of the pull, would move something along a direction.

    >>> has_component((1.0, 1.0), (1.0, 0.0)), has_component((0.0, 1.0), (1.0, 0.0))
    (True, False)
    """
    return dot(force, way) > NO_COMPONENT * max(1.0, hypot(*force))


def distance(one: Position, other: Position) -> Metre:
    """Return the distance between two places on the plan."""
    return hypot(other[0] - one[0], other[1] - one[1])


def efficiency(pulley: Item) -> Ratio:
    """Return a pulley's efficiency: its own figure before the table's.

    >>> efficiency(Item("block", "pulley-block"))
    0.95
    """
    return table_efficiency(pulley) if pulley.efficiency is None else pulley.efficiency


def table_efficiency(pulley: Item) -> Ratio:
    """Return what the table gives a pulley of its kind and bearing.

    >>> table_efficiency(Item("block", "pulley-block", bearing="plain"))
    0.91
    """
    plain = pulley.kind == "pulley-block" and pulley.bearing == "plain"
    return PULLEY_EFFICIENCY["plain-pulley-block" if plain else pulley.kind]


@dataclass(frozen=True)
class LinePlan:
    """One line laid out: station by station, part by part.

    `tensions` are shares of the pull at the line's start; part i runs from
    station i to station i + 1.
    """

    line: Line
    stations: tuple[str, ...]
    positions: tuple[Position, ...]
    tensions: tuple[Ratio, ...]

    @cached_property
    def directions(self) -> tuple[Vector, ...]:
        """The unit vector of each part, from the start toward the end."""
        return tuple(
            scaled((b[0] - a[0], b[1] - a[1]), 1.0 / distance(a, b))
            for a, b in zip(self.positions, self.positions[1:], strict=False)
        )

    @cached_property
    def lengths(self) -> tuple[Metre, ...]:
        """The length of each part."""
        return tuple(
            distance(a, b) for a, b in zip(self.positions, self.positions[1:], strict=False)
        )

    @property
    def length(self) -> Metre:
        """The length of the whole path."""
        return math.fsum(self.lengths)

    def parts_at(self, station: int, tensions: Sequence[Ratio] | None = None) -> list[Vector]:
        """Return the pull of each part that meets a station, away from it."""
        shares = self.tensions if tensions is None else tensions
        directions = self.directions
        parts = []
        if station > 0:
            parts.append(scaled(directions[station - 1], -shares[station - 1]))
        if station < len(directions):
            parts.append(scaled(directions[station], shares[station]))
        return parts

    def force_at_station(self, station: int) -> Vector:
        """Return the force on a station for each unit of pull."""
        return total(self.parts_at(station))

    def force_at(self, place: str) -> Vector:
        """Return the force on a place for each unit of pull, all its stations together."""
        return total(
            self.force_at_station(i) for i, station in enumerate(self.stations) if station == place
        )

    def stations_on(self, vehicle: str) -> tuple[int, ...]:
        """Return the stations that stand on a vehicle, by number."""
        return tuple(i for i, s in enumerate(self.stations) if s.startswith(f"{vehicle}."))

    def force_on(self, vehicle: str, tensions: Sequence[Ratio] | None = None) -> Vector:
        """Return the force on a vehicle for each unit of pull."""
        parts = (self.parts_at(i, tensions) for i in self.stations_on(vehicle))
        return total(vector for station in parts for vector in station)

    def parts_on(self, vehicle: str) -> int:
        """Return how many line parts bear on a vehicle."""
        return sum(len(self.parts_at(i)) for i in self.stations_on(vehicle))

    def angle_at(self, station: int) -> Radian:
        """Return the angle between the two parts that meet a pulley."""
        before, after = self.parts_at(station, [1.0] * len(self.tensions))
        return angle_between(before, after)


def plan_line(situation: Situation, line: Line) -> LinePlan:
    """Lay out a line.

    With the field rule friction is counted in the pull, so each part carries
    the same share; with vectors the tension falls at each pulley.
    """
    tensions = [1.0]
    for pulley in line.pulleys:
        share = efficiency(situation.gear[pulley.by]) if situation.method == "vector" else 1.0
        tensions.append(tension_after(tensions[-1], share))
    positions = tuple(situation.position(place) for place in line.stations)
    return LinePlan(line, line.stations, positions, tuple(tensions))


def farthest_apart(positions: Sequence[Position]) -> Metre:
    """Return the distance between the two places that stand farthest apart.

    >>> farthest_apart([(0.0, 0.0), (3.0, 4.0), (1.0, 0.0)])
    5.0
    """
    return max(distance(a, b) for a in positions for b in positions)
