"""Pulls made on the day: the load that marks a student is the load that wears the item.

A pull of a rig writes one entry for every item of the rig, and what follows
from it, in one transaction.  The kit's own ratings go into the rig that is
solved, so that each item's share is of its own limit.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from coursekit.rigging.rig import RIG_METHODS
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound
from coursekit.services.loads import felt_loads, rig_meant
from coursekit.services.preparing import require_version
from coursekit.services.pull_desk import (
    DECLARED_SIZES,
    DeclaredPull,
    PullDesk,
    PullReport,
    RigPull,
    chosen_in,
)
from coursekit.services.versions import scenario_of
from coursekit.store import queries, tables
from coursekit.store.queries.kit import ItemRow
from coursekit.store.queries.pulls import PullLine, PullRow
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Ending, Size

__all__ = [
    "DeclaredPull",
    "PullLine",
    "PullReport",
    "PullRow",
    "RigItem",
    "RigPull",
    "check_pull",
    "pull_report",
    "pulls_of_class",
    "record_declared_pull",
    "record_rig_pull",
    "rig_items",
]


@dataclass(frozen=True)
class RigItem:
    """One item of a rig, and the school's items that may have been it."""

    gear_id: str
    kind: str
    candidates: tuple[ItemRow, ...]


def rig_items(
    unit: Unit,
    actor: Actor,
    version_id: int,
    rig: str | Mapping[str, Any],
    today: date,
    chosen: Collection[int] = (),
) -> tuple[RigItem, ...]:
    """Return the items of a rig with the school's items of the same kinds.

    What is retired or lost is left out, unless a form that is sent has it `chosen`.
    """
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        version = require_version(session, actor, version_id)
        situation = scenario_of(version.document, {}).situation
        gear = dict.fromkeys(rig_meant(scenario_of(version.document, {}), rig).items())
        kinds = {situation.gear[name].kind for name in gear}
        kit = queries.kit.items_of_kinds(session, actor.school_id, kinds, today)
    return tuple(_rig_item(name, situation.gear[name].kind, kit, chosen) for name in gear)


def record_rig_pull(unit: Unit, actor: Actor, pull: RigPull, now: datetime) -> PullReport:
    """Record a pull of a rig: an entry for each of its items, and what follows."""
    actor.require(Role.INSTRUCTOR)
    check_pull(pull.ended, pull.key, pull.at, now)
    with unit.write() as session:
        desk = PullDesk(session, actor, now)
        known = desk.known(pull)
        if known is not None:
            return desk.report(known, was_there=True)
        version = require_version(session, actor, pull.version_id)
        scenario = scenario_of(version.document, {})
        rig = rig_meant(scenario, pull.rig)
        kit = desk.kit_in_rig(pull.items)
        felt = felt_loads(scenario.situation, rig, kit, Ending(pull.ended))
        record = desk.add(pull, rig.method)
        return desk.write(record, felt, chosen_in(pull))


def record_declared_pull(unit: Unit, actor: Actor, pull: DeclaredPull, now: datetime) -> PullReport:
    """Record a pull of one item whose load is only known as light or heavy."""
    actor.require(Role.INSTRUCTOR, Role.STOREKEEPER)
    check_pull(pull.ended, pull.key, pull.at, now, method=pull.method, size=pull.size)
    with unit.write() as session:
        desk = PullDesk(session, actor, now)
        known = desk.known(pull)
        if known is not None:
            return desk.report(known, was_there=True)
        felt = desk.declared(pull)
        record = desk.add(pull, pull.method)
        return desk.write(record, [felt], {pull.item_id: "item_id"})


def pull_report(unit: Unit, actor: Actor, pull_id: int) -> PullReport:
    """Return what a recorded pull did to the kit."""
    actor.require(Role.INSTRUCTOR, Role.STOREKEEPER)
    with unit.read() as session:
        record = session.get(tables.PullRecord, pull_id)
        if record is None or record.school_id != actor.school_id:
            raise NotFound("pull")
        return PullReport(pull_id, queries.pulls.lines_of_pull(session, actor.school_id, pull_id))


def pulls_of_class(unit: Unit, actor: Actor, class_id: int) -> tuple[PullRow, ...]:
    """Return the pulls of a class, the newest first."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        return queries.pulls.pulls_of_class(session, actor.school_id, class_id)


def check_pull(
    ended: str,
    key: str,
    at: datetime | None,
    now: datetime,
    method: str = RIG_METHODS[0],
    size: str = Size.LIGHT,
) -> None:
    """Raise what is wrong with how a pull is told."""
    checks = Checks()
    checks.key("key", key)
    checks.choice("ended", ended, tuple(Ending))
    checks.choice("method", method, RIG_METHODS)
    checks.choice("size", size, DECLARED_SIZES)
    checks.happened("at", at, now)
    checks.done()


def _rig_item(name: str, kind: str, kit: tuple[ItemRow, ...], chosen: Collection[int]) -> RigItem:
    living = (
        item
        for item in kit
        if item.kind == kind and (item.status not in ("retired", "lost") or item.id in chosen)
    )
    # What may go out is most likely what went out.
    return RigItem(name, kind, tuple(sorted(living, key=lambda item: not item.due.may_go_out)))
