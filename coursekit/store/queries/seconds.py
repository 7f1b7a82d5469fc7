"""Every marking of the papers of a class, for comparing two markers."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.store.tables import (
    Attempt,
    AttemptResult,
    ClassScenario,
    ClassSession,
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
    by_id: int | None
    class_instructor: int


def markings(session: Session, school_id: int, class_id: int) -> tuple[ClassMarking, ...]:
    """Return every marking of a class's papers, paper by paper in their order: 1 query."""
    rows = session.execute(
        select(AttemptResult, Person.name, ScenarioVersion.title, ClassSession.instructor_id)
        .join(Attempt, Attempt.id == AttemptResult.attempt_id)
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .join(Person, Person.id == Enrolment.person_id)
        .join(ClassSession, ClassSession.id == Enrolment.class_session_id)
        .join(ClassScenario, ClassScenario.id == Attempt.class_scenario_id)
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .where(AttemptResult.school_id == school_id, Enrolment.class_session_id == class_id)
        .order_by(Attempt.id, AttemptResult.number)
    )
    return tuple(
        ClassMarking(
            attempt_id=row.attempt_id,
            student=student,
            scenario=scenario,
            result_id=row.id,
            number=row.number,
            kind=row.kind,
            counts=row.counts,
            outcome=row.outcome,
            by_id=row.marked_by,
            class_instructor=teacher,
        )
        for row, student, scenario, teacher in rows
    )
