"""A move of one item of kit that somebody gives a reason for."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from coursekit.services.actor import Actor
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind


@dataclass(frozen=True)
class Change:
    """A change of an item with its reason.

    `seen` is the version that the form showed; `key` is made by the device, so
    that what is sent twice counts once.
    """

    item_id: int
    seen: int
    reason: str
    key: str


def entry_of(change: Change, kind: Kind) -> NewEntry:
    """Return the entry of a change, or raise what is wrong with its reason."""
    checks = Checks()
    checks.key("key", change.key)
    reason = checks.text("reason", change.reason)
    checks.done()
    return NewEntry(change.key, change.item_id, kind, reason=reason)


def record(unit: Unit, actor: Actor, change: Change, kind: Kind, now: datetime) -> None:
    """Write a change that brings nothing else with it."""
    new = entry_of(change, kind)
    with unit.write() as session:
        book = Book(session, actor, now)
        if not book.has(new):
            book.item(change.item_id, change.seen)
            book.write([new])
