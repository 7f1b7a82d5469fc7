"""What a student did in practice, and what practice can ask."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.problems import Message
from coursekit.store.queries.classes import counting_result
from coursekit.store.tables import (
    Attempt,
    AttemptResult,
    ClassScenario,
    ClassSession,
    Enrolment,
    PracticeQuestion,
    PracticeSkill,
    ScenarioVersion,
    TaskMark,
)


@dataclass(frozen=True)
class SkillRow:
    """A skill that was tried, with the state of its spacing."""

    skill: str
    state: Mapping[str, Any]
    tries: int
    hits: int


@dataclass(frozen=True)
class MarkedInClass:
    """A task that was marked in class, with the scenario that it belongs to."""

    document: str
    task_id: str
    verdict: str
    slips: tuple[str, ...]


@dataclass(frozen=True)
class Source:
    """A scenario version that practice may ask from."""

    version_id: int
    document: str


@dataclass(frozen=True)
class QuestionRow:
    """A question as it was asked, with its answer and mark once given."""

    id: int
    version_id: int
    document: str
    task_id: str
    skill: str
    variation: Mapping[str, str]
    asked_at: datetime
    typed: Any
    verdict: str | None
    slips: tuple[str, ...]
    feedback: tuple[Message, ...]
    answered_at: datetime | None


def skills(session: Session, school_id: int, person_id: int) -> tuple[SkillRow, ...]:
    """Return the skills that a person tried: 1 query."""
    rows = session.scalars(
        select(PracticeSkill).where(
            PracticeSkill.school_id == school_id, PracticeSkill.person_id == person_id
        )
    )
    return tuple(SkillRow(row.skill, row.state, row.tries, row.hits) for row in rows)


def marked_in_class(session: Session, school_id: int, person_id: int) -> tuple[MarkedInClass, ...]:
    """Return the marks that count of all papers of a person: 1 query."""
    rows = session.execute(
        select(ScenarioVersion.document, TaskMark.task_id, TaskMark.verdict, TaskMark.slips)
        .join(AttemptResult, AttemptResult.id == TaskMark.attempt_result_id)
        .join(Attempt, Attempt.id == AttemptResult.attempt_id)
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .join(ClassScenario, ClassScenario.id == Attempt.class_scenario_id)
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .where(
            Enrolment.school_id == school_id,
            Enrolment.person_id == person_id,
            AttemptResult.id == counting_result(Attempt.id),
        )
    )
    return tuple(
        MarkedInClass(document, task, verdict, tuple(slips))
        for document, task, verdict, slips in rows
    )


def sources(session: Session, school_id: int, person_id: int) -> tuple[Source, ...]:
    """Return the newest version of each scenario that may be practised: 1 query.

    What an open class of the person works on, and the person has not handed in, is
    left out: practice would give its answers away.
    """
    newest = (
        select(ScenarioVersion.slug, func.max(ScenarioVersion.number).label("number"))
        .where(ScenarioVersion.school_id == school_id)
        .group_by(ScenarioVersion.slug)
        .subquery()
    )
    under_way = (
        select(ScenarioVersion.slug)
        .join(ClassScenario, ClassScenario.scenario_version_id == ScenarioVersion.id)
        .join(ClassSession, ClassSession.id == ClassScenario.class_session_id)
        .join(Enrolment, Enrolment.class_session_id == ClassSession.id)
        .outerjoin(
            Attempt,
            (Attempt.enrolment_id == Enrolment.id)
            & (Attempt.class_scenario_id == ClassScenario.id),
        )
        .where(
            Enrolment.school_id == school_id,
            Enrolment.person_id == person_id,
            ClassSession.status == "open",
            func.coalesce(Attempt.status, "new") != "submitted",
        )
    )
    rows = session.execute(
        select(ScenarioVersion.id, ScenarioVersion.document)
        .join(
            newest,
            (newest.c.slug == ScenarioVersion.slug) & (newest.c.number == ScenarioVersion.number),
        )
        .where(ScenarioVersion.school_id == school_id, ScenarioVersion.slug.not_in(under_way))
        .order_by(ScenarioVersion.id)
    )
    return tuple(Source(*row) for row in rows)


def question(
    session: Session, school_id: int, person_id: int, question_id: int
) -> QuestionRow | None:
    """Return a question of a person: 1 query."""
    found = session.execute(
        select(PracticeQuestion, ScenarioVersion.document)
        .join(ScenarioVersion, ScenarioVersion.id == PracticeQuestion.scenario_version_id)
        .where(
            PracticeQuestion.school_id == school_id,
            PracticeQuestion.person_id == person_id,
            PracticeQuestion.id == question_id,
        )
    ).first()
    if found is None:
        return None
    row, document = found
    return QuestionRow(
        id=row.id,
        version_id=row.scenario_version_id,
        document=document,
        task_id=row.task_id,
        skill=row.skill,
        variation=row.variation,
        asked_at=row.asked_at,
        typed=row.typed,
        verdict=row.verdict,
        slips=tuple(row.slips),
        feedback=tuple(Message.of(said) for said in row.feedback),
        answered_at=row.answered_at,
    )


def answered_since(session: Session, school_id: int, person_id: int, since: datetime) -> int:
    """Return how many questions a person answered since a moment: 1 query."""
    return (
        session.scalar(
            select(func.count()).where(
                PracticeQuestion.school_id == school_id,
                PracticeQuestion.person_id == person_id,
                PracticeQuestion.answered_at >= since,
            )
        )
        or 0
    )


def open_question(session: Session, school_id: int, person_id: int, skill: str) -> int | None:
    """Return the question of a skill that waits for its answer, the newest: 1 query."""
    return session.scalar(
        select(PracticeQuestion.id)
        .where(
            PracticeQuestion.school_id == school_id,
            PracticeQuestion.person_id == person_id,
            PracticeQuestion.skill == skill,
            PracticeQuestion.answered_at.is_(None),
        )
        .order_by(PracticeQuestion.id.desc())
        .limit(1)
    )
