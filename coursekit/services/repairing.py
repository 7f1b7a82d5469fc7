"""Kit that was lost, found again, or repaired: what the store can't see by itself.

What was lost and is back, and what was repaired, waits in quarantine until it passed an
examination and another competent person released it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Session

from coursekit.rigging.gear import SYNTHETIC_LINES, TEXTILE
from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.services.errors import Refused
from coursekit.services.marked import length_marked
from coursekit.services.moves import Change, entry_of, record
from coursekit.services.recalling import held_by_recall
from coursekit.store import queries, tables
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind

__all__ = ["Change", "Repair", "find", "is_repairable", "is_spliced", "lose", "repair"]


@dataclass(frozen=True)
class Repair:
    """What was repaired; a line that was spliced anew tells its length and its certificate."""

    item_id: int
    seen: int
    done: str
    key: str
    length: str = ""
    certificate: str = ""


def is_repairable(kind: str) -> bool:
    """Whether an item of a kind is ever repaired: straps, slings and soft shackles never are.

    >>> is_repairable("bow-shackle"), is_repairable("winch-line"), is_repairable("roundsling")
    (True, True, False)
    """
    return kind not in TEXTILE


def is_spliced(kind: str) -> bool:
    """Whether a repair of a kind is a new splice, with a new length and a new certificate.

    >>> is_spliced("winch-line"), is_spliced("hook")
    (True, False)
    """
    return kind in SYNTHETIC_LINES


def lose(unit: Unit, actor: Actor, change: Change, now: datetime) -> None:
    """Record that nobody knows where an item is."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    record(unit, actor, change, Kind.LOST, now)


def find(unit: Unit, actor: Actor, change: Change, now: datetime) -> None:
    """Take back an item that was lost, into quarantine; no class has it any more.

    Where its batch was recalled, that stands beside it as with the others.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    there = entry_of(change, Kind.RECEIVED)
    with unit.write() as session:
        book = Book(session, actor, now)
        if not book.has(there):
            item = book.item(change.item_id, change.seen)
            recalled = held_by_recall(session, actor.school_id, [item], change.key)
            book.write([there, *_back_from(session, actor, change), *recalled])


def repair(unit: Unit, actor: Actor, new: Repair, now: datetime) -> None:
    """Record the repair of an item in quarantine; it is examined before it is released.

    Raises
    ------
    Refused
        If its kind is never repaired.
    Problems
        If it is not in quarantine, or a spliced line tells no length or no certificate.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.write() as session:
        book = Book(session, actor, now)
        item = book.item(new.item_id)
        entry = _repaired(new, session.get_one(tables.KitType, item.type_id).kind)
        if not book.has(entry):
            book.item(new.item_id, new.seen)
            book.write([entry])


def _back_from(session: Session, actor: Actor, change: Change) -> list[NewEntry]:
    """Return the return of an item that a class had when it was lost."""
    item_id = change.item_id
    with_class = queries.issues.classes_with(session, actor.school_id, [item_id])
    if item_id not in with_class:
        return []
    class_id, _title = with_class[item_id]
    return [NewEntry(f"{change.key}/back", item_id, Kind.RETURNED, class_id=class_id)]


def _repaired(new: Repair, kind: str) -> NewEntry:
    if not is_repairable(kind):
        what = "Straps, slings, kinetic ropes and soft shackles are never repaired"
        raise Refused(what, "Retire it")
    checks = Checks()
    checks.key("key", new.key)
    done = checks.text("reason", new.done)
    detail = _spliced(checks, new) if is_spliced(kind) else {}
    checks.done()
    return NewEntry(new.key, new.item_id, Kind.REPAIRED, reason=done, detail=detail)


def _spliced(checks: Checks, new: Repair) -> dict[str, str | float]:
    """Return the new length and certificate of a line; each must be there."""
    length = length_marked(checks, "length", new.length)
    if not new.length.strip():
        checks.add("length", "A splice takes from its length", "Measure the line and write it")
    certificate = checks.line("certificate", new.certificate)
    if length is None:
        return {}
    text, metres = length
    return {"length": text, "metres": metres, "certificate": certificate}
