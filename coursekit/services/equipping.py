"""Equipping a class: a safe rig of each scenario out of what is fit and has enough left.

A rig is equipped only once it was solved with the ratings of the school's own items and
nothing in it stops.  Where none of the file's rigs can be equipped, the search looks for
another; what that one asks of the kit is planned for too.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from coursekit.mechanics.nomenclature import Ratio
from coursekit.rigging.findings import Finding
from coursekit.rigging.gear import Item
from coursekit.rigging.rig import Rig
from coursekit.rigging.search import safe_rigs
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import solve
from coursekit.scenario.model import Scenario
from coursekit.services.demand import Demand, demand
from coursekit.services.planning import ClassPlan, PlannedScenario
from coursekit.services.pull_desk import kit_in_rig
from coursekit.store.queries.kit import ItemRow
from coursekit.wear.planning import fewest_items
from coursekit.wear.status import Status

__all__ = ["Equipped", "RigOnList", "equip", "kinds_of"]

# The search for another rig solves at most so many: a page waits for it.
_MOST_SOLVES = 300
NO_USES: Mapping[str, Ratio] = {}


@dataclass(frozen=True)
class RigOnList:
    """A scenario with the rig that the list equips, and the store's item for each of its gear.

    Without a rig the store can't equip a safe one: `lacking` are the kinds that it
    has too few of, `stops` what stops the rig that it could equip.
    """

    planned: PlannedScenario
    rig: Rig | None = None
    items: Mapping[str, ItemRow] = field(default_factory=dict)
    lacking: tuple[str, ...] = ()
    stops: tuple[Finding, ...] = ()

    @property
    def scenario(self) -> Scenario:
        """The scenario."""
        return self.planned.scenario

    @property
    def unmeasured(self) -> tuple[ItemRow, ...]:
        """Items whose length the scenario states and the register doesn't: it is not checked."""
        gear = self.scenario.situation.gear
        return tuple(
            row
            for name, row in self.items.items()
            if gear[name].length is not None and row.type.metres is None
        )


@dataclass(frozen=True)
class Equipped:
    """The rigs of a class and what they are made of.

    `plan` has the rigs that the search found beside those of the files; `day` is what it
    asks of the kit.  `able` may go out and have enough left for it, and so have those
    `serving` that are out with the class.
    """

    plan: ClassPlan
    day: Demand
    rigs: tuple[RigOnList, ...]
    able: tuple[ItemRow, ...]
    serving: tuple[ItemRow, ...]


def kinds_of(plan: ClassPlan) -> set[str]:
    """Return the kinds of gear that the scenarios of a class know."""
    return {item.kind for one in plan.scenarios for item in one.scenario.situation.gear.values()}


def equip(plan: ClassPlan, rows: Sequence[ItemRow], out: Collection[int]) -> Equipped:
    """Return the rigs that a class can be given out of some items; `out` are with it already."""
    at_hand = [row for row in rows if row.id in out and row.status == Status.OUT]
    fit = [row for row in rows if row.due.may_go_out]
    day = _shared(demand(plan, rows), at_hand, fit)
    able = tuple(row for row in fit if day.of(row).is_enough)
    serving = tuple(row for row in at_hand if day.of(row).is_enough)
    rigs = tuple(_equipped(plan, [*_weakest_first(serving), *_weakest_first(able)]))
    meant = replace(plan, scenarios=tuple(map(_with_found, rigs)))
    if meant == plan:
        return Equipped(plan, day, rigs, able, serving)
    # A rig was found that the plan didn't know: it wears items too, so all is looked at anew.
    return equip(meant, rows, out)


def _with_found(one: RigOnList) -> PlannedScenario:
    if one.rig is None or one.rig in one.planned.rigs:
        return one.planned
    return replace(one.planned, rigs=(*one.planned.rigs, one.rig))


def _shared(alone: Demand, at_hand: Sequence[ItemRow], fit: Sequence[ItemRow]) -> Demand:
    """Return the day where as few more go out as have to take turns."""
    now = alone.shared_by(at_hand)
    lefts: dict[int, list[float | None]] = {}
    for row in (*at_hand, *fit):
        lefts.setdefault(row.type.id, []).append(row.due.left.use)
    turns = {
        type_id: max(now.sharing.get(type_id, 1), fewest_items(alone.planned[type_id], left) or 1)
        for type_id, left in lefts.items()
    }
    return Demand(alone.planned, turns)


def _equipped(plan: ClassPlan, able: Sequence[ItemRow]) -> Iterator[RigOnList]:
    """Yield each scenario with its rig; what one rig took serves the next too."""
    taken: list[ItemRow] = []
    for one in plan.scenarios:
        first = [*_weakest_first(taken), *(row for row in able if row not in taken)]
        found = (
            _from_file(one, first) or _from_search(one, first) or _short(one, first)
            if one.is_meant
            else RigOnList(one)
        )
        taken += [row for row in found.items.values() if row not in taken]
        yield found


