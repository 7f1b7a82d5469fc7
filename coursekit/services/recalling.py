"""Recall: every item of a batch is taken out of use in one step."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound
from coursekit.store import queries, tables
from coursekit.store.queries.kit import ItemRow
from coursekit.store.queries.ledger import undone_keys
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind
from coursekit.wear.status import AWAY

__all__ = ["Recall", "batch", "held_by_recall", "recall"]

# In the detail of a quarantine: the batch that was recalled.
_RECALL = "recall"


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
        rows = queries.kit.items_of_batch(session, actor.school_id, new.batch, book.today)
        if not rows:
            raise NotFound("batch")
        entries = [
            NewEntry(
                f"{new.key}/{row.id}",
                row.id,
                Kind.QUARANTINED,
                reason=reason,
                detail={_RECALL: new.batch},
            )
            for row in rows
            if row.status not in AWAY
        ]
        unsent = [entry for entry in entries if not book.has(entry)]
        if unsent:
            book.write(unsent)
        return len(unsent)


def held_by_recall(
    session: Session, school_id: int, items: Iterable[tables.KitItem], key: str = "recalled"
) -> list[NewEntry]:
    """Return the quarantine of each item that comes into a batch which was recalled: 1 query.

    A recall stands until every entry of it was reversed; `key` begins those of the entries.
    """
    of_batch = [item for item in items if item.batch]
    reasons = _recalled(session, school_id, {item.batch for item in of_batch})
    return [
        NewEntry(
            f"{key}/{item.id}",
            item.id,
            Kind.QUARANTINED,
            reason=reasons[item.batch],
            detail={_RECALL: item.batch},
        )
        for item in of_batch
        if item.batch in reasons
    ]


def _recalled(session: Session, school_id: int, batches: set[str]) -> dict[str, str]:
    """Return why each of these batches was recalled last; those that never were are left out."""
    row = tables.LedgerEntry
    rows = session.execute(
        select(row.detail, row.reason)
        .where(
            row.school_id == school_id,
            row.kind == Kind.QUARANTINED.value,
            row.detail[_RECALL].as_string().in_(batches),
            row.key.not_in(undone_keys(school_id)),
        )
        .order_by(row.seq)
    )
    return {detail[_RECALL]: reason for detail, reason in rows}
