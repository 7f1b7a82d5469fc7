"""The forces that meet at each place of a solved rig: the sides of its force polygon."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coursekit.mechanics.nomenclature import Newton, Radian
from coursekit.rigging.chains.joints import Meeting
from coursekit.rigging.plan import Vector, angle_between, bearing_of, scaled, total
from coursekit.rigging.solver import Solution

# How many parts a place needs before they stand at an angle.
PAIR = 2


@dataclass(frozen=True)
class PartForce:
    """The pull of one line part on a place: its tension, and the place it pulls toward."""

    toward: str
    tension: Newton
    force: Vector

    @property
    def bearing(self) -> Radian:
        """The bearing along which it pulls."""
        return bearing_of(self.force)


@dataclass(frozen=True)
class PlaceForces:
    """The line parts that pull on a place, in the order of the rig, and what they come to."""

    at: str
    parts: tuple[PartForce, ...]
    load: Newton
    turns: bool

    @property
    def resultant(self) -> Vector:
        """The force on the place: east and north."""
        return total(part.force for part in self.parts)

    @property
    def bearing(self) -> Radian:
        """The bearing along which the place is pulled."""
        return bearing_of(self.resultant)

    @property
    def angle(self) -> Radian | None:
        """The angle between the two parts, None where another number of parts meets."""
        if len(self.parts) != PAIR:
            return None
        one, other = (part.force for part in self.parts)
        return angle_between(one, other)


def place_forces(solution: Solution) -> tuple[PlaceForces, ...]:
    """Return the forces at each place whose load is known, in the order of the rig.

    Source: statics; the same line parts as the chain.  Limits: forces on the plan.
    """
    return tuple(
        PlaceForces(
            place.at,
            tuple(part for meeting in here for part in _parts(solution, meeting)),
            place.load,
            any(meeting.is_turn for meeting in here),
        )
        for place in solution.places
        if place.load is not None
        for here in [[m for m in solution.layout.meetings if m.at == place.at]]
    )


def _parts(solution: Solution, meeting: Meeting) -> Iterator[PartForce]:
    plan, station = meeting.loaded.plan, meeting.station
    pull = solution.values[meeting.loaded.key]
    beside = (station - 1, station + 1)
    others = [plan.stations[at] for at in beside if 0 <= at < len(plan.stations)]
    shares = plan.tensions[max(0, station - 1) : station + 1]
    for toward, share, unit in zip(others, shares, plan.parts_at(station), strict=True):
        yield PartForce(toward, pull * share, scaled(unit, pull))
