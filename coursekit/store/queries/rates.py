"""How often items were pulled of late, and what the pulls of a class used up."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.store.policies import policy_of
from coursekit.store.queries.ledger import entry_of, undone_keys
from coursekit.store.tables import ClassSession, KitItem, KitType, LedgerEntry
from coursekit.wear.ledger import Kind


@dataclass(frozen=True)
class ClassCost:
    """What the pulls of a class used up of the items that have a cost and a use count.

    The cost is in hundredths; `unpriced` pulls wore items whose cost is not known.
    """

    class_id: int
    title: str
    on: date
    cents: float
    pulls: int
    unpriced: int


def pulls_since(session: Session, school_id: int, since: date) -> dict[int, int]:
    """Return how often each item was pulled since a day, reversed pulls left out: 1 query."""
    rows = session.execute(
        select(LedgerEntry.item_id, func.count())
        .where(
            LedgerEntry.school_id == school_id,
            LedgerEntry.kind == Kind.PULL.value,
            LedgerEntry.day >= since,
            LedgerEntry.key.not_in(undone_keys(school_id)),
        )
        .group_by(LedgerEntry.item_id)
    )
    return {item_id: int(number) for item_id, number in rows}


def class_costs(session: Session, school_id: int, latest: int) -> tuple[ClassCost, ...]:
    """Return what the latest classes with pulls cost, the newest first: 2 queries."""
    has_pulls = select(LedgerEntry.id).where(
        LedgerEntry.class_session_id == ClassSession.id, LedgerEntry.kind == Kind.PULL.value
    )
    groups = session.scalars(
        select(ClassSession)
        .where(ClassSession.school_id == school_id, has_pulls.exists())
        .order_by(ClassSession.on.desc(), ClassSession.id.desc())
        .limit(latest)
    ).all()
    worn = _worn(session, school_id, [group.id for group in groups])
    return tuple(ClassCost(group.id, group.title, group.on, *worn[group.id]) for group in groups)


def _worn(
    session: Session, school_id: int, class_ids: list[int]
) -> dict[int, tuple[float, int, int]]:
    rows = session.execute(
        select(LedgerEntry, KitItem.cost_cents, KitType.policy)
        .join(KitItem, KitItem.id == LedgerEntry.item_id)
        .join(KitType, KitType.id == KitItem.type_id)
        .where(
            LedgerEntry.school_id == school_id,
            LedgerEntry.kind == Kind.PULL.value,
            LedgerEntry.class_session_id.in_(class_ids),
            LedgerEntry.key.not_in(undone_keys(school_id)),
        )
    )
    found = dict.fromkeys(class_ids, (0.0, 0, 0))
    for entry, cents, policy in rows:
        class_id = entry.class_session_id
        counting, pull = policy_of(policy).counting, entry_of(entry).pull
        if class_id is None or pull is None or counting.limit is None:
            continue
        spent, pulls, unpriced = found[class_id]
        share = counting.weight(pull) / counting.limit
        found[class_id] = (
            spent + share * (cents or 0),
            pulls + 1,
            unpriced + (cents is None),
        )
    return found
