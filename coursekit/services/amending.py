"""Changing what the register says of an item or of a type; what it said before is kept.

What is changed passes the same checks as what is registered.  A change of a rule counts
the items of the type anew from their ledgers, in the same transaction.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.services.accounting import BATCH
from coursekit.services.actor import COMPETENT, Actor, Role
from coursekit.services.book import Book, NewEntry, refresh
from coursekit.services.checks import Checks
from coursekit.services.errors import Conflict
from coursekit.services.pull_desk import kit_in_rig
from coursekit.services.recalling import held_by_recall
from coursekit.services.register import (
    NewItem,
    NewType,
    item_row,
    refuse_taken_mark,
    refuse_taken_name,
    refuse_taken_serial,
    require_type,
    type_row,
)
from coursekit.services.used import Used
from coursekit.store import queries, tables
from coursekit.store.queries.changes import ChangedField, ChangeRow
from coursekit.store.queries.kit import TypeRow
from coursekit.store.queries.ledger import entries_of_items
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind, UsedBefore, standing, told_before
from coursekit.wear.status import IN_USE

__all__ = [
    "ChangeRow",
    "ChangedField",
    "ItemChange",
    "TypeChange",
    "TypePast",
    "change_item",
    "change_type",
    "changes_of_item",
    "type_with_past",
]

# Where an item lies and what it cost may change without a word; all else needs a reason.
_NEEDS_NO_REASON = frozenset({"place", "cost_cents"})
_OF_ITEM = ("mark", "serial", "batch", "made", "is_labelled", "place", "cost_cents")
_OF_USE = ("first_used", "used_before")
_NOTHING: Mapping[str, tuple[Any, Any]] = {}
_RATINGS = ("wll", "mbs", "choker", "basket")
_OF_TYPE = (
    "name",
    "material",
    "size",
    *(f"{rating}_marked" for rating in _RATINGS),
    "length_marked",
    "coldest",
    "hottest",
    "instructions",
    "policy",
)
# What a text was read as goes with it.
_READ = (*(f"{rating}_n" for rating in _RATINGS), "length_m")


@dataclass(frozen=True)
class ItemChange:
    """What the register is to say of an item; of `new` its type is passed over.

    `seen` is the version that the form showed; `key` is made by the device, so that what
    is sent twice counts once.
    """

    item_id: int
    seen: int
    new: NewItem
    reason: str
    key: str


@dataclass(frozen=True)
class TypeChange:
    """What the register is to say of a type; of `new` its kind is passed over.

    `seen` is how often it was changed before, as the form showed it.  `is_marked` says
    that a rating that is raised stands so on the label or in the maker's papers.
    """

    type_id: int
    seen: int
    new: NewType
    reason: str
    key: str
    is_marked: bool = False


@dataclass(frozen=True)
class TypePast:
    """A type as it is, how many items it has, and its changes, the newest first."""

    row: TypeRow
    items: int
    changes: tuple[ChangeRow, ...]

    @property
    def version(self) -> int:
        """How often it was changed."""
        return len(self.changes)


def changes_of_item(unit: Unit, actor: Actor, item_id: int) -> tuple[ChangeRow, ...]:
    """Return the changes of an item in the register, the newest first."""
    actor.require(*COMPETENT)
    with unit.read() as session:
        return queries.changes.of_item(session, actor.school_id, item_id)


def type_with_past(unit: Unit, actor: Actor, type_id: int) -> TypePast:
    """Return a type of kit with its changes."""
    actor.require(*COMPETENT)
    with unit.read() as session:
        found = require_type(session, actor, type_id)
        return TypePast(
            queries.kit.type_of(found),
            queries.kit.number_of_type(session, actor.school_id, type_id),
            queries.changes.of_type(session, actor.school_id, type_id),
        )


def change_item(unit: Unit, actor: Actor, change: ItemChange, now: datetime) -> None:
    """Change what the register says of an item; one that comes into a recalled batch is held.

    Raises
    ------
    Problems
        If a field can't be so, nothing differs, or the reason is missing.
    Conflict
        If the item has changed since the form showed it.
    """
    actor.require(Role.STOREKEEPER)
    with unit.write() as session:
        book = Book(session, actor, now)
        if _is_known(session, actor, change.key, (change.item_id, None)):
            return
        row = item_row(actor, change.new, now, book.today)
        item = book.item(change.item_id, change.seen)
        row.type_id = item.type_id
        told = _told_before(session, actor, item.id)
        differing = _differing(item, row, _OF_ITEM, _use_differing(told, change.new.used))
        _check(change.key, change.reason, needs_reason=bool(set(differing) - _NEEDS_NO_REASON))
        refuse_taken_mark(session, row, beside=item.id)
        refuse_taken_serial(session, row, beside=item.id)
        session.add(_kept(actor, change, now, differing, item_id=item.id))
        _take_over(item, row, _OF_ITEM)
        item.version += 1
        entries = [_use_entry(session, change, item)] if set(differing) & set(_OF_USE) else []
        if "batch" in differing and item.status in IN_USE:
            entries += held_by_recall(session, actor.school_id, [item], change.key)
        book.write(entries)


def change_type(unit: Unit, actor: Actor, change: TypeChange, now: datetime) -> None:
    """Change what the register says of a type, and count its items by its rule.

    Raises
    ------
    Problems
        If a field can't be so, nothing differs, the reason is missing, or a rating is
        raised and nobody says that it is marked so.
    Conflict
        If the type has changed since the form showed it.
    """
    actor.require(Role.STOREKEEPER)
    with unit.write() as session:
        Book(session, actor, now)
        if _is_known(session, actor, change.key, (None, change.type_id)):
            return
        found = require_type(session, actor, change.type_id)
        row = type_row(actor, replace(change.new, kind=found.kind), now)
        if len(queries.changes.of_type(session, actor.school_id, found.id)) != change.seen:
            raise Conflict("The type has changed since this form was opened")
        differing = _differing(found, row, _OF_TYPE)
        _check(change.key, change.reason, needs_reason=True, raised=_raised(found, row, change))
        refuse_taken_name(session, row, beside=found.id)
        session.add(_kept(actor, change, now, differing, type_id=found.id))
        _take_over(found, row, (*_OF_TYPE, *_READ))
        session.flush()
        _count_anew(session, actor, found.id)


def _is_known(session: Session, actor: Actor, key: str, of: tuple[int | None, int | None]) -> bool:
    """Whether a change came before; the same key of another item or type is a conflict."""
    found = session.execute(
        select(tables.KitChange.item_id, tables.KitChange.type_id).where(
            tables.KitChange.school_id == actor.school_id, tables.KitChange.key == key
        )
    ).first()
    if found is not None and tuple(found) != of:
        raise Conflict("This was sent before with other content", "Open the form again")
    return found is not None


def _told_before(session: Session, actor: Actor, item_id: int) -> UsedBefore | None:
    """Return what the ledger tells of an item's use before it came, the last of it."""
    ledger = entries_of_items(session, actor.school_id, [item_id])[item_id]
    return told_before(standing(ledger))


