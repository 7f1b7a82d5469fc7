"""What is out with which class, by the ledger."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import ColumnElement, func, select
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
            *_standing_moves(school_id),
        )
        .order_by(LedgerEntry.at, LedgerEntry.seq)
    )
    last = {int(item_id): kind for item_id, kind in rows}
    return frozenset(item_id for item_id, kind in last.items() if kind == Kind.ISSUED.value)


def classes_with(
    session: Session, school_id: int, item_ids: Iterable[int]
) -> dict[int, tuple[int, str]]:
    """Return the class that each of some items has not come back from, by item: 1 query."""
    newest = (LedgerEntry.at.desc(), LedgerEntry.seq.desc())
    moves = (
        select(
            LedgerEntry.item_id,
            LedgerEntry.kind,
            LedgerEntry.class_session_id,
            func.row_number().over(partition_by=LedgerEntry.item_id, order_by=newest).label("age"),
        )
        .where(
            LedgerEntry.school_id == school_id,
            LedgerEntry.item_id.in_(list(item_ids)),
            LedgerEntry.class_session_id.is_not(None),
            *_standing_moves(school_id),
        )
        .subquery()
    )
    rows = session.execute(
        select(moves.c.item_id, ClassSession.id, ClassSession.title)
        .join(ClassSession, ClassSession.id == moves.c.class_session_id)
        .where(moves.c.age == 1, moves.c.kind == Kind.ISSUED.value)
    )
    return {item_id: (class_id, title) for item_id, class_id, title in rows}


def open_classes(session: Session, school_id: int) -> tuple[tuple[int, str], ...]:
    """Return the classes that are open, the newest first, with their titles: 1 query."""
    rows = session.execute(
        select(ClassSession.id, ClassSession.title)
        .where(ClassSession.school_id == school_id, ClassSession.status == "open")
        .order_by(ClassSession.on.desc(), ClassSession.id.desc())
    )
    return tuple((class_id, title) for class_id, title in rows)


def _standing_moves(school_id: int) -> tuple[ColumnElement[bool], ...]:
    return LedgerEntry.kind.in_(_MOVES), LedgerEntry.key.not_in(undone_keys(school_id))
