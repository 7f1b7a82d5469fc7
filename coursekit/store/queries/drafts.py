"""Drafts of scenario files as they are listed and opened."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.store.tables import ScenarioDraft, ScenarioVersion


@dataclass(frozen=True)
class DraftRow:
    """A draft, with the number of the version that it began from."""

    draft_id: int
    base_id: int | None
    base_number: int | None
    slug: str | None
    text: str
    revision: int
    changed_at: datetime


def of_person(session: Session, person_id: int) -> tuple[DraftRow, ...]:
    """Return somebody's drafts, the one changed last first: 1 query."""
    columns = ScenarioDraft
    rows = session.execute(
        select(
            columns.id,
            columns.base_id,
            ScenarioVersion.number,
            columns.slug,
            columns.text,
            columns.revision,
            columns.changed_at,
        )
        .outerjoin(ScenarioVersion, ScenarioVersion.id == columns.base_id)
        .where(columns.person_id == person_id)
        .order_by(columns.changed_at.desc(), columns.id)
    )
    return tuple(DraftRow(*row) for row in rows)


def newest_number(session: Session, school_id: int, slug: str) -> int:
    """Return the number of a scenario's newest version, 0 where it has none: 1 query."""
    versions = ScenarioVersion
    found = select(func.max(versions.number)).where(
        versions.school_id == school_id, versions.slug == slug
    )
    return session.scalar(found) or 0