def _use_differing(told: UsedBefore | None, used: Used) -> dict[str, tuple[Any, Any]]:
    """Return what is said of the use before where it differs from what is told."""
    was, now = told or UsedBefore(None), used.read() or UsedBefore(None)
    if replace(was, limit=None) == now:
        return {}
    old, new = vars(Used.of(was)), vars(Used.of(now))
    pairs = {name: (_plain(old[name]), _plain(new[name])) for name in _OF_USE}
    return {name: pair for name, pair in pairs.items() if pair[0] != pair[1]}


def _use_entry(session: Session, change: ItemChange, item: tables.KitItem) -> NewEntry:
    """Return the entry that tells the use before anew; the ledger keeps the old one."""
    kit_type = queries.kit.type_of(session.get_one(tables.KitType, item.type_id))
    return NewEntry(
        f"{change.key}/used",
        item.id,
        Kind.EXPOSURE,
        reason=change.reason.strip(),
        detail=change.new.used.detail(kit_in_rig(item, kit_type).limit),
    )


def _differing(
    old: tables.KitItem | tables.KitType,
    new: tables.KitItem | tables.KitType,
    names: tuple[str, ...],
    more: Mapping[str, tuple[Any, Any]] = _NOTHING,
) -> dict[str, tuple[Any, Any]]:
    """Return each field that differs, as it was and as it is to be, and what else does."""
    pairs = {name: (_plain(getattr(old, name)), _plain(getattr(new, name))) for name in names}
    found = {name: pair for name, pair in pairs.items() if pair[0] != pair[1]} | dict(more)
    if not found:
        checks = Checks()
        checks.add("unchanged", "It says so already", "Change what is wrong, or go back")
        checks.done()
    return found


def _plain(value: Any) -> Any:
    return value.isoformat() if hasattr(value, "isoformat") else value


def _raised(old: tables.KitType, new: tables.KitType, change: TypeChange) -> dict[str, str]:
    """Return what there is to say of each rating that is raised, by its field."""
    if change.is_marked:
        return {}
    return {
        name: f"It is raised from {getattr(old, f'{name}_marked') or 'none'} to "
        f"{getattr(new, f'{name}_marked')}, and the maker's rating governs"
        for name in _RATINGS
        if (getattr(new, f"{name}_n") or 0.0) > (getattr(old, f"{name}_n") or 0.0)
    }


def _check(
    key: str, reason: str, *, needs_reason: bool, raised: Mapping[str, str] | None = None
) -> None:
    checks = Checks()
    checks.key("key", key)
    checks.text("reason", reason, needed=needs_reason)
    for field, what in (raised or {}).items():
        checks.add(field, what, "Look at the label, say where it stands, and confirm it below")
    checks.done()


def _kept(
    actor: Actor,
    change: ItemChange | TypeChange,
    now: datetime,
    differing: Mapping[str, tuple[Any, Any]],
    **of: int,
) -> tables.KitChange:
    return tables.KitChange(
        school_id=actor.school_id,
        before={name: before for name, (before, _) in differing.items()},
        after={name: after for name, (_, after) in differing.items()},
        reason=change.reason.strip(),
        key=change.key,
        person_id=actor.person_id,
        changed_at=now,
        **of,
    )


def _take_over(old: Any, new: Any, names: tuple[str, ...]) -> None:
    for name in names:
        setattr(old, name, getattr(new, name))


def _count_anew(session: Session, actor: Actor, type_id: int) -> None:
    items = session.scalars(
        select(tables.KitItem).where(
            tables.KitItem.school_id == actor.school_id, tables.KitItem.type_id == type_id
        )
    ).all()
    for start in range(0, len(items), BATCH):
        batch = items[start : start + BATCH]
        ids = [item.id for item in batch]
        refresh(session, batch, entries_of_items(session, actor.school_id, ids))
