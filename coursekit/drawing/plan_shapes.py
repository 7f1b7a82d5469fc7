"""What stands on the ground: vehicles turned to their heading, anchors by kind."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from coursekit.drawing.plan_frame import Box, Footprint, Frame, Point, heading
from coursekit.rigging.plan import Vector, bearing_of, scaled, total, unit_vector
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.rigging.vehicle import Vehicle

BODY_LENGTH, BODY_WIDTH = 46.0, 22.0
"""A vehicle in units: large enough to be seen, whatever the scale."""
ANCHOR_REACH = 16.0
NOWHERE = 1e-9
"""A direction shorter than this is none."""
REAR_WORDS = ("rear", "back", "tail")


@dataclass(frozen=True)
class Body:
    """A vehicle: its middle, and how far it is turned from facing north."""

    role: str
    x: float
    y: float
    turn: float


@dataclass(frozen=True)
class Mark:
    """An anchor: its kind gives the shape."""

    name: str
    kind: str
    x: float
    y: float


@dataclass(frozen=True)
class Stance:
    """How a vehicle stands: the end that gear is joined to looks along `toward`."""

    role: str
    vehicle: Vehicle
    toward: Vector
    rear_first: bool

    @property
    def middle(self) -> Point:
        """Where its middle lies from the joined end, in units of the sheet."""
        x, y = heading(self.toward)
        return -x * BODY_LENGTH / 2, -y * BODY_LENGTH / 2

    @property
    def turn(self) -> float:
        """Degrees from facing north, clockwise."""
        turned = math.degrees(bearing_of(self.toward)) + (180.0 if self.rear_first else 0.0)
        return round(turned % 360.0, 1)

    @property
    def footprint(self) -> Footprint:
        """What it takes of the sheet, the joined end included."""
        x, y = self.middle
        ux, uy = abs(self.toward[0]), abs(self.toward[1])
        width = ux * BODY_LENGTH + uy * BODY_WIDTH
        height = uy * BODY_LENGTH + ux * BODY_WIDTH
        return Footprint(self.vehicle.at, Box.around((x, y), width, height))

    def body(self, frame: Frame) -> Body:
        """Return it drawn."""
        x, y = frame.place(self.vehicle.at)
        dx, dy = self.middle
        return Body(self.role, round(x + dx, 1), round(y + dy, 1), self.turn)

    def boxes(self, frame: Frame) -> Iterator[Box]:
        """Yield small boxes that cover the body, for labels to keep clear of."""
        x, y = frame.place(self.vehicle.at)
        dx, dy = self.middle
        for share in (0.5, 1.0, 1.5):
            yield Box.around((x + share * dx, y + share * dy), BODY_WIDTH, BODY_WIDTH)


def stances(situation: Situation, rig: Rig | None) -> tuple[Stance, ...]:
    """Return how the vehicles stand: the stuck one along its way out, the other to its line."""
    stuck = situation.stuck
    out = unit_vector(stuck.exit or 0.0)
    found = [Stance("stuck", stuck, out, _rear_first(stuck, "stuck_vehicle", rig))]
    if situation.recovery is not None:
        other = situation.recovery
        toward = _pull_direction(situation, rig) or _unit(_from_to(other.at, stuck.at)) or out
        found.append(Stance("recovery", other, toward, _rear_first(other, "recovery_vehicle", rig)))
    return tuple(found)


def _rear_first(vehicle: Vehicle, role: str, rig: Rig | None) -> bool:
    """Whether its rear looks along the line: by the point in use, else by the points it has."""
    used = [
        place.partition(".")[2]
        for line in (rig.lines if rig else ())
        for place in line.stations
        if place.startswith(f"{role}.")
    ]
    if vehicle.winch is not None and not used:
        return False
    names = used[:1] or list(vehicle.points)
    return bool(names) and all(any(word in name for word in REAR_WORDS) for name in names)


def _pull_direction(situation: Situation, rig: Rig | None) -> Vector | None:
    """Return where the lines leave the recovery vehicle to, None where none does."""
    directions = []
    for line in rig.lines if rig else ():
        forth = list(pairwise(line.stations))
        for here, there in (*forth, *((there, here) for here, there in forth)):
            if here.startswith("recovery_vehicle."):
                way = _from_to(situation.position(here), situation.position(there))
                directions.append(_unit(way) or (0.0, 0.0))
    return _unit(total(directions))


def _from_to(one: Vector, other: Vector) -> Vector:
    return other[0] - one[0], other[1] - one[1]


def _unit(vector: Vector) -> Vector | None:
    size = math.hypot(*vector)
    return scaled(vector, 1 / size) if size > NOWHERE else None
