"""The tries of one student at one scenario, and the numbers that the student has seen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.store.queries.classes import counting_result
from coursekit.store.tables import (
    Attempt,
    AttemptResult,
    ClassScenario,
    Enrolment,
    ScenarioVersion,
)


@dataclass(frozen=True)
class TryRow:
    """One try; marks and outcome are None until it is handed in."""

    attempt_id: int
    number: int
    seed: int
    status: str
    started_at: datetime
    submitted_at: datetime | None
    marks: float | None
    out_of: float | None
    outcome: str | None


def ladder(
    session: Session, school_id: int, enrolment_id: int, class_scenario_id: int
) -> tuple[TryRow, ...]:
    """Return every try of an enrolment at a scenario, the first first: 1 query."""
    rows = session.execute(
        select(
            Attempt.id,
            Attempt.try_number,
            Attempt.seed,
            Attempt.status,
            Attempt.started_at,
            Attempt.submitted_at,
            AttemptResult.marks,
            AttemptResult.out_of,
            AttemptResult.outcome,
        )
        .outerjoin(AttemptResult, AttemptResult.id == counting_result(Attempt.id))
        .where(
            Attempt.school_id == school_id,
            Attempt.enrolment_id == enrolment_id,
            Attempt.class_scenario_id == class_scenario_id,
        )
        .order_by(Attempt.try_number)
    )
    return tuple(TryRow(*row) for row in rows)


def seen_numbers(
    session: Session, school_id: int, person_id: int, class_scenario_id: int
) -> tuple[Mapping[str, str], ...]:
    """Return the variations that a person was given of a scenario, in any class: 1 query."""
    slug = (
        select(ScenarioVersion.slug)
        .join(ClassScenario, ClassScenario.scenario_version_id == ScenarioVersion.id)
        .where(ClassScenario.id == class_scenario_id)
        .scalar_subquery()
    )
    return tuple(
        session.scalars(
            select(Attempt.variation)
            .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
            .join(ClassScenario, ClassScenario.id == Attempt.class_scenario_id)
            .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
            .where(
                Attempt.school_id == school_id,
                Enrolment.person_id == person_id,
                ScenarioVersion.slug == slug,
            )
        )
    )
