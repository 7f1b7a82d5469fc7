"""The register as it stood on a day that is past: the ledger folded up to that day."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from sqlalchemy.orm import Session

from coursekit.services.accounting import BATCH
from coursekit.services.actor import Actor, Role
from coursekit.store import queries
from coursekit.store.queries.kit import ItemRow, as_folded
from coursekit.store.queries.ledger import entries_of_items
from coursekit.store.unit import Unit

__all__ = ["folded", "items_on"]


def items_on(unit: Unit, actor: Actor, on: date, today: date) -> tuple[ItemRow, ...]:
    """Return the school's kit as it stood at the end of a day, by mark.

    What was not in the register yet is left out.  Ratings, rules and places are those of
    now.  For today and later the counts are those of now: what is pulled until then adds.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        rows = queries.kit.items(session, actor.school_id, on)
        return tuple(folded(session, actor, rows, on, today))


def folded(
    session: Session, actor: Actor, rows: Sequence[ItemRow], on: date, today: date
) -> Iterator[ItemRow]:
    """Yield items as they stood on a day, those that were there; from today on as they are."""
    if on >= today:
        yield from rows
        return
    for start in range(0, len(rows), BATCH):
        batch = rows[start : start + BATCH]
        ledgers = entries_of_items(session, actor.school_id, [row.id for row in batch])
        for row in batch:
            there = [entry for entry in ledgers[row.id] if entry.day <= on]
            if there:
                yield as_folded(row, there, on)
