"""Scenario versions as they are listed."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.scenario.model import LEVELS
from coursekit.store.tables import ScenarioVersion


@dataclass(frozen=True)
class ScenarioCard:
    """The newest version of a scenario as it is listed."""

    version_id: int
    slug: str
    title: str
    level: str
    method: str
    tasks: int
    digest: str
    number: int
    loaded_at: datetime


@dataclass(frozen=True)
class Newest:
    """The newest version of a scenario that is stored."""

    number: int
    digest: str


def cards(session: Session, school_id: int) -> tuple[ScenarioCard, ...]:
    """Return the newest version of each scenario, by level and title: 1 query."""
    columns = ScenarioVersion
    newest = (
        select(columns.slug, func.max(columns.number).label("number"))
        .where(columns.school_id == school_id)
        .group_by(columns.slug)
        .subquery()
    )
    rows = session.execute(
        select(
            columns.id,
            columns.slug,
            columns.title,
            columns.level,
            columns.method,
            columns.task_count,
            columns.digest,
            columns.number,
            columns.loaded_at,
        )
        .join(newest, (newest.c.slug == columns.slug) & (newest.c.number == columns.number))
        .where(columns.school_id == school_id)
        .order_by(columns.title)
    )
    found = (ScenarioCard(*row) for row in rows)
    return tuple(sorted(found, key=lambda card: (LEVELS.index(card.level), card.title)))


def documents(session: Session, school_id: int, version_ids: Collection[int]) -> dict[int, str]:
    """Return the stored documents of some versions, by version: 1 query, none for none."""
    if not version_ids:
        return {}
    rows = session.execute(
        select(ScenarioVersion.id, ScenarioVersion.document).where(
            ScenarioVersion.school_id == school_id, ScenarioVersion.id.in_(version_ids)
        )
    )
    return {row.id: row.document for row in rows}


def newest(session: Session, school_id: int) -> dict[str, Newest]:
    """Return number and digest of the newest version of each scenario: 1 query."""
    return {card.slug: Newest(card.number, card.digest) for card in cards(session, school_id)}
