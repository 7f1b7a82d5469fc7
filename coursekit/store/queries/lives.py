"""The life of one item, line by line, and the items that retired."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any

from sqlalchemy import extract, func, select
from sqlalchemy.orm import Session

from coursekit.store.queries.ledger import entry_of
from coursekit.store.tables import ClassSession, KitItem, KitType, LedgerEntry, Person
from coursekit.wear.counting import Line, explain, use_before
from coursekit.wear.ledger import Entry, Kind, Pull, UsedBefore, standing
from coursekit.wear.policy import Counting

# In the detail of a retirement: the id of who saw the item destroyed.
WITNESS = "witness_id"
# Where it stood before, with a name.
_WITNESS_NAME = "witness"


@dataclass(frozen=True)
class LifeLine:
    """One entry of an item's ledger as it is shown; `counted` where it adds to the count.

    `witness` is who saw the item destroyed; `brought` is the use count that an item came
    with, by what it was `before`.
    """

    entry_id: int
    at: datetime
    day: date
    kind: str
    by: str
    class_title: str | None
    pull: Pull | None
    pull_id: int | None
    passed: bool | None
    reason: str
    detail: dict[str, Any]
    witness: str
    counted: Line | None
    before: UsedBefore | None
    brought: float
    is_reversed: bool
    is_late: bool


@dataclass(frozen=True)
class RetiredRow:
    """How many items of a kind retired in a year, and why; common reasons first."""

    kind: str
    year: int
    count: int
    reasons: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class RetiredItem:
    """One item that retired: when, and why."""

    id: int
    mark: str
    on: date
    reason: str


def life(
    session: Session, school_id: int, item_id: int, counting: Counting
) -> tuple[LifeLine, ...]:
    """Return an item's ledger by the time of the event: 1 query, and 1 where it was destroyed."""
    rows = session.execute(
        select(LedgerEntry, Person.name, ClassSession.title)
        .join(Person, Person.id == LedgerEntry.person_id)
        .outerjoin(ClassSession, ClassSession.id == LedgerEntry.class_session_id)
        .where(LedgerEntry.school_id == school_id, LedgerEntry.item_id == item_id)
        .order_by(LedgerEntry.at, LedgerEntry.seq)
    ).all()
    entries = {row.key: entry_of(row) for row, _, _ in rows}
    counted = {line.key: line for line in explain(entries.values(), counting)}
    brought = _brought(entries.values(), counting)
    undone = {row.reverses_key for row, _, _ in rows}
    lines = (
        LifeLine(
            entry_id=row.id,
            at=row.at,
            day=row.day,
            kind=Kind(row.kind).value,
            by=name,
            class_title=title,
            pull=entries[row.key].pull,
            pull_id=row.pull_id,
            passed=row.passed,
            reason=row.reason,
            detail=row.detail,
            witness=row.detail.get(_WITNESS_NAME, ""),
            counted=counted.get(row.key),
            before=entries[row.key].before,
            brought=brought.get(row.key, 0.0),
            is_reversed=row.key in undone,
            is_late=entries[row.key].is_late,
        )
        for row, name, title in rows
    )
    seen_by = _witnesses(session, school_id, [row.detail for row, _, _ in rows])
    return tuple(
        replace(line, witness=seen_by[line.detail[WITNESS]]) if WITNESS in line.detail else line
        for line in lines
    )


def retired(session: Session, school_id: int) -> tuple[RetiredRow, ...]:
    """Return the retirement count by kind and year, the newest year first: 1 query."""
    year = extract("year", KitItem.retired_on)
    rows = session.execute(
        select(KitType.kind, year, KitItem.retired_for, func.count())
        .join(KitType, KitType.id == KitItem.type_id)
        .where(KitItem.school_id == school_id, KitItem.retired_on.is_not(None))
        .group_by(KitType.kind, year, KitItem.retired_for)
    ).all()
    found: dict[tuple[int, str], Counter[str]] = {}
    for kind, in_year, reason, number in rows:
        found.setdefault((int(in_year), kind), Counter())[reason or ""] += number
    return tuple(
        RetiredRow(kind, in_year, reasons.total(), tuple(reasons.most_common()))
        for (in_year, kind), reasons in sorted(found.items(), key=lambda e: (-e[0][0], e[0][1]))
    )


def retired_items(
    session: Session, school_id: int, kind: str, year: int
) -> tuple[RetiredItem, ...]:
    """Return the items of a kind that retired in a year, by the day: 1 query."""
    rows = session.execute(
        select(KitItem.id, KitItem.mark, KitItem.retired_on, KitItem.retired_for)
        .join(KitType, KitType.id == KitItem.type_id)
        .where(
            KitItem.school_id == school_id,
            KitType.kind == kind,
            extract("year", KitItem.retired_on) == year,
        )
        .order_by(KitItem.retired_on, KitItem.mark)
    )
    return tuple(
        RetiredItem(item_id, mark, on, reason or "") for item_id, mark, on, reason in rows if on
    )


def _brought(entries: Collection[Entry], counting: Counting) -> dict[str, float]:
    """Return the use count that an item came with, by the entry that told of it last."""
    told = [entry.key for entry in standing(entries) if entry.before is not None]
    return {told[-1]: use_before(entries, counting)} if told else {}


def _witnesses(
    session: Session, school_id: int, details: Iterable[dict[str, Any]]
) -> dict[int, str]:
    """Return the names of those who saw something destroyed, as they stand now."""
    ids = {detail[WITNESS] for detail in details if WITNESS in detail}
    if not ids:
        return {}
    of_school = Person.school_id == school_id
    rows = session.execute(select(Person.id, Person.name).where(of_school, Person.id.in_(ids)))
    return {row.id: row.name for row in rows}
