"""What the planned pulls of a class ask of the kit: of each type, and of each item of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from coursekit.rigging.rig import Rig
from coursekit.services.loads import Felt, felt_loads
from coursekit.services.planning import ClassPlan, PlannedScenario
from coursekit.services.pull_desk import kit_in_rig
from coursekit.store.queries.kit import ItemRow
from coursekit.wear.ledger import Ending
from coursekit.wear.planning import Enough, PlannedPulls, enough, sharing
from coursekit.wear.policy import size_of

__all__ = ["Demand", "demand"]


@dataclass(frozen=True)
class Demand:
    """The pulls of each type, by its id, and how many of its items take turns."""

    planned: Mapping[int, tuple[PlannedPulls, ...]]
    sharing: Mapping[int, int]

    def of(self, row: ItemRow) -> Enough:
        """Return what is asked of one item, and whether it has enough left."""
        type_id = row.type.id
        items = self.sharing.get(type_id, 1)
        return enough(self.planned.get(type_id, ()), row.due.left.use, items)

    def shared_by(self, rows: Iterable[ItemRow]) -> Demand:
        """Return the same day where these items are there to take turns."""
        lefts: dict[int, list[float | None]] = {}
        for row in rows:
            lefts.setdefault(row.type.id, []).append(row.due.left.use)
        turns = {key: sharing(self.planned.get(key, ()), found) for key, found in lefts.items()}
        return Demand(self.planned, turns)


def demand(plan: ClassPlan, rows: Iterable[ItemRow]) -> Demand:
    """Return what a plan asks of the types of some items, each item doing all by itself."""
    types = {row.type.id: row for row in rows}
    planned = {
        type_id: tuple(_planned(one, row) for one in plan.scenarios if _has_place(one, row))
        for type_id, row in types.items()
    }
    return Demand(planned, {})


def _planned(one: PlannedScenario, row: ItemRow) -> PlannedPulls:
    """Return the pulls of a scenario as an item feels them where it is worn most."""
    counting = row.type.policy.counting
    worst = max(
        (felt.pull for rig in one.rigs for felt in _felt(one, rig, row)),
        key=lambda pull: (counting.weight(pull), pull.share or 0.0),
    )
    return PlannedPulls(
        pulls=one.left,
        places=max(_places(one, rig)[row.kind] for rig in one.rigs),
        added=counting.weight(worst),
        size=size_of(worst, counting.heavy_from),
    )


def _has_place(one: PlannedScenario, row: ItemRow) -> bool:
    return any(_places(one, rig)[row.kind] for rig in one.rigs)


def _places(one: PlannedScenario, rig: Rig) -> Counter[str]:
    gear = one.scenario.situation.gear
    return Counter(gear[name].kind for name in dict.fromkeys(rig.items()))


def _felt(one: PlannedScenario, rig: Rig, row: ItemRow) -> Iterator[Felt]:
    situation, names = one.scenario.situation, dict.fromkeys(rig.items())
    kit = kit_in_rig(row, row.type)
    for name in names:
        if situation.gear[name].kind == row.kind:
            yield from felt_loads(situation, rig, {**names, name: kit}, Ending.CAME_FREE)
