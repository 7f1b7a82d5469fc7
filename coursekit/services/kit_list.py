"""The kit list of a class: what it needs for a safe rig of each scenario, out of what is fit.

A rig is on the list only once it was solved with the ratings of the school's own
items and nothing in it stops.  Where none of the file's rigs can be equipped, the
search looks for another.  What has too little left for the pulls that are planned is
proposed only beside others of its type, when they can share them.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from coursekit.rigging.findings import Finding
from coursekit.rigging.gear import Item
from coursekit.rigging.rig import Rig
from coursekit.rigging.search import safe_rigs
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import solve
from coursekit.scenario.model import Scenario
from coursekit.services.actor import Actor, Role
from coursekit.services.demand import Demand, demand, kit_in_rig
from coursekit.services.errors import NotFound
from coursekit.services.planning import ClassPlan, PlannedScenario, plan_of
from coursekit.store import queries
from coursekit.store.queries.classes import ClassHead
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.planning import Enough, fewest_items
from coursekit.wear.status import Status

__all__ = ["KitList", "RigOnList", "kit_list"]

# The search for another rig solves at most so many: a page waits for it.
_MOST_SOLVES = 300
_GONE = (Status.RETIRED, Status.LOST)


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


@dataclass(frozen=True)
class KitList:
    """The list of a class: what to issue, what is out with it, and what has to stay.

    `spares` have enough left too; `short` are fit but have too little left for a whole
    day's pulls.  `enough` tells of each item, by its id, what is planned for it.
    """

    head: ClassHead
    plan: ClassPlan
    rigs: tuple[RigOnList, ...]
    proposed: tuple[ItemRow, ...]
    spares: tuple[ItemRow, ...]
    short: tuple[ItemRow, ...]
    held: tuple[ItemRow, ...]
    out: tuple[ItemRow, ...]
    enough: Mapping[int, Enough]


def kit_list(
    unit: Unit, actor: Actor, class_id: int, today: date, asked_for: Iterable[int] = ()
) -> KitList:
    """Return what a class needs of the store; what is asked for stands on it whatever its kind."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        head = queries.classes.head(session, actor.school_id, class_id)
        if head is None:
            raise NotFound("class")
        plan = plan_of(session, actor.school_id, class_id)
        out_ids = queries.issues.out_with(session, actor.school_id, class_id)
        alike = queries.kit.items_of_kinds(session, actor.school_id, _kinds(plan), today)
        others = {*out_ids, *asked_for} - {row.id for row in alike}
        rows = (*alike, *queries.kit.items_of_ids(session, actor.school_id, others, today))
    out = tuple(row for row in rows if row.id in out_ids)
    at_hand = [row for row in out if row.status == Status.OUT]
    fit = tuple(row for row in rows if row.due.may_go_out)
    alone = demand(plan, rows)
    shared = _shared(alone, at_hand, fit)
    able = [row for row in fit if shared.of(row).is_enough]
    serving = [row for row in at_hand if shared.of(row).is_enough]
    rigs = tuple(_equipped(plan, [*serving, *able]))
    chosen = _chosen(rigs, shared, able, serving)
    return KitList(
        head=head,
        plan=plan,
        rigs=rigs,
        proposed=chosen,
        spares=tuple(row for row in able if row not in chosen),
        short=tuple(row for row in fit if row not in able),
        held=tuple(row for row in rows if _is_held(row)),
        out=out,
        enough={row.id: shared.of(row) for row in rows},
    )


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


def _chosen(
    rigs: Sequence[RigOnList], shared: Demand, able: Sequence[ItemRow], serving: Sequence[ItemRow]
) -> tuple[ItemRow, ...]:
    """Return what the rigs take out of the store, and who has to take turns with it."""
    in_rigs = {row.id: row for one in rigs for row in one.items.values()}
    chosen = {row.id: row for row in in_rigs.values() if row not in serving}
    for type_id in {row.type.id for row in in_rigs.values()}:
        turns = shared.of(next(r for r in in_rigs.values() if r.type.id == type_id)).sharing
        there = [row for row in (*serving, *chosen.values()) if row.type.id == type_id]
        free = [row for row in able if row.type.id == type_id and row.id not in chosen]
        chosen |= {row.id: row for row in free[: max(0, turns - len(there))]}
    return tuple(chosen.values())


def _kinds(plan: ClassPlan) -> set[str]:
    return {item.kind for one in plan.scenarios for item in one.scenario.situation.gear.values()}


def _is_held(row: ItemRow) -> bool:
    return row.status not in (*_GONE, Status.OUT) and not row.due.may_go_out


def _equipped(plan: ClassPlan, able: Sequence[ItemRow]) -> Iterator[RigOnList]:
    """Yield each scenario with its rig; what one rig took serves the next too."""
    taken: list[ItemRow] = []
    for one in plan.scenarios:
        first = [*taken, *(row for row in able if row not in taken)]
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
        kit = _matched(situation, names, able)
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
    situation: Situation, names: Iterable[str], able: Sequence[ItemRow]
) -> dict[str, ItemRow]:
    """Return the store's item for each name that it has one for; none serves twice."""
    found: dict[str, ItemRow] = {}
    for name in names:
        item = situation.gear[name]
        free = [row for row in able if row.kind == item.kind and row not in found.values()]
        if free:
            found[name] = min(free, key=lambda row: _too_weak(row, item))
    return found


def _too_weak(row: ItemRow, item: Item) -> bool:
    """Whether a rating lies below what the scenario plans with; the first that isn't is taken."""
    pairs = ((item.wll, row.type.rating("wll")), (item.mbs, row.type.rating("mbs")))
    return any(planned and (ours is None or ours < planned) for planned, ours in pairs)


def _with_kit(situation: Situation, kit: Mapping[str, ItemRow]) -> Situation:
    gear = {
        name: kit_in_rig(kit[name]).rated(item) if name in kit else item
        for name, item in situation.gear.items()
    }
    return replace(situation, gear=gear)


def _short(one: PlannedScenario, able: Sequence[ItemRow]) -> RigOnList:
    """Return why the first safe rig of a file can't be equipped."""
    situation, rig = one.scenario.situation, one.rigs[0]
    gear, names = situation.gear, dict.fromkeys(rig.items())
    kit = _matched(situation, names, able)
    lacking = {gear[name].kind for name in names if name not in kit}
    stops = () if lacking else solve(_with_kit(situation, kit), rig).stops
    return RigOnList(one, lacking=tuple(sorted(lacking)), stops=stops)
