"""The places that a line may meet, in order: straight, past anchors, to and fro.

A winch line turns at most three times.  Before it first reaches the stuck vehicle it
may turn at anchors, each once; from there on it goes to and fro between the vehicle and
what stands still, with turns at different places on the way; and behind the vehicle it
ends at once: a turn there would bend the line and help nobody.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from coursekit.rigging.plan import distance
from coursekit.rigging.rules.items import NO_RECOVERY_POINTS
from coursekit.rigging.site import Situation
from coursekit.rigging.soundness import SHORTEST_PART

MOST_PULLEYS = 3
STUCK, RECOVERY = "stuck_vehicle", "recovery_vehicle"
Stations = tuple[str, ...]


@dataclass(frozen=True)
class Places:
    """Where gear may be joined: points fit for recovery, and anchors."""

    situation: Situation
    stuck: Stations
    recovery: Stations
    anchors: Stations

    def apart(self, one: str, other: str) -> float | None:
        """Return the distance between two places; None where they are the same."""
        gap = distance(self.situation.position(one), self.situation.position(other))
        return gap if gap >= SHORTEST_PART else None


def places_of(situation: Situation) -> Places:
    """Return the places of a situation where an experienced hand would join anything."""
    points = {
        name: tuple(
            f"{name}.{point}"
            for point, item in vehicle.points.items()
            if not (item.condition or item.is_unrated or item.lacks_wll)
            and item.kind not in NO_RECOVERY_POINTS
        )
        for name, vehicle in situation.vehicles()
    }
    return Places(situation, points[STUCK], points.get(RECOVERY, ()), tuple(situation.anchors))


def straight_stations(places: Places) -> Iterator[Stations]:
    """Yield the ways of a snatch or a tow: from a point of one vehicle to one of the other."""
    for start in places.recovery:
        for end in places.stuck:
            if places.apart(start, end) is not None:
                yield start, end


def holding_stations(places: Places) -> Iterator[Stations]:
    """Yield the ways of a line that holds the vehicle back."""
    for start in (*places.anchors, *places.recovery):
        for end in places.stuck:
            if places.apart(start, end) is not None:
                yield start, end


def winch_stations(places: Places, start: str, pulleys: int, reach: float) -> Iterator[Stations]:
    """Yield the ways of a winch line that turns so many times and is no longer than `reach`."""
    yield from _on_from(places, (start,), pulleys + 1, reach)


def _on_from(places: Places, way: Stations, left: int, reach: float) -> Iterator[Stations]:
    if left == 0:
        if any(_is_stuck(place) for place in way):
            yield way
        return
    for place in _next_places(places, way, left):
        gap = places.apart(way[-1], place)
        if gap is not None and gap <= reach:
            yield from _on_from(places, (*way, place), left - 1, reach - gap)


def _next_places(places: Places, way: Stations, left: int) -> Iterator[str]:
    """Yield where a line may go next that has so many stations left to meet."""
    run = _run_of_fixed(way)
    has_met_stuck = len(run) < len(way) and any(_is_stuck(place) for place in way)
    if not _is_stuck(way[-1]):
        yield from places.stuck
    if not has_met_stuck and left == 1:
        return
    # Behind the vehicle the line ends at its first fixed place, or comes back to it.
    if left == 1 and run:
        return
    fixed = (*places.anchors, *places.recovery) if has_met_stuck else places.anchors
    yield from (place for place in fixed if place not in run)


def _run_of_fixed(way: Stations) -> Stations:
    """Return the places since the stuck vehicle was last met, the start included."""
    last = max((i for i, place in enumerate(way) if _is_stuck(place)), default=-1)
    return way[last + 1 :]


def _is_stuck(place: str) -> bool:
    return place.startswith(f"{STUCK}.")
