"""The kit list of a class: what it needs for a safe rig of each scenario, out of what is fit.

A rig is on the list only once it was solved with the ratings of the school's own
items and nothing in it stops.  Where none of the file's rigs can be equipped, the
search looks for another.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from sqlalchemy.orm import Session

from coursekit.rigging.findings import Finding
from coursekit.rigging.gear import Item
from coursekit.rigging.rig import Rig
from coursekit.rigging.search import safe_rigs
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import solve
from coursekit.scenario.model import Scenario
from coursekit.services.actor import Actor, Role
from coursekit.services.errors import NotFound
from coursekit.services.loads import KitInRig, felt_loads
from coursekit.services.versions import scenario_of
from coursekit.store import queries
from coursekit.store.queries.classes import ClassHead
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Ending
from coursekit.wear.status import Status

__all__ = ["KitList", "RigOnList", "Wanted", "day_use", "has_enough", "kit_list", "wanted"]

MOST_PULLS = 12
# The search for another rig solves at most so many: a page waits for it.
_MOST_SOLVES = 300
_GONE = (Status.RETIRED, Status.LOST)


@dataclass(frozen=True)
class Wanted:
    """What a class means to do: its scenarios, each pulled so often."""

    scenarios: tuple[Scenario, ...]
    pulls: int


@dataclass(frozen=True)
class RigOnList:
    """A scenario with the rig that the list equips, and the store's item for each of its gear.

    Without a rig the store can't equip a safe one: `lacking` are the kinds that it
    has too few of, `stops` what stops the rig that it could equip.  A scenario is
    `meant` to be pulled where its file has a safe rig.
    """

    scenario: Scenario
    rig: Rig | None = None
    items: Mapping[str, ItemRow] = field(default_factory=dict)
    lacking: tuple[str, ...] = ()
    stops: tuple[Finding, ...] = ()
    is_meant: bool = True


@dataclass(frozen=True)
class KitList:
    """The list of a class: what to issue, what is out with it, and what has to stay."""

    head: ClassHead
    pulls: int
    rigs: tuple[RigOnList, ...]
    proposed: tuple[ItemRow, ...]
    spares: tuple[ItemRow, ...]
    held: tuple[ItemRow, ...]
    spent: tuple[ItemRow, ...]
    out: tuple[ItemRow, ...]


def kit_list(unit: Unit, actor: Actor, class_id: int, pulls: int, today: date) -> KitList:
    """Return what a class needs of the store, each scenario being pulled so often."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        head = queries.classes.head(session, actor.school_id, class_id)
        if head is None:
            raise NotFound("class")
        plan = wanted(session, class_id, pulls)
        rows = queries.kit.items_of_kinds(session, actor.school_id, _kinds(plan), today)
        out = queries.issues.out_with(session, actor.school_id, class_id)
        every = queries.kit.items(session, actor.school_id, today) if out else ()
    use = day_use(plan, rows)
    fit = [row for row in rows if row.due.may_go_out]
    able = [row for row in fit if has_enough(row, use)]
    with_class = tuple(row for row in every if row.id in out)
    rigs = tuple(_equipped(plan, [*with_class, *able]))
    chosen = {row.id: row for one in rigs for row in one.items.values() if row.id not in out}
    return KitList(
        head=head,
        pulls=plan.pulls,
        rigs=rigs,
        proposed=tuple(chosen.values()),
        spares=tuple(row for row in able if row.id not in chosen),
        held=tuple(row for row in rows if _is_held(row)),
        spent=tuple(row for row in fit if not has_enough(row, use)),
        out=with_class,
    )


def wanted(session: Session, class_id: int, pulls: int) -> Wanted:
    """Return what a class means to do: 1 query."""
    rows = queries.classes.scenarios(session, class_id)
    scenarios = tuple(scenario_of(row.document, {}) for row in rows)
    return Wanted(scenarios, max(1, min(pulls, MOST_PULLS)))


