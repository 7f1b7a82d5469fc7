"""Whether the kept counts agree with the ledger, and whether its chain holds."""

from __future__ import annotations

from contextlib import closing
from dataclasses import dataclass

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


def verify(unit: Unit, actor: Actor) -> Verification:
    """Go over the school's whole ledger; the work grows with it, so no page does this."""
    actor.require(Role.STOREKEEPER)
    with unit.read() as session:
        items = _items(session, actor)
        ledgers = entries_of_items(session, actor.school_id, [item.id for item, _, _ in items])
        return Verification(
            entries=_entries(session, actor),
            first_broken=_first_broken(session, actor),
            wrong_counts=tuple(
                item.mark
                for item, kit_type, kept in items
                if kept is None or _fold(ledgers[item.id], kit_type) != counts_of(kept)
            ),
            wrong_statuses=tuple(
                item.mark for item, _, _ in items if status_of(ledgers[item.id]) != item.status
            ),
        )


def rebuild(unit: Unit, actor: Actor) -> None:
    """Fold the whole ledger again into counts and statuses."""
    actor.require(Role.STOREKEEPER)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        items = [item for item, *_ in _items(session, actor)]
        ledgers = entries_of_items(session, actor.school_id, [item.id for item in items])
        refresh(session, items, ledgers)


def _first_broken(session: Session, actor: Actor) -> int | None:
    with closing(all_rows(session, actor.school_id)) as rows:
        return first_broken(rows)


def _entries(session: Session, actor: Actor) -> int:
    of_school = tables.LedgerEntry.school_id == actor.school_id
    query = select(func.count()).select_from(tables.LedgerEntry).where(of_school)
    return session.scalar(query) or 0


def _fold(ledger: list[Entry], kit_type: tables.KitType) -> Counts:
    return count(ledger, policy_of(kit_type.policy).counting)


def _items(
    session: Session, actor: Actor
) -> list[tuple[tables.KitItem, tables.KitType, tables.KitCount | None]]:
    rows = session.execute(
        select(tables.KitItem, tables.KitType, tables.KitCount)
        .join(tables.KitType, tables.KitType.id == tables.KitItem.type_id)
        .outerjoin(tables.KitCount, tables.KitCount.item_id == tables.KitItem.id)
        .where(tables.KitItem.school_id == actor.school_id)
        .order_by(tables.KitItem.mark)
    )
    return [(item, kit_type, kept) for item, kit_type, kept in rows]
