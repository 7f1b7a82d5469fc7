"""Pulls as they are shown: what was pulled, and what each did to the kit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session

from coursekit.store.policies import policy_of
from coursekit.store.queries.kit import counts_of
from coursekit.store.queries.ledger import entry_of, undone_keys
from coursekit.store.tables import (
    KitCount,
    KitItem,
    KitType,
    LedgerEntry,
    Person,
    PullRecord,
    ScenarioVersion,
)
from coursekit.wear.ledger import ON_TIME, Kind, Origin, Size
from coursekit.wear.measured import CellProof
from coursekit.wear.policy import size_of
from coursekit.wear.schedule import rest_until


@dataclass(frozen=True)
class PullRow:
    """One pull of a class; no `scenario`, no `version_id` where an item's pull was declared.

    `is_late` when it was entered more than a day after it was made.
    """

    pull_id: int
    at: datetime
    method: str
    scenario: str | None
    ended: str
    by: str
    items: int
    version_id: int | None
    is_late: bool


@dataclass(frozen=True)
class PullLine:
    """What one item bore, what that added to its count, and what became of it."""

    item_id: int
    mark: str
    kind: str
    load: float | None
    limit: float | None
    share: float | None
    size: str
    origin: Origin
    added: float
    use: float
    use_limit: float | None
    rest_until: datetime | None
    consequence: str | None
    reason: str
    cell: CellProof | None


@dataclass(frozen=True)
class MeasuredRow:
    """A measured pull as one item bore it, with all that it takes to solve it again. [N]."""

    pull_id: int
    class_id: int
    at: datetime
    document: str
    rig: str | dict[str, Any]
    items: dict[str, int | None]
    load: float
    proof: CellProof


def pulls_of_class(session: Session, school_id: int, class_id: int) -> tuple[PullRow, ...]:
    """Return the pulls of a class, the newest first: 1 query."""
    is_pull = LedgerEntry.kind == Kind.PULL.value
    rows = session.execute(
        select(PullRecord, ScenarioVersion.title, Person.name, func.count(LedgerEntry.id))
        .join(Person, Person.id == PullRecord.person_id)
        .outerjoin(LedgerEntry, (LedgerEntry.pull_id == PullRecord.id) & is_pull)
        .outerjoin(ScenarioVersion, ScenarioVersion.id == PullRecord.scenario_version_id)
        .where(PullRecord.school_id == school_id, PullRecord.class_session_id == class_id)
        .group_by(PullRecord.id, ScenarioVersion.title, Person.name)
        .order_by(PullRecord.at.desc(), PullRecord.id.desc())
    ).all()
    return tuple(
        PullRow(
            pull_id=pull.id,
            at=pull.at,
            method=pull.method,
            scenario=title,
            ended=pull.ended,
            by=name,
            items=number,
            version_id=pull.scenario_version_id,
            is_late=pull.recorded_at - pull.at > ON_TIME,
        )
        for pull, title, name, number in rows
    )


def lines_of_pull(session: Session, school_id: int, pull_id: int) -> tuple[PullLine, ...]:
    """Return what a pull did, item by item, with each item's count as it is now: 1 query."""
    rows = session.execute(
        select(LedgerEntry, KitItem, KitType, KitCount)
        .join(KitItem, KitItem.id == LedgerEntry.item_id)
        .join(KitType, KitType.id == KitItem.type_id)
        .join(KitCount, KitCount.item_id == KitItem.id)
        .where(LedgerEntry.school_id == school_id, LedgerEntry.pull_id == pull_id)
        .order_by(LedgerEntry.seq)
    ).all()
    came = {row.item_id: row for row, *_ in rows if row.kind != Kind.PULL.value}
    return tuple(
        _line(row, item, kit_type, count, came.get(row.item_id))
        for row, item, kit_type, count in rows
        if row.kind == Kind.PULL.value
    )


