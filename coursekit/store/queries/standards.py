"""Sheets of judges, and the pass marks that came of them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.store.tables import (
    PassMark,
    Person,
    ScenarioVersion,
    StandardRating,
    StandardSheet,
)


@dataclass(frozen=True)
class SheetRow:
    """A sheet with the scenario that it judges."""

    sheet_id: int
    version_id: int
    document: str
    round: int
    opened_at: datetime
    closed_at: datetime | None


@dataclass(frozen=True)
class RatingRow:
    """What a judge expects in a round: chances of 0 to 1 by task; the newest counts."""

    judge_id: int
    judge: str
    round: int
    chances: Mapping[str, float]
    given_at: datetime


@dataclass(frozen=True)
class PassMarkRow:
    """A pass mark that was taken on, by whom, when and why; `judges` is its panel."""

    version_id: int
    number: int
    share: float
    method: str
    sheet_id: int
    reason: str
    made_at: datetime
    made_by: str
    judges: tuple[str, ...]


def sheet(session: Session, school_id: int, sheet_id: int) -> SheetRow | None:
    """Return a sheet of a school: 1 query."""
    found = session.execute(
        select(
            StandardSheet.id,
            ScenarioVersion.id,
            ScenarioVersion.document,
            StandardSheet.round,
            StandardSheet.opened_at,
            StandardSheet.closed_at,
        )
        .join(ScenarioVersion, ScenarioVersion.id == StandardSheet.scenario_version_id)
        .where(StandardSheet.school_id == school_id, StandardSheet.id == sheet_id)
    ).first()
    return None if found is None else SheetRow(*found)


def open_sheets(session: Session, school_id: int) -> dict[int, int]:
    """Return the sheets that are not closed, by the version that they judge: 1 query."""
    rows = session.execute(
        select(StandardSheet.scenario_version_id, StandardSheet.id).where(
            StandardSheet.school_id == school_id, StandardSheet.closed_at.is_(None)
        )
    )
    return dict(rows.all())


def ratings(session: Session, sheet_id: int) -> tuple[RatingRow, ...]:
    """Return the newest ratings of each judge in each round of a sheet, by name: 1 query."""
    newest = (
        select(func.max(StandardRating.id))
        .where(StandardRating.sheet_id == sheet_id)
        .group_by(StandardRating.judge_id, StandardRating.round)
    )
    rows = session.execute(
        select(StandardRating, Person.name)
        .join(Person, Person.id == StandardRating.judge_id)
        .where(StandardRating.id.in_(newest))
        .order_by(Person.name, StandardRating.judge_id, StandardRating.round)
    )
    return tuple(
        RatingRow(row.judge_id, name, row.round, row.chances, row.given_at) for row, name in rows
    )


def pass_marks(session: Session, school_id: int) -> tuple[PassMarkRow, ...]:
    """Return every pass mark that was taken on, the newest of a version first: 2 queries."""
    rows = session.execute(
        select(PassMark, Person.name)
        .join(Person, Person.id == PassMark.made_by)
        .where(PassMark.school_id == school_id)
        .order_by(PassMark.scenario_version_id, PassMark.number.desc())
    ).all()
    judges = session.execute(
        select(StandardRating.sheet_id, Person.name)
        .join(Person, Person.id == StandardRating.judge_id)
        .where(StandardRating.school_id == school_id)
        .distinct()
        .order_by(Person.name)
    ).all()
    return tuple(
        PassMarkRow(
            version_id=row.scenario_version_id,
            number=row.number,
            share=row.share,
            method=row.method,
            sheet_id=row.sheet_id,
            reason=row.reason,
            made_at=row.made_at,
            made_by=name,
            judges=tuple(judge for sheet_id, judge in judges if sheet_id == row.sheet_id),
        )
        for row, name in rows
    )


def pass_share_of(session: Session, school_id: int, digest: str) -> float | None:
    """Return the pass mark that holds for a scenario by its digest, None without one: 1 query."""
    return session.scalar(
        select(PassMark.share)
        .join(ScenarioVersion, ScenarioVersion.id == PassMark.scenario_version_id)
        .where(PassMark.school_id == school_id, ScenarioVersion.digest == digest)
        .order_by(PassMark.made_at.desc(), PassMark.number.desc())
        .limit(1)
    )
