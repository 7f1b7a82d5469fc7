"""Recall: every item of a batch is taken out of use in one step."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound
from coursekit.store import queries
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind
from coursekit.wear.status import Status

__all__ = ["Recall", "batch", "recall"]

_GONE = (Status.RETIRED, Status.LOST)


@dataclass(frozen=True)
class Recall:
    """A batch that is recalled, and why; the key makes it count once."""

    batch: str
    reason: str
    key: str


def batch(unit: Unit, actor: Actor, name: str, today: date) -> tuple[ItemRow, ...]:
    """Return every item of a batch, those that are gone too, by mark."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        found = queries.kit.items_of_batch(session, actor.school_id, name, today)
    if not found:
        raise NotFound("batch")
    return found


def recall(unit: Unit, actor: Actor, new: Recall, now: datetime) -> int:
    """Put a batch into quarantine, what is out with a class too; return how many items moved.

    What is in quarantine already gets the recall beside its own reason, so that
    whoever releases it sees both.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    checks = Checks()
    checks.key("key", new.key)
    reason = checks.text("reason", new.reason)
    checks.done()
    with unit.write() as session:
        book = Book(session, actor, now)
        today = now.astimezone(ZoneInfo(book.timezone)).date()
        rows = queries.kit.items_of_batch(session, actor.school_id, new.batch, today)
        if not rows:
            raise NotFound("batch")
        entries = [
            NewEntry(f"{new.key}/{row.id}", row.id, Kind.QUARANTINED, reason=reason)
            for row in rows
            if row.status not in _GONE
        ]
        unsent = [entry for entry in entries if not book.has(entry)]
        if unsent:
            book.write(unsent)
        return len(unsent)
