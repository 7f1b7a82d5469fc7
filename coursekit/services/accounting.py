"""Whether the kept counts agree with the ledger, and whether its chain holds."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from itertools import takewhile

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.services.actor import Actor, Role
from coursekit.services.book import refresh
from coursekit.store import tables
from coursekit.store.chain import first_broken
from coursekit.store.policies import policy_of
from coursekit.store.queries.kit import counts_of
from coursekit.store.queries.ledger import all_rows, entries_of_items
from coursekit.store.queries.schools import locked_school
from coursekit.store.unit import Unit
from coursekit.wear.counting import Counts, count
from coursekit.wear.ledger import Entry
from coursekit.wear.status import status_of


@dataclass(frozen=True)
class Verification:
    """What a look over the whole ledger found; items are named by their marks."""

    entries: int
    first_broken: int | None
    wrong_counts: tuple[str, ...]
    wrong_statuses: tuple[str, ...]

    @property
    def holds(self) -> bool:
        """Whether nothing is wrong."""
        return self.first_broken is None and not self.wrong_counts and not self.wrong_statuses


# Told how many items were gone over, of how many.
Progress = Callable[[int, int], None]
# The ledgers of so many items are held at once.
BATCH = 500

_Kept = tuple[tables.KitItem, tables.KitType, tables.KitCount | None]


def verify(
    unit: Unit, actor: Actor, progress: Progress | None = None, until: datetime | None = None
) -> Verification:
    """Go over the school's whole ledger; the work grows with it, so no page does this.

    Up to an instant it goes over what was recorded by then, and compares the counts of the
    items of which nothing was recorded later: the others are kept as of now.
    """
    actor.require(Role.STOREKEEPER)
    counts, statuses = list[str](), list[str]()
    with unit.read() as session:
        for batch in _batches(_items(session, actor, until), progress):
            ids = [item.id for item, _, _ in batch]
            ledgers = entries_of_items(session, actor.school_id, ids)
            counts += _wrong_counts(batch, ledgers)
            statuses += (i.mark for i, _, _ in batch if status_of(ledgers[i.id]) != i.status)
        return Verification(
            entries=_entries(session, actor, until),
            first_broken=_first_broken(session, actor, until),
            wrong_counts=tuple(counts),
            wrong_statuses=tuple(statuses),
        )


def rebuild(
    unit: Unit, actor: Actor, progress: Progress | None = None, until: datetime | None = None
) -> None:
    """Fold the whole ledger again into counts and statuses, in one transaction.

    Up to an instant only those of the items of which nothing was recorded later.
    """
    actor.require(Role.STOREKEEPER)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        for batch in _batches(_items(session, actor, until), progress):
            items = [item for item, *_ in batch]
            ids = [item.id for item in items]
            refresh(session, items, entries_of_items(session, actor.school_id, ids))
            session.flush()


def _batches(rows: Sequence[_Kept], progress: Progress | None) -> Iterator[Sequence[_Kept]]:
    for start in range(0, len(rows), BATCH):
        batch = rows[start : start + BATCH]
        yield batch
        if progress is not None:
            progress(start + len(batch), len(rows))


def _wrong_counts(batch: Sequence[_Kept], ledgers: dict[int, list[Entry]]) -> Iterator[str]:
    for item, kit_type, kept in batch:
        if kept is None or _fold(ledgers[item.id], kit_type) != counts_of(kept):
            yield item.mark


def _first_broken(session: Session, actor: Actor, until: datetime | None) -> int | None:
    with closing(all_rows(session, actor.school_id)) as rows:
        return first_broken(_recorded_before(rows, until))


def _recorded_before(
    rows: Iterable[tables.LedgerEntry], until: datetime | None
) -> Iterator[tables.LedgerEntry]:
    return takewhile(lambda row: until is None or row.recorded_at < until, rows)


def _entries(session: Session, actor: Actor, until: datetime | None) -> int:
    of_school = tables.LedgerEntry.school_id == actor.school_id
    query = select(func.count()).select_from(tables.LedgerEntry).where(of_school)
    if until is not None:
        query = query.where(tables.LedgerEntry.recorded_at < until)
    return session.scalar(query) or 0


def _fold(ledger: list[Entry], kit_type: tables.KitType) -> Counts:
    return count(ledger, policy_of(kit_type.policy).counting)


def _items(session: Session, actor: Actor, until: datetime | None) -> list[_Kept]:
    query = (
        select(tables.KitItem, tables.KitType, tables.KitCount)
        .join(tables.KitType, tables.KitType.id == tables.KitItem.type_id)
        .outerjoin(tables.KitCount, tables.KitCount.item_id == tables.KitItem.id)
        .where(tables.KitItem.school_id == actor.school_id)
        .order_by(tables.KitItem.mark)
    )
    if until is not None:
        later = select(tables.LedgerEntry.item_id).where(
            tables.LedgerEntry.school_id == actor.school_id, tables.LedgerEntry.recorded_at >= until
        )
        query = query.where(tables.KitItem.id.not_in(later))
    return [(item, kit_type, kept) for item, kit_type, kept in session.execute(query)]
