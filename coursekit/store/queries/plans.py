"""How often a class plans to pull each rig, and how often it has by now."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.store.queries.ledger import undone_keys
from coursekit.store.tables import Enrolment, LedgerEntry, PullPlan, PullRecord
from coursekit.wear.ledger import Kind


@dataclass(frozen=True)
class PlanRow:
    """A plan with its number: pulls by the id of the scenario version; 0 is that of nobody."""

    number: int
    pulls: Mapping[int, int]


def newest(session: Session, class_id: int) -> PlanRow:
    """Return the plan that holds for a class: 1 query."""
    row = session.scalar(
        select(PullPlan)
        .where(PullPlan.class_session_id == class_id)
        .order_by(PullPlan.number.desc())
        .limit(1)
    )
    if row is None:
        return PlanRow(0, {})
    return PlanRow(row.number, {int(key): pulls for key, pulls in row.pulls.items()})


def students(session: Session, class_id: int) -> int:
    """Return how many joined a class: 1 query."""
    joined = select(func.count()).where(Enrolment.class_session_id == class_id)
    return session.scalar(joined) or 0


def pulls_made(session: Session, school_id: int, class_id: int) -> dict[int, int]:
    """Return how often a class has pulled a rig of each scenario version: 1 query.

    A pull counts while an entry of it stands in the ledger; one that was logged by
    mistake and reversed still has to be made.
    """
    rows = session.execute(
        select(PullRecord.scenario_version_id, func.count(PullRecord.id.distinct()))
        .join(LedgerEntry, LedgerEntry.pull_id == PullRecord.id)
        .where(
            PullRecord.school_id == school_id,
            PullRecord.class_session_id == class_id,
            PullRecord.scenario_version_id.is_not(None),
            LedgerEntry.kind == Kind.PULL.value,
            LedgerEntry.key.not_in(undone_keys(school_id)),
        )
        .group_by(PullRecord.scenario_version_id)
    )
    return {int(version_id): made for version_id, made in rows if version_id is not None}
