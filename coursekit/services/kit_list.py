"""The kit list of a class: what it needs for a safe rig of each scenario, out of what is fit.

What has too little left for the pulls that are planned is proposed only beside others of
its type, when they can share them.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date

from coursekit.services.actor import Actor, Role
from coursekit.services.class_head import head_of
from coursekit.services.equipping import Equipped, RigOnList, equip, kinds_of
from coursekit.services.planning import ClassPlan, plan_of
from coursekit.store import queries
from coursekit.store.queries.classes import ClassHead
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.planning import Enough
from coursekit.wear.status import AWAY, Status

__all__ = ["KitList", "RigOnList", "kit_list"]


@dataclass(frozen=True)
class KitList:
    """The list of a class: what to issue, what is out with it, and what has to stay.

    `spares` have enough left too; `short` are fit but have too little left for a whole
    day's pulls.  `enough` tells of each item, by its id, what is planned for it; `asked_for`
    are those that were asked for, wherever they are.
    """

    head: ClassHead
    plan: ClassPlan
    rigs: tuple[RigOnList, ...]
    proposed: tuple[ItemRow, ...]
    spares: tuple[ItemRow, ...]
    short: tuple[ItemRow, ...]
    held: tuple[ItemRow, ...]
    out: tuple[ItemRow, ...]
    asked_for: tuple[ItemRow, ...]
    enough: Mapping[int, Enough]


def kit_list(
    unit: Unit, actor: Actor, class_id: int, today: date, asked_for: Collection[int] = ()
) -> KitList:
    """Return what a class needs of the store; what is asked for stands on it whatever its kind."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        head = head_of(session, actor.school_id, class_id)
        plan = plan_of(session, actor.school_id, class_id)
        out_ids = queries.issues.out_with(session, actor.school_id, class_id)
        alike = queries.kit.items_of_kinds(session, actor.school_id, kinds_of(plan), today)
        others = {*out_ids, *asked_for} - {row.id for row in alike}
        rows = (*alike, *queries.kit.items_of_ids(session, actor.school_id, others, today))
    # What was lost or retired on the day waits for no return: its own page tells what to do.
    out = tuple(row for row in rows if row.id in out_ids and row.status not in AWAY)
    found = equip(plan, rows, out_ids)
    chosen = _chosen(found)
    return KitList(
        head=head,
        plan=found.plan,
        rigs=found.rigs,
        proposed=chosen,
        spares=tuple(row for row in found.able if row not in chosen),
        short=tuple(row for row in rows if row.due.may_go_out and row not in found.able),
        held=tuple(row for row in rows if _is_held(row)),
        out=out,
        asked_for=tuple(row for row in rows if row.id in asked_for),
        enough={row.id: found.day.of(row) for row in rows},
    )


def _chosen(found: Equipped) -> tuple[ItemRow, ...]:
    """Return what the rigs take out of the store, and who has to take turns with it."""
    in_rigs = {row.id: row for one in found.rigs for row in one.items.values()}
    chosen = {row.id: row for row in in_rigs.values() if row not in found.serving}
    for type_id in {row.type.id for row in in_rigs.values()}:
        turns = found.day.of(next(r for r in in_rigs.values() if r.type.id == type_id)).sharing
        there = [row for row in (*found.serving, *chosen.values()) if row.type.id == type_id]
        free = [row for row in found.able if row.type.id == type_id and row.id not in chosen]
        chosen |= {row.id: row for row in free[: max(0, turns - len(there))]}
    return tuple(chosen.values())


def _is_held(row: ItemRow) -> bool:
    return row.status not in AWAY | {Status.OUT} and not row.due.may_go_out
