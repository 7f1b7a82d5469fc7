"""How long a line is since it was spliced anew: its own length goes before that of its type."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Any

from sqlalchemy import Subquery, func, select
from sqlalchemy.orm import Session

from coursekit.store.queries.ledger import undone_keys
from coursekit.store.tables import LedgerEntry
from coursekit.wear.ledger import Kind


def newest_repairs(school_id: int) -> Subquery:
    """Return the detail of each item's newest repair that stands, as `age` 1."""
    newest = (LedgerEntry.at.desc(), LedgerEntry.seq.desc())
    age = func.row_number().over(partition_by=LedgerEntry.item_id, order_by=newest)
    return (
        select(LedgerEntry.item_id, LedgerEntry.detail.label("repair"), age.label("age"))
        .where(
            LedgerEntry.school_id == school_id,
            LedgerEntry.kind == Kind.REPAIRED.value,
            LedgerEntry.key.not_in(undone_keys(school_id)),
        )
        .subquery()
    )


def repairs_of(
    session: Session, school_id: int, item_ids: Collection[int]
) -> dict[int, Mapping[str, Any]]:
    """Return the detail of the newest repair of some items, by item: 1 query."""
    found = newest_repairs(school_id)
    query = select(found.c.item_id, found.c.repair).where(found.c.age == 1)
    rows = session.execute(query.where(found.c.item_id.in_(item_ids)))
    return {row.item_id: row.repair for row in rows}