def sizes_of_items(
    session: Session, school_id: int, class_id: int, item_ids: Collection[int]
) -> dict[int, Counter[Size]]:
    """Return how many pulls of each size of a class stand, by item: 1 query."""
    rows = session.execute(
        select(LedgerEntry, KitType.policy)
        .join(KitItem, KitItem.id == LedgerEntry.item_id)
        .join(KitType, KitType.id == KitItem.type_id)
        .where(
            LedgerEntry.school_id == school_id,
            LedgerEntry.class_session_id == class_id,
            LedgerEntry.item_id.in_(list(item_ids)),
            LedgerEntry.kind == Kind.PULL.value,
            LedgerEntry.key.not_in(undone_keys(school_id)),
        )
    )
    found: dict[int, Counter[Size]] = {}
    for row, policy in rows:
        pull = entry_of(row).pull
        if pull is not None:
            size = size_of(pull, policy_of(policy).counting.heavy_from)
            found.setdefault(row.item_id, Counter())[size] += 1
    return found


def has_file(session: Session, school_id: int, sha256: str) -> bool:
    """Whether a measured pull of this file stands in the ledger of a school: 1 query.

    It looks at the pulls of that file alone, however long the ledger has grown.
    """
    of_file = (
        select(LedgerEntry.id)
        .join(
            PullRecord,
            (PullRecord.id == LedgerEntry.pull_id)
            & (PullRecord.class_session_id == LedgerEntry.class_session_id),
        )
        .where(
            PullRecord.school_id == school_id,
            PullRecord.cell_sha256 == sha256,
            *_measured_and_standing(school_id),
        )
    )
    return session.scalar(of_file.limit(1)) is not None


def measured_kinetic(session: Session, school_id: int, item_id: int) -> tuple[MeasuredRow, ...]:
    """Return the measured kinetic pulls of an item that stand, the oldest first: 1 query."""
    rows = session.execute(
        select(LedgerEntry, PullRecord, ScenarioVersion.document)
        .join(PullRecord, PullRecord.id == LedgerEntry.pull_id)
        .join(ScenarioVersion, ScenarioVersion.id == PullRecord.scenario_version_id)
        .where(
            *_measured_and_standing(school_id),
            LedgerEntry.item_id == item_id,
            LedgerEntry.method == "kinetic",
        )
        .order_by(LedgerEntry.at, LedgerEntry.seq)
    ).all()
    return tuple(
        MeasuredRow(
            pull_id=pull.id,
            class_id=pull.class_session_id,
            at=row.at,
            document=document,
            rig=pull.rig,
            items=pull.items,
            load=row.load_n,
            proof=CellProof.of_document(row.detail["cell"]),
        )
        for row, pull, document in rows
        if row.load_n
    )


def _measured_and_standing(school_id: int) -> tuple[ColumnElement[bool], ...]:
    """Return what holds for the measured pulls of a school that no correction reversed."""
    return (
        LedgerEntry.school_id == school_id,
        LedgerEntry.origin == Origin.MEASURED.value,
        LedgerEntry.key.not_in(undone_keys(school_id)),
    )


def _line(
    row: LedgerEntry,
    item: KitItem,
    kit_type: KitType,
    count: KitCount,
    came: LedgerEntry | None,
) -> PullLine:
    pull = entry_of(row).pull
    policy = policy_of(kit_type.policy)
    if pull is None:
        raise ValueError(f"entry {row.id} is no pull")
    return PullLine(
        item_id=item.id,
        mark=item.mark,
        kind=kit_type.kind,
        load=pull.load,
        limit=pull.limit,
        share=pull.share,
        size=size_of(pull, policy.counting.heavy_from).value,
        origin=pull.origin,
        added=policy.counting.weight(pull),
        use=count.use,
        use_limit=policy.counting.limit,
        rest_until=rest_until(counts_of(count), policy),
        consequence=came.kind if came else None,
        reason=came.reason if came else "",
        cell=CellProof.of_document(row.detail["cell"]) if "cell" in row.detail else None,
    )
