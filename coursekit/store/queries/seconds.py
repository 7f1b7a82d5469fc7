"""Every marking of the papers of a class, for comparing two markers."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.store.tables import (
    Attempt,
    AttemptResult,
    ClassScenario,
    Enrolment,
    Person,
    ScenarioVersion,
)


@dataclass(frozen=True)
class ClassMarking:
    """One marking of one paper of a class."""

    attempt_id: int
    student: str
    scenario: str
    result_id: int
    number: int
    kind: str
    counts: bool
    outcome: str


def markings(session: Session, school_id: int, class_id: int) -> tuple[ClassMarking, ...]:
    """Return every marking of a class's papers, paper by paper in their order: 1 query."""
    rows = session.execute(
        select(
            Attempt.id,
            Person.name,
            ScenarioVersion.title,
            AttemptResult.id,
            AttemptResult.number,
            AttemptResult.kind,
            AttemptResult.counts,
            AttemptResult.outcome,
        )
        .join(Attempt, Attempt.id == AttemptResult.attempt_id)
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .join(Person, Person.id == Enrolment.person_id)
        .join(ClassScenario, ClassScenario.id == Attempt.class_scenario_id)
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .where(AttemptResult.school_id == school_id, Enrolment.class_session_id == class_id)
        .order_by(Attempt.id, AttemptResult.number)
    )
    return tuple(ClassMarking(*row) for row in rows)
