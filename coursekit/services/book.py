"""Writing into a school's ledger, with the counts that are kept beside it.

Everything that writes to one school's ledger takes turns: the school's row is
locked first, so the chain has no forks and no count is lost.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.problems import Problem, Problems, Where
from coursekit.services.actor import Actor
from coursekit.services.errors import Conflict, NotFound
from coursekit.store import tables
from coursekit.store.chain import FIRST_HASH, seal
from coursekit.store.policies import policy_of
from coursekit.store.queries.ledger import entries_of_items, entry_of
from coursekit.store.queries.schools import locked_school, school_view
from coursekit.wear.counting import count
from coursekit.wear.ledger import Entry, Kind, Pull
from coursekit.wear.status import IN_USE, NotAllowed, Status, move, retirement_of, status_of

NO_FIELDS: Mapping[int, str] = {}


@dataclass(frozen=True)
class NewEntry:
    """One entry that is to be written; `at` None means now."""

    key: str
    item_id: int
    kind: Kind
    at: datetime | None = None
    pull: Pull | None = None
    passed: bool | None = None
    reverses_key: str | None = None
    reason: str = ""
    detail: Mapping[str, Any] = field(default_factory=dict)
    class_id: int | None = None
    pull_id: int | None = None


class Book:
    """A school's ledger, open for one transaction of one person."""

    def __init__(self, session: Session, actor: Actor, now: datetime) -> None:
        self._session = session
        self._actor = actor
        self._now = now
        self._school = school_view(locked_school(session, actor.school_id))

    @property
    def today(self) -> date:
        """The date that the school's calendar shows."""
        return self._school.day_of(self._now)

    def item(self, item_id: int, seen: int | None = None) -> tables.KitItem:
        """Return an item of the school; a version other than the one seen is a conflict."""
        item = self.items([item_id])[item_id]
        if seen is not None and item.version != seen:
            raise Conflict("The item has changed since this form was opened")
        return item

    def items(self, item_ids: Collection[int]) -> dict[int, tables.KitItem]:
        """Return items of the school by id; one that isn't there is not found."""
        rows = self._session.scalars(
            select(tables.KitItem).where(
                tables.KitItem.school_id == self._actor.school_id,
                tables.KitItem.id.in_(item_ids),
            )
        )
        found = {row.id: row for row in rows}
        if missing := set(item_ids) - set(found):
            raise NotFound(f"item ({', '.join(map(str, sorted(missing)))})")
        return found

    def entry(self, key: str) -> tables.LedgerEntry | None:
        """Return the entry of a key, None if there is none yet."""
        return self._session.scalar(
            select(tables.LedgerEntry).where(
                tables.LedgerEntry.school_id == self._actor.school_id,
                tables.LedgerEntry.key == key,
            )
        )

    def has(self, new: NewEntry) -> bool:
        """Whether the entry came before; the same key for something else is a conflict."""
        known = self.entry(new.key)
        if known is None:
            return False
        if not _says(known, new):
            raise Conflict("This was sent before with other content", "Open the form again")
        return True

    def holds_from(self, item_id: int, at: datetime) -> datetime:
        """Return when an item is held from for what happened then, if it is told late.

        It may have been let out since, so it is held from now on, whatever was found then.
        """
        in_use = Status(self.item(item_id).status) in IN_USE
        return max(at, self._now) if in_use else at

    def write(self, entries: Sequence[NewEntry], fields: Mapping[int, str] = NO_FIELDS) -> None:
        """Write entries in their order and bring the items that they touch up to date.

        A move that an item's status doesn't allow is a problem of the item's field,
        which `fields` names by the item's id where it isn't the one of a list of items.
        """
        item_ids = {entry.item_id for entry in entries}
        items = self.items(item_ids)
        ledgers = entries_of_items(self._session, self._actor.school_id, item_ids)
        refused: dict[int, NotAllowed] = {}
        for row in self._chain([self._row(entry) for entry in entries]):
            refusal = _refusal(ledgers[row.item_id], entry_of(row))
            if refusal is not None:
                # What would follow from it is refused as well, and needs no telling.
                refused.setdefault(row.item_id, refusal)
            ledgers[row.item_id].append(entry_of(row))
        if refused:
            raise Problems(
                _move_problem(items[item_id], refusal, fields)
                for item_id, refusal in refused.items()
            )
        refresh(self._session, items.values(), ledgers)
        for item in items.values():
            item.version += 1

    def _row(self, new: NewEntry) -> tables.LedgerEntry:
        at = (new.at or self._now).astimezone(UTC)
        pull = new.pull
        return tables.LedgerEntry(
            school_id=self._actor.school_id,
            key=new.key,
            item_id=new.item_id,
            kind=new.kind.value,
            at=at,
            day=self._school.day_of(at),
            timezone=self._school.timezone,
            person_id=self._actor.person_id,
            class_session_id=new.class_id,
            pull_id=new.pull_id,
            method=pull.method if pull else None,
            ended=pull.ended.value if pull else None,
            origin=pull.origin.value if pull else None,
            load_n=pull.load if pull else None,
            limit_n=pull.limit if pull else None,
            declared=pull.declared.value if pull and pull.declared else None,
            passed=new.passed,
            reverses_key=new.reverses_key,
            reason=new.reason,
            detail=dict(new.detail),
            recorded_at=self._now.astimezone(UTC),
        )

    def _chain(self, rows: list[tables.LedgerEntry]) -> list[tables.LedgerEntry]:
        head = self._session.execute(
            select(tables.LedgerEntry.seq, tables.LedgerEntry.hash)
            .where(tables.LedgerEntry.school_id == self._actor.school_id)
            .order_by(tables.LedgerEntry.seq.desc())
            .limit(1)
        ).first()
        last, last_hash = head or (0, FIRST_HASH)
        for number, row in enumerate(rows, start=last + 1):
            row.seq = number
            seal(row, last_hash)
            last_hash = row.hash
            self._session.add(row)
        self._session.flush()
        return rows


