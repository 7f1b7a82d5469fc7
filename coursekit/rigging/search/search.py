"""`safe_rigs`: every layout that the gear and the site allow, the best rig of each."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from dataclasses import replace

from coursekit.problems import Problems
from coursekit.rigging.chains.hold import holding_share, must_be_held
from coursekit.rigging.plan import NO_COMPONENT, distance, plan_line
from coursekit.rigging.rig import Line, LineEnd
from coursekit.rigging.search.forces import ground_values
from coursekit.rigging.search.found import FoundRig, Search
from coursekit.rigging.search.hunt import Hunt
from coursekit.rigging.search.materials import (
    hold_materials,
    kinetic_materials,
    longest,
    tow_materials,
    winch_materials,
)
from coursekit.rigging.search.pattern import LinePattern, Pattern
from coursekit.rigging.search.stations import (
    MOST_PULLEYS,
    Places,
    Stations,
    holding_stations,
    places_of,
    straight_stations,
    winch_stations,
)
from coursekit.rigging.search.stock import Stock, stock_of
from coursekit.rigging.site import Situation
from coursekit.rigging.soundness import situation_problems

# The bounds of a search: so many rigs solved, and for each so many looks at a layout with its
# pulleys chosen.  Both count work and not time: a search finds the same on every machine.
MOST_SOLVES = 2_000
LOOKS_FOR_SOLVE = 20

Progress = Callable[[int, int], None]
Cancelled = Callable[[], bool]


def safe_rigs(
    situation: Situation,
    *,
    progress: Progress | None = None,
    cancelled: Cancelled | None = None,
    most: int = MOST_SOLVES,
) -> Search:
    """Return the safe rigs that the gear at hand and the site allow, best first.

    One rig stands for each layout: method, stations in order, and what the lines are made
    of, alike lines taken as one.  Every rig that is listed was confirmed by `solve`:
    nothing in it is critical or stops an outcome, and it does the job.

    Parameters
    ----------
    situation : Situation
        Vehicles, ground, anchors and gear at hand.
    progress : callable, optional
        Told how many layouts were examined, and how many of them are safe.
    cancelled : callable, optional
        Asked before each layout; the search ends there once it is true.
    most : int
        How many rigs are solved at most; looks are bounded with them.

    Raises
    ------
    Problems
        If the situation can't be solved whatever the rig.

    Notes
    -----
    Limits: winch lines turn at most three times, at the four most efficient kinds of pulley
    at hand, and have at most two extensions; other
    lines are joined of at most two; a basket is reckoned at 60 deg included; gear that
    is unfit, unrated or has a sharp edge is left out, as are hooks without a latch.
    """
    problems = situation_problems(situation)
    if problems:
        raise Problems(problems)
    hunt = Hunt(situation, stock_of(situation))
    found: list[FoundRig] = []
    examined, is_complete = 0, True
    for pattern in patterns(situation, hunt.stock):
        if _must_end(hunt, most, cancelled):
            is_complete = False
            break
        examined += 1
        best = hunt.best_of(pattern)
        if best is not None:
            found.append(best)
        if progress is not None:
            progress(examined, len(found))
    found.sort(key=lambda rig: rig.rank)
    is_complete = is_complete and not hunt.has_left_out
    return Search(examined, hunt.solves, tuple(found), is_complete)


def _must_end(hunt: Hunt, most: int, cancelled: Cancelled | None) -> bool:
    if hunt.solves >= most or hunt.looks >= LOOKS_FOR_SOLVE * most:
        return True
    return cancelled is not None and cancelled()


def patterns(situation: Situation, stock: Stock) -> Iterator[Pattern]:
    """Yield the layouts of a situation, the plain ones first."""
    places = places_of(situation)
    if must_be_held(situation, ground_values(situation)):
        holds = tuple(_holds(situation, stock, places))
        for pattern in _pulls(situation, stock, places):
            yield from _held(stock, pattern, holds)
    else:
        yield from _pulls(situation, stock, places)


def _pulls(situation: Situation, stock: Stock, places: Places) -> Iterator[Pattern]:
    yield from _winch_pulls(situation, stock, places, 0)
    for stations in straight_stations(places):
        for made_of in tow_materials(stock, _length(situation, stations)):
            yield Pattern("tow", LinePattern(stations, made_of))
    for pulleys in range(1, MOST_PULLEYS + 1):
        yield from _winch_pulls(situation, stock, places, pulleys)
    for stations in straight_stations(places):
        for made_of in kinetic_materials(stock, _length(situation, stations)):
            yield Pattern("kinetic", LinePattern(stations, made_of))


def _winch_pulls(
    situation: Situation, stock: Stock, places: Places, pulleys: int
) -> Iterator[Pattern]:
    if pulleys > sum(len(group.ids) for group in stock.pulleys):
        return
    own_lines = {i for group in stock.alike for i in group.ids}
    for name, vehicle in situation.vehicles():
        winch = vehicle.winch
        if winch is None or winch.line not in own_lines:
            continue
        reach = longest(situation, stock, winch)
        for stations in winch_stations(places, f"{name}.winch", pulleys, reach):
            for made_of in winch_materials(situation, stock, winch, _length(situation, stations)):
                yield Pattern("winch", LinePattern(stations, made_of))


def _holds(situation: Situation, stock: Stock, places: Places) -> Iterator[LinePattern]:
    for stations in holding_stations(places):
        line = Line(stations[0], (), LineEnd(stations[1]), "hold")
        if holding_share(situation, plan_line(situation, line)) > NO_COMPONENT:
            for made_of in hold_materials(stock, _length(situation, stations)):
                yield LinePattern(stations, made_of, "hold")


def _held(stock: Stock, pattern: Pattern, holds: tuple[LinePattern, ...]) -> Iterator[Pattern]:
    """Yield a layout with each line that may hold it, made of what the pull leaves over."""
    alike = {i: group.ids for group in stock.alike for i in group.ids}
    for hold in holds:
        taken = list(pattern.pull.made_of)
        for name in hold.made_of:
            taken += [next((i for i in alike[name] if i not in taken), "")]
        made_of = tuple(taken[len(pattern.pull.made_of) :])
        if all(made_of):
            yield replace(pattern, hold=replace(hold, made_of=made_of))


def _length(situation: Situation, stations: Stations) -> float:
    positions = [situation.position(place) for place in stations]
    return sum(distance(a, b) for a, b in itertools.pairwise(positions))