def _from_file(one: PlannedScenario, able: Sequence[ItemRow]) -> RigOnList | None:
    situation = one.scenario.situation
    for rig in one.rigs:
        names = dict.fromkeys(rig.items())
        kit = _matched(situation, names, able, _uses(situation, rig))
        is_whole = len(kit) == len(names)
        if is_whole and not solve(_with_kit(situation, kit), rig).stops:
            return RigOnList(one, rig, kit)
    return None


def _from_search(one: PlannedScenario, able: Sequence[ItemRow]) -> RigOnList | None:
    situation = one.scenario.situation
    kit = _matched(situation, situation.gear, able)
    ours = _with_kit(situation, kit)
    at_hand = replace(ours, gear={name: item for name, item in ours.gear.items() if name in kit})
    if any(winch not in kit for winch in _drum_lines(at_hand)):
        return None
    best = next(iter(safe_rigs(at_hand, most=_MOST_SOLVES).rigs), None)
    if best is None:
        return None
    used = {name: kit[name] for name in dict.fromkeys(best.rig.items())}
    return RigOnList(one, best.rig, used)


def _drum_lines(situation: Situation) -> Iterator[str]:
    for _, vehicle in situation.vehicles():
        if vehicle.winch is not None:
            yield vehicle.winch.line


def _matched(
    situation: Situation,
    names: Iterable[str],
    able: Sequence[ItemRow],
    uses: Mapping[str, Ratio] = NO_USES,
) -> dict[str, ItemRow]:
    """Return the store's item for each name that it has one for; none serves twice.

    What has to be strongest is chosen first, so that what is strong enough for it doesn't go
    where less would do: the first of `able` that is strong enough, else the strongest.
    `uses` are the shares of what is planned with that a rig takes.
    """

    def needed(name: str) -> tuple[float, ...]:
        planned = situation.gear[name]
        wll, mbs, length = _known(planned.wll, planned.mbs, planned.length)
        use = uses.get(name, 1.0)
        return wll * use, mbs * use, length

    found: dict[str, ItemRow] = {}
    for name in sorted(names, key=needed, reverse=True):
        item = situation.gear[name]
        free = [row for row in able if row.kind == item.kind and row not in found.values()]
        enough = (row for row in free if not _falls_short(row, item))
        if free:
            found[name] = next(enough, None) or max(free, key=_strength)
    return found


def _uses(situation: Situation, rig: Rig) -> dict[str, Ratio]:
    """Return what share of its limit each item of a rig bears, as it is planned."""
    values = solve(situation, rig).values
    uses = {name: values.get(f"item.{name}.use") for name in dict.fromkeys(rig.items())}
    return {name: use for name, use in uses.items() if use is not None}


def _weakest_first(rows: Iterable[ItemRow]) -> list[ItemRow]:
    return sorted(rows, key=_strength)


def _strength(row: ItemRow) -> tuple[float, ...]:
    """Return what tells of two items of a kind the stronger: WLL, MBS, length."""
    return _known(row.type.rating("wll"), row.type.rating("mbs"), row.type.metres)


def _known(*figures: float | None) -> tuple[float, ...]:
    return tuple(figure or 0.0 for figure in figures)


def _falls_short(row: ItemRow, item: Item) -> bool:
    """Whether a rating or the length lies below what the scenario plans with.

    Without a length in the register it is not looked at.
    """
    if item.length is not None and row.type.metres is not None and row.type.metres < item.length:
        return True
    pairs = ((item.wll, row.type.rating("wll")), (item.mbs, row.type.rating("mbs")))
    return any(planned and (ours is None or ours < planned) for planned, ours in pairs)


def _with_kit(situation: Situation, kit: Mapping[str, ItemRow]) -> Situation:
    gear = {
        name: kit_in_rig(kit[name], kit[name].type).rated(item) if name in kit else item
        for name, item in situation.gear.items()
    }
    return replace(situation, gear=gear)


def _short(one: PlannedScenario, able: Sequence[ItemRow]) -> RigOnList:
    """Return why the first safe rig of a file can't be equipped."""
    situation, rig = one.scenario.situation, one.rigs[0]
    gear, names = situation.gear, dict.fromkeys(rig.items())
    kit = _matched(situation, names, able, _uses(situation, rig))
    lacking = {gear[name].kind for name in names if name not in kit}
    stops = () if lacking else solve(_with_kit(situation, kit), rig).stops
    return RigOnList(one, lacking=tuple(sorted(lacking)), stops=stops)
