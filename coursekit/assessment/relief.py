"""What would hold in the place of that which does not, of what is at hand."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from typing import Any

from coursekit.assessment.bench import Bench
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Message, Problems
from coursekit.rigging.rules.finding import Finding
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import Solution

_OF_AN_ITEM = frozenset({"over-limit", "unrated", "no-wll", "unfit", "sharp-edge"})
_OF_AN_ANCHOR = frozenset({"anchor-overloaded"})
# What may take the place of another kind.
_ALIKE = (
    frozenset({"bow-shackle", "soft-shackle"}),
    frozenset({"roundsling", "tree-strap"}),
    frozenset({"pulley-block", "pulley-ring"}),
    frozenset({"kinetic-rope", "kinetic-strap"}),
)
_MOST_NAMED = 3


def relief(bench: Bench, solution: Solution, found: Finding) -> Message | None:
    """Return what at hand would hold, put in place of what was found; None where nothing would.

    Each is put into the rig, and the rig is solved: nothing may stop it that did not before.
    """
    before = _stopped(solution) - {_key(found)}
    holding = [
        other
        for old, other in _others(solution, found)
        if _stopped_with(bench, solution, old, other) <= before
    ]
    if not holding:
        return None
    text = "Of what is at hand this would hold in its place: {gear}."
    return Message(text, {"gear": ", ".join(holding[:_MOST_NAMED])})


def _others(solution: Solution, found: Finding) -> Iterator[tuple[str, str]]:
    """Yield what could change places: what is in the rig, and what is not."""
    situation, at, item = solution.situation, found.at, found.item
    if found.rule in _OF_AN_ANCHOR and at is not None:
        used = {place for line in solution.rig.lines for place in line.stations}
        yield from ((at, other) for other in situation.anchors if other not in used)
    elif found.rule in _OF_AN_ITEM and item is not None:
        used = set(solution.rig.items())
        others = _points(situation, item) or _gear_like(situation, item)
        yield from ((item, other) for other in others if other not in used)


def _points(situation: Situation, item: str) -> list[str]:
    """Return the other points of the vehicle that a point is on; none where it is none."""
    vehicle = situation.vehicle_at(item)
    if vehicle is None:
        return []
    side = item.partition(".")[0]
    return [name for point in vehicle.points if (name := f"{side}.{point}") != item]


def _gear_like(situation: Situation, item: str) -> list[str]:
    if item not in situation.gear:
        return []
    kind = situation.gear[item].kind
    kinds = next((alike for alike in _ALIKE if kind in alike), frozenset({kind}))
    return [name for name, other in situation.gear.items() if other.kind in kinds]


_Key = tuple[str, str | None]


def _key(found: Finding) -> _Key:
    return found.rule, found.item or found.at


def _stopped(solution: Solution) -> set[_Key]:
    return {_key(stop) for stop in solution.stops}


def _stopped_with(bench: Bench, solution: Solution, old: str, new: str) -> set[_Key]:
    try:
        return _stopped(bench.solution(_changed(solution.rig, old, new)))
    except (Problems, OutOfRange):
        return {("unsolved", new)}


def _changed(part: Any, old: str, new: str) -> Any:
    """Return a rig, or a part of one, with one name in place of another."""
    if isinstance(part, tuple):
        return tuple(_changed(one, old, new) for one in part)
    if is_dataclass(part) and not isinstance(part, type):
        changes = {f.name: _changed(getattr(part, f.name), old, new) for f in fields(part)}
        return replace(part, **changes)
    return new if part == old else part
