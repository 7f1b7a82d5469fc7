"""Marks and sheets of the yard, as assessors and results read them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.scenario.yard import Level
from coursekit.store.tables import Enrolment, Person, YardMark, YardSheet


@dataclass(frozen=True)
class Seen:
    """What an assessor last noted of a criterion."""

    level: Level
    note: str


@dataclass(frozen=True)
class SheetRow:
    """A list that was handed in; `kind` is `own` or `agreed`."""

    enrolment_id: int
    class_scenario_id: int
    assessor_id: int
    assessor: str
    kind: str
    levels: Mapping[str, Level]
    notes: Mapping[str, str]
    reason: str
    pass_share: float | None
    handed_in_at: datetime


def seen(
    session: Session, enrolment_id: int, class_scenario_id: int, assessor_id: int
) -> dict[str, Seen]:
    """Return what an assessor has noted of a student so far, by criterion: 1 query."""
    rows = session.scalars(
        select(YardMark)
        .where(
            YardMark.enrolment_id == enrolment_id,
            YardMark.class_scenario_id == class_scenario_id,
            YardMark.assessor_id == assessor_id,
        )
        .order_by(YardMark.id)
    )
    return {row.criterion: Seen(Level(row.level), row.note) for row in rows}


def sheets(session: Session, school_id: int, class_id: int) -> tuple[SheetRow, ...]:
    """Return every list that was handed in of a class, in order: 1 query."""
    rows = session.execute(
        select(YardSheet, Person.name)
        .join(Enrolment, Enrolment.id == YardSheet.enrolment_id)
        .join(Person, Person.id == YardSheet.assessor_id)
        .where(YardSheet.school_id == school_id, Enrolment.class_session_id == class_id)
        .order_by(YardSheet.id)
    )
    return tuple(
        SheetRow(
            row.enrolment_id,
            row.class_scenario_id,
            row.assessor_id,
            name,
            row.kind,
            {criterion: Level(level) for criterion, level in row.levels.items()},
            dict(row.notes),
            row.reason,
            row.pass_share,
            row.handed_in_at,
        )
        for row, name in rows
    )
