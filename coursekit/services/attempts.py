"""Finding attempts: a student's own, or any of the school for its instructor."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.rigging.solver import SOLVER_VERSION
from coursekit.scenario.vary import Variation
from coursekit.services.actor import Actor, Role
from coursekit.services.errors import NotFound, Refused
from coursekit.store import queries, tables
from coursekit.store.queries.attempts import AttemptRow


@dataclass(frozen=True)
class Beginning:
    """Which try an attempt is, and when it begins."""

    number: int
    at: datetime


def known_attempt(session: Session, actor: Actor, class_scenario_id: int) -> int | None:
    """Return the student's last attempt at a scenario of the class, None before it was begun."""
    return session.scalar(
        select(tables.Attempt.id)
        .join(tables.Enrolment, tables.Enrolment.id == tables.Attempt.enrolment_id)
        .where(
            tables.Enrolment.school_id == actor.school_id,
            tables.Enrolment.person_id == actor.person_id,
            tables.Attempt.class_scenario_id == class_scenario_id,
        )
        .order_by(tables.Attempt.try_number.desc())
        .limit(1)
    )


def enrolment_of(session: Session, actor: Actor, class_scenario_id: int) -> int:
    """Return the student's own enrolment in the class of a scenario."""
    found = session.scalar(
        select(tables.Enrolment.id)
        .join(
            tables.ClassScenario,
            tables.ClassScenario.class_session_id == tables.Enrolment.class_session_id,
        )
        .where(
            tables.ClassScenario.id == class_scenario_id,
            tables.Enrolment.school_id == actor.school_id,
            tables.Enrolment.person_id == actor.person_id,
        )
    )
    if found is None:
        raise NotFound("scenario")
    return found


def insert_attempt(
    session: Session,
    enrolment: tables.Enrolment,
    class_scenario_id: int,
    variation: Variation,
    beginning: Beginning,
) -> int:
    """Begin an attempt with the numbers of a variation, and return its id."""
    attempt = tables.Attempt(
        school_id=enrolment.school_id,
        enrolment_id=enrolment.id,
        class_scenario_id=class_scenario_id,
        try_number=beginning.number,
        seed=variation.seed,
        digest=variation.scenario.digest,
        solver_version=SOLVER_VERSION,
        variation=dict(variation.values),
        status="started",
        started_at=beginning.at,
    )
    session.add(attempt)
    session.flush()
    return attempt.id


def document_of(session: Session, actor: Actor, class_scenario_id: int) -> str:
    """Return the document of a scenario of the student's own class."""
    document = session.scalar(
        select(tables.ScenarioVersion.document)
        .join(
            tables.ClassScenario,
            tables.ClassScenario.scenario_version_id == tables.ScenarioVersion.id,
        )
        .join(
            tables.Enrolment,
            tables.Enrolment.class_session_id == tables.ClassScenario.class_session_id,
        )
        .where(
            tables.ClassScenario.id == class_scenario_id,
            tables.Enrolment.school_id == actor.school_id,
            tables.Enrolment.person_id == actor.person_id,
        )
    )
    if document is None:
        raise NotFound("scenario")
    return document


def locked_enrolment(session: Session, actor: Actor, class_scenario_id: int) -> tables.Enrolment:
    """Return the student's enrolment in the open class of a scenario, locked."""
    found = session.execute(
        select(tables.Enrolment, tables.ClassSession.status)
        .join(
            tables.ClassScenario,
            tables.ClassScenario.class_session_id == tables.Enrolment.class_session_id,
        )
        .join(tables.ClassSession, tables.ClassSession.id == tables.Enrolment.class_session_id)
        .where(
            tables.ClassScenario.id == class_scenario_id,
            tables.Enrolment.school_id == actor.school_id,
            tables.Enrolment.person_id == actor.person_id,
        )
        .with_for_update(of=tables.Enrolment)
    ).first()
    if found is None:
        raise NotFound("scenario")
    enrolment, status = found
    _refuse_closed(status)
    return enrolment


def attempt_row(session: Session, actor: Actor, attempt_id: int) -> AttemptRow:
    """Return an attempt that the actor may see."""
    row = queries.attempts.attempt(session, actor.school_id, attempt_id)
    may_see = row is not None and (row.person_id == actor.person_id or actor.has(Role.INSTRUCTOR))
    if row is None or not may_see:
        raise NotFound("attempt")
    return row


def own_attempt(session: Session, actor: Actor, attempt_id: int) -> tables.Attempt:
    """Return the student's own attempt, locked."""
    attempt = session.scalar(
        select(tables.Attempt)
        .join(tables.Enrolment, tables.Enrolment.id == tables.Attempt.enrolment_id)
        .where(
            tables.Attempt.id == attempt_id,
            tables.Attempt.school_id == actor.school_id,
            tables.Enrolment.person_id == actor.person_id,
        )
        .with_for_update(of=tables.Attempt)
    )
    if attempt is None:
        raise NotFound("attempt")
    return attempt


def require_open(session: Session, attempt: tables.Attempt) -> None:
    """Refuse an attempt that was handed in, or whose class is closed."""
    if attempt.status == "submitted":
        raise Refused("This is handed in already", "Look at your marks")
    status = session.scalar(
        select(tables.ClassSession.status)
        .join(tables.Enrolment, tables.Enrolment.class_session_id == tables.ClassSession.id)
        .where(tables.Enrolment.id == attempt.enrolment_id)
    )
    _refuse_closed(status)


def _refuse_closed(status: str | None) -> None:
    if status != "open":
        raise Refused(
            "The class is closed", "What you typed stays on this device; tell your instructor"
        )
