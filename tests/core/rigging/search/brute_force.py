"""An independent oracle for the search: every rig of a small kit, one by one, through `solve`.

It knows the limits that the search states and nothing of how it works: every item in every
slot of every chain of places, no reach, no direction, no load looked at beforehand.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import dataclass

from coursekit.rigging.gear import SHACKLES
from coursekit.rigging.rig import Line, LineEnd, Piece, PulleyStation, Rig
from coursekit.rigging.search.fits import BASKET_ANGLE
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import Solution, solve
from coursekit.rigging.soundness import rig_problems

Key = tuple[tuple[str, ...], tuple[str, ...]]
MOST_PULLEYS = 2


@dataclass
class Tally:
    """The best solution of a layout, and how many ways to build it are good."""

    best: Solution
    ways: int = 0


def brute_force(situation: Situation) -> tuple[dict[Key, Tally], int]:
    """Return each winch layout that is good in some way, and how many rigs were solved."""
    found: dict[Key, Tally] = {}
    solves = 0
    for rig in _rigs(situation):
        if rig_problems(situation, rig):
            continue
        solves += 1
        solution = solve(situation, rig)
        if not solution.is_good:
            continue
        line = rig.pull_line
        own = tuple(i for i in line.made_of if situation.gear[i].kind not in SHACKLES)
        tally = found.setdefault((line.stations, own), Tally(solution))
        tally.ways += 1
        if worst(solution) < worst(tally.best):
            tally.best = solution
    return found, solves


def worst(solution: Solution) -> float:
    """Return the worst use of a solution."""
    return solution.weakest.use if solution.weakest else 0.0


def _rigs(situation: Situation) -> Iterator[Rig]:
    shackles = [i for i, item in situation.gear.items() if item.kind in SHACKLES]
    slings = [i for i, item in situation.gear.items() if item.kind == "roundsling"]
    pulleys = [i for i, item in situation.gear.items() if item.kind.startswith("pulley")]
    for stations in _ways(situation):
        places = stations[1:]
        wrapped = [place for place in places if place in ("oak", "elm", "boulder")]
        for by in itertools.permutations(pulleys, len(places) - 1):
            for joined in itertools.permutations(shackles, len(places)):
                for round_them in itertools.permutations(slings, len(wrapped)):
                    yield _rig(stations, by, joined, round_them)


def _ways(situation: Situation) -> Iterator[tuple[str, ...]]:
    """Yield chains of places that turn at most twice, by the rules that the search states."""
    points = [f"{name}.{p}" for name, vehicle in situation.vehicles() for p in vehicle.points]
    for count in range(1, MOST_PULLEYS + 2):
        for places in itertools.product([*situation.anchors, *points], repeat=count):
            if _is_sensible(places):
                yield ("recovery_vehicle.winch", *places)


def _is_sensible(places: tuple[str, ...]) -> bool:
    on_stuck = [place.startswith("stuck") for place in places]
    if not any(on_stuck):
        return False
    first, last = on_stuck.index(True), len(places) - 1 - on_stuck[::-1].index(True)
    lead = places[:first]
    plain_lead = len(set(lead)) == len(lead) and not any("vehicle" in place for place in lead)
    return plain_lead and len(places) - 1 - last <= 1


def _rig(
    stations: tuple[str, ...],
    by: tuple[str, ...],
    joined: tuple[str, ...],
    round_them: tuple[str, ...],
) -> Rig:
    slings = iter(round_them)
    chains = []
    for place, shackle in zip(stations[1:], joined, strict=True):
        chain: tuple[Piece, ...] = (Piece(shackle),)
        if place in ("oak", "elm", "boulder"):
            chain = (Piece(next(slings), "basket", BASKET_ANGLE), *chain)
        chains.append(chain)
    turns = tuple(map(PulleyStation, stations[1:-1], by, chains[:-1]))
    line = Line(stations[0], ("winch-line",), LineEnd(stations[-1], chains[-1]), pulleys=turns)
    return Rig("winch", (line,))