def day_use(plan: Wanted, rows: Iterable[ItemRow]) -> dict[int, float]:
    """Return what the day's pulls would add to the use count of each type, by the type's id.

    An item is taken to be in every pull that an item of its kind is in, where it is
    worn most.  Types without a use count are left out.
    """
    types = {row.type.id: row for row in rows if row.use_limit is not None}
    return {
        type_id: plan.pulls * sum(_worst(one, row) for one in plan.scenarios)
        for type_id, row in types.items()
    }


def has_enough(row: ItemRow, use: Mapping[int, float]) -> bool:
    """Whether an item has enough left for the day's pulls."""
    left = row.due.left.use
    return left is None or use.get(row.type.id, 0.0) <= left


def _worst(scenario: Scenario, row: ItemRow) -> float:
    kit = kit_in_rig(row)
    added = [
        row.type.policy.counting.weight(felt.pull)
        for rig in _safe(scenario)
        for name in dict.fromkeys(rig.items())
        if scenario.situation.gear[name].kind == row.kind
        for felt in felt_loads(
            scenario.situation,
            rig,
            {**dict.fromkeys(rig.items()), name: kit},
            Ending.CAME_FREE,
        )
    ]
    return max(added, default=0.0)


def kit_in_rig(row: ItemRow) -> KitInRig:
    """Return an item of the register as a rig needs it."""
    return KitInRig(
        item_id=row.id,
        mark=row.mark,
        kind=row.kind,
        material=row.type.material,
        wll=row.type.rating("wll"),
        mbs=row.type.rating("mbs"),
        is_labelled=row.is_labelled,
    )


def _safe(scenario: Scenario) -> Iterator[Rig]:
    for rig in scenario.rigs.values():
        if not solve(scenario.situation, rig).stops:
            yield rig


def _kinds(plan: Wanted) -> set[str]:
    return {item.kind for one in plan.scenarios for item in one.situation.gear.values()}


def _is_held(row: ItemRow) -> bool:
    return row.status not in (*_GONE, Status.OUT) and not row.due.may_go_out


def _equipped(plan: Wanted, able: Sequence[ItemRow]) -> Iterator[RigOnList]:
    """Yield each scenario with its rig; what one rig took serves the next too."""
    taken: list[ItemRow] = []
    for scenario in plan.scenarios:
        first = [*taken, *(row for row in able if row not in taken)]
        rigs = tuple(_safe(scenario))
        if rigs:
            found = (
                _from_file(scenario, rigs, first)
                or _from_search(scenario, first)
                or _short(scenario, rigs[0], first)
            )
        else:
            found = RigOnList(scenario, is_meant=False)
        taken += [row for row in found.items.values() if row not in taken]
        yield found


def _from_file(
    scenario: Scenario, rigs: Sequence[Rig], able: Sequence[ItemRow]
) -> RigOnList | None:
    for rig in rigs:
        names = dict.fromkeys(rig.items())
        kit = _matched(scenario.situation, names, able)
        is_whole = len(kit) == len(names)
        if is_whole and not solve(_with_kit(scenario.situation, kit), rig).stops:
            return RigOnList(scenario, rig, kit)
    return None


def _from_search(scenario: Scenario, able: Sequence[ItemRow]) -> RigOnList | None:
    kit = _matched(scenario.situation, scenario.situation.gear, able)
    ours = _with_kit(scenario.situation, kit)
    at_hand = replace(ours, gear={name: item for name, item in ours.gear.items() if name in kit})
    if any(winch not in kit for winch in _drum_lines(at_hand)):
        return None
    best = next(iter(safe_rigs(at_hand, most=_MOST_SOLVES).rigs), None)
    if best is None:
        return None
    used = {name: kit[name] for name in dict.fromkeys(best.rig.items())}
    return RigOnList(scenario, best.rig, used)


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


def _short(scenario: Scenario, rig: Rig, able: Sequence[ItemRow]) -> RigOnList:
    """Return why the first safe rig of a file can't be equipped."""
    gear, names = scenario.situation.gear, dict.fromkeys(rig.items())
    kit = _matched(scenario.situation, names, able)
    lacking = {gear[name].kind for name in names if name not in kit}
    stops = () if lacking else solve(_with_kit(scenario.situation, kit), rig).stops
    return RigOnList(scenario, lacking=tuple(sorted(lacking)), stops=stops)
