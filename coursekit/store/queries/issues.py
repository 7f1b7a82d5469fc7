"""What is out with which class, by the ledger."""

from __future__ import annotations

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.store.queries.ledger import undone_keys
from coursekit.store.tables import ClassSession, LedgerEntry
from coursekit.wear.ledger import Kind

_MOVES = (Kind.ISSUED.value, Kind.RETURNED.value)


def out_with(session: Session, school_id: int, class_id: int) -> frozenset[int]:
    """Return the items that were issued to a class and have not come back from it: 1 query."""
    rows = session.execute(
        select(LedgerEntry.item_id, LedgerEntry.kind)
        .where(
            LedgerEntry.school_id == school_id,
            LedgerEntry.class_session_id == class_id,
            LedgerEntry.kind.in_(_MOVES),
            LedgerEntry.key.not_in(undone_keys(school_id)),
        )
        .order_by(LedgerEntry.at, LedgerEntry.seq)
    )
    last = {int(item_id): kind for item_id, kind in rows}
    return frozenset(item_id for item_id, kind in last.items() if kind == Kind.ISSUED.value)


def class_of(session: Session, school_id: int, item_id: int) -> tuple[int, str] | None:
    """Return the class that an item was issued to last, with its title: 1 query."""
    found = session.execute(
        select(ClassSession.id, ClassSession.title)
        .join(LedgerEntry, LedgerEntry.class_session_id == ClassSession.id)
        .where(
            LedgerEntry.school_id == school_id,
            LedgerEntry.item_id == item_id,
            LedgerEntry.kind == Kind.ISSUED.value,
        )
        .order_by(LedgerEntry.at.desc(), LedgerEntry.seq.desc())
        .limit(1)
    ).first()
    return None if found is None else (found[0], found[1])


def open_classes(session: Session, school_id: int) -> tuple[tuple[int, str], ...]:
    """Return the classes that are open, the newest first, with their titles: 1 query."""
    rows = session.execute(
        select(ClassSession.id, ClassSession.title)
        .where(ClassSession.school_id == school_id, ClassSession.status == "open")
        .order_by(ClassSession.on.desc(), ClassSession.id.desc())
    )
    return tuple((class_id, title) for class_id, title in rows)