def _says(row: tables.LedgerEntry, new: NewEntry) -> bool:
    """Whether an entry says what is sent again; a detail that is reckoned later isn't sent."""
    told = (row.item_id, row.kind, row.reason, row.passed, row.class_session_id, row.reverses_key)
    sent = (new.item_id, new.kind, new.reason, new.passed, new.class_id, new.reverses_key)
    is_then = new.at is None or row.at == new.at
    return told == sent and is_then and (not new.detail or row.detail == dict(new.detail))


def refresh(
    session: Session, items: Iterable[tables.KitItem], ledgers: Mapping[int, Sequence[Entry]]
) -> None:
    """Bring counts and statuses of items up to date with their ledgers."""
    items = list(items)
    ids = [item.id for item in items]
    types = {
        row.id: row
        for row in session.scalars(
            select(tables.KitType).where(tables.KitType.id.in_({item.type_id for item in items}))
        )
    }
    kept = {
        row.item_id: row
        for row in session.scalars(select(tables.KitCount).where(tables.KitCount.item_id.in_(ids)))
    }
    for item in items:
        row = kept.get(item.id) or tables.KitCount(school_id=item.school_id, item_id=item.id)
        session.add(row)
        _update_count(row, ledgers[item.id], types[item.type_id])
        _update_item(item, ledgers[item.id])


def _update_count(row: tables.KitCount, ledger: Sequence[Entry], kit_type: tables.KitType) -> None:
    counts = count(ledger, policy_of(kit_type.policy).counting)
    row.light, row.heavy = counts.light, counts.heavy
    row.overload, row.unknown = counts.overload, counts.unknown
    row.use = counts.use
    row.first_used, row.last_pull = counts.first_used, counts.last_pull
    row.last_inspected, row.last_looked = counts.last_inspected, counts.last_looked


def _update_item(item: tables.KitItem, ledger: Sequence[Entry]) -> None:
    end = retirement_of(ledger)
    item.status = (status_of(ledger) or Status.IN_STORE).value
    item.retired_on = end.day if end else None
    item.retired_for = end.reason if end else None


def _refusal(ledger: Sequence[Entry], new: Entry) -> NotAllowed | None:
    """Return why the item's status at the time doesn't allow a move, None where it does."""
    if new.kind is Kind.CORRECTION:
        return None
    try:
        move(status_of(e for e in ledger if e.at <= new.at), new.kind)
    except NotAllowed as refusal:
        return refusal
    return None


def _move_problem(item: tables.KitItem, refusal: NotAllowed, fields: Mapping[int, str]) -> Problem:
    where = Where(fields.get(item.id, f"items.{item.id}"))
    mend = "Choose the item that it was, or look at the time, and at the clock of the device"
    return Problem(where, f"{item.mark}: {refusal.reason}", mend)
