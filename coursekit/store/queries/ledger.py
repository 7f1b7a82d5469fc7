"""Rows of the ledger as the entries that wear folds over."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from datetime import date
from typing import Any

from sqlalchemy import ScalarResult, Select, select
from sqlalchemy.orm import Session

from coursekit.store.tables import LedgerEntry
from coursekit.wear.ledger import Ending, Entry, Kind, Origin, Pull, Size, UsedBefore


def entry_of(row: LedgerEntry) -> Entry:
    """Return a row as an entry."""
    return Entry(
        key=row.key,
        item=str(row.item_id),
        kind=Kind(row.kind),
        at=row.at,
        day=row.day,
        person=str(row.person_id),
        pull=_pull(row),
        passed=row.passed,
        reverses=row.reverses_key,
        reason=row.reason,
        recorded=row.recorded_at,
        arrival=row.seq,
        of_pull=None if row.pull_id is None else str(row.pull_id),
        of_exposure=row.kind == Kind.QUARANTINED.value and "condition" in row.detail,
        looked_over=bool(row.detail.get("looked")),
        before=_before(row.detail),
    )


def entries_of_items(
    session: Session, school_id: int, item_ids: Collection[int]
) -> dict[int, list[Entry]]:
    """Return the ledger of each of some items: 1 query."""
    rows = session.scalars(
        select(LedgerEntry)
        .where(LedgerEntry.school_id == school_id, LedgerEntry.item_id.in_(item_ids))
        .order_by(LedgerEntry.seq)
    )
    found: dict[int, list[Entry]] = {item_id: [] for item_id in item_ids}
    for row in rows:
        found[row.item_id].append(entry_of(row))
    return found


def all_rows(session: Session, school_id: int) -> ScalarResult[LedgerEntry]:
    """Return a school's whole ledger in its order, a thousand rows at a time; close it."""
    return session.scalars(
        select(LedgerEntry)
        .where(LedgerEntry.school_id == school_id)
        .order_by(LedgerEntry.seq)
        .execution_options(yield_per=1000)
    )


def undone_keys(school_id: int) -> Select[str | None]:
    """Return the query of the keys that a correction took back."""
    return select(LedgerEntry.reverses_key).where(
        LedgerEntry.school_id == school_id, LedgerEntry.kind == Kind.CORRECTION.value
    )


def _before(detail: Mapping[str, Any]) -> UsedBefore | None:
    """Return what an item had been through when it was received, None where nothing is told."""
    told = detail.get("used_before")
    if told is None:
        return None
    return UsedBefore(
        first_used=date.fromisoformat(told["first_used"]) if told["first_used"] else None,
        light=told["light"],
        heavy=told["heavy"],
        count=told["count"],
        limit=told["limit_n"],
    )


def _pull(row: LedgerEntry) -> Pull | None:
    if row.method is None or row.ended is None or row.origin is None:
        return None
    return Pull(
        method=row.method,
        ended=Ending(row.ended),
        origin=Origin(row.origin),
        load=row.load_n,
        limit=row.limit_n,
        declared=None if row.declared is None else Size(row.declared),
    )
