"""Classes as they are listed, and all that a class holds right now."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import ColumnElement, Select, func, select
from sqlalchemy.orm import Session, aliased

from coursekit.store.tables import (
    Answer,
    Attempt,
    AttemptResult,
    ClassScenario,
    ClassSession,
    Course,
    Enrolment,
    Person,
    ScenarioVersion,
    TaskMark,
)


@dataclass(frozen=True)
class CourseRow:
    """A course of the school."""

    id: int
    title: str


@dataclass(frozen=True)
class ClassRow:
    """A class as it is listed."""

    id: int
    course: str
    title: str
    on: date
    status: str
    join_code: str | None
    scenarios: int
    students: int


@dataclass(frozen=True)
class ClassHead:
    """What a class is, without what it holds."""

    id: int
    version: int
    course: str
    title: str
    on: date
    timezone: str
    status: str
    join_code: str | None
    opened_at: datetime | None
    closed_at: datetime | None
    instructor: str


@dataclass(frozen=True)
class ScenarioInClass:
    """A scenario of a class with the stored document that it is read from."""

    class_scenario_id: int
    version_id: int
    position: int
    document: str


@dataclass(frozen=True)
class StudentInClass:
    """A student who joined."""

    enrolment_id: int
    name: str
    joined_at: datetime


@dataclass(frozen=True)
class AttemptInClass:
    """An attempt, with its marks once it was sent."""

    attempt_id: int
    enrolment_id: int
    class_scenario_id: int
    status: str
    marks: float | None
    out_of: float | None
    outcome: str | None


@dataclass(frozen=True)
class MarkInClass:
    """The mark of one task in one attempt."""

    attempt_id: int
    task_id: str
    verdict: str
    marks: float
    slips: tuple[str, ...]
    given: Any
    truth: Any
    flagged: bool


def courses(session: Session, school_id: int) -> tuple[CourseRow, ...]:
    """Return the school's courses by title: 1 query."""
    rows = session.execute(
        select(Course.id, Course.title).where(Course.school_id == school_id).order_by(Course.title)
    )
    return tuple(CourseRow(id_, title) for id_, title in rows)


def classes(session: Session, school_id: int) -> tuple[ClassRow, ...]:
    """Return the school's classes, the newest first: 1 query."""
    scenarios = (
        select(func.count())
        .where(ClassScenario.class_session_id == ClassSession.id)
        .scalar_subquery()
    )
    students = (
        select(func.count()).where(Enrolment.class_session_id == ClassSession.id).scalar_subquery()
    )
    rows = session.execute(
        select(ClassSession, Course.title, scenarios, students)
        .join(Course, Course.id == ClassSession.course_id)
        .where(ClassSession.school_id == school_id)
        .order_by(ClassSession.on.desc(), ClassSession.id.desc())
    )
    return tuple(
        ClassRow(row.id, course, row.title, row.on, row.status, row.join_code, holds, joined)
        for row, course, holds, joined in rows
    )


def head(session: Session, school_id: int, class_id: int) -> ClassHead | None:
    """Return what a class of the school is: 1 query."""
    found = session.execute(
        select(ClassSession, Course.title, Person.name)
        .join(Course, Course.id == ClassSession.course_id)
        .join(Person, Person.id == ClassSession.instructor_id)
        .where(ClassSession.school_id == school_id, ClassSession.id == class_id)
    ).first()
    if found is None:
        return None
    row, course, instructor = found
    return ClassHead(
        row.id,
        row.version,
        course,
        row.title,
        row.on,
        row.timezone,
        row.status,
        row.join_code,
        row.opened_at,
        row.closed_at,
        instructor,
    )


def scenarios(session: Session, class_id: int) -> tuple[ScenarioInClass, ...]:
    """Return the scenarios of a class in their places: 1 query."""
    rows = session.execute(
        select(
            ClassScenario.id,
            ScenarioVersion.id,
            ClassScenario.position,
            ScenarioVersion.document,
        )
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .where(ClassScenario.class_session_id == class_id)
        .order_by(ClassScenario.position)
    )
    return tuple(ScenarioInClass(*row) for row in rows)


def students(session: Session, class_id: int) -> tuple[StudentInClass, ...]:
    """Return who joined a class, in the order of joining: 1 query."""
    rows = session.execute(
        select(Enrolment.id, Person.name, Enrolment.joined_at)
        .join(Person, Person.id == Enrolment.person_id)
        .where(Enrolment.class_session_id == class_id)
        .order_by(Enrolment.joined_at, Enrolment.id)
    )
    return tuple(StudentInClass(*row) for row in rows)


def attempts(session: Session, class_id: int) -> tuple[AttemptInClass, ...]:
    """Return the last try of each student at each scenario, with the marks that count: 1 query."""
    rows = session.execute(
        select(
            Attempt.id,
            Attempt.enrolment_id,
            Attempt.class_scenario_id,
            Attempt.status,
            AttemptResult.marks,
            AttemptResult.out_of,
            AttemptResult.outcome,
        )
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .outerjoin(AttemptResult, AttemptResult.id == counting_result(Attempt.id))
        .where(Enrolment.class_session_id == class_id, is_last_try())
    )
    return tuple(AttemptInClass(*row) for row in rows)


def marks(session: Session, class_id: int) -> tuple[MarkInClass, ...]:
    """Return the marks that count of every task of a class: 1 query."""
    rows = session.execute(
        select(Attempt.id, TaskMark)
        .join(AttemptResult, AttemptResult.id == TaskMark.attempt_result_id)
        .join(Attempt, Attempt.id == AttemptResult.attempt_id)
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .where(
            Enrolment.class_session_id == class_id, AttemptResult.id == counting_result(Attempt.id)
        )
        .order_by(Enrolment.joined_at, Enrolment.id)
    )
    return tuple(
        MarkInClass(
            attempt_id,
            mark.task_id,
            mark.verdict,
            mark.marks,
            tuple(mark.slips),
            mark.given,
            mark.truth,
            mark.flagged,
        )
        for attempt_id, mark in rows
    )


def answered(session: Session, class_id: int) -> frozenset[tuple[int, str]]:
    """Return which task of which attempt has an answer, blank ones left out: 1 query."""
    rows = session.execute(
        _newest_answers(select(Attempt.id, Answer.task_id, Answer.typed))
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .where(Enrolment.class_session_id == class_id)
    )
    return frozenset((attempt_id, task_id) for attempt_id, task_id, typed in rows if typed)


def answers(session: Session, attempt_id: int) -> dict[str, Any]:
    """Return the newest answer to each task of an attempt, blank ones left out: 1 query."""
    return answers_of(session, [attempt_id]).get(attempt_id, {})


def answers_of(session: Session, attempt_ids: Iterable[int]) -> dict[int, dict[str, Any]]:
    """Return the newest answers of some attempts, blank ones left out: 1 query."""
    rows = session.execute(
        _newest_answers(select(Attempt.id, Answer.task_id, Answer.typed)).where(
            Attempt.id.in_(tuple(attempt_ids))
        )
    )
    found: dict[int, dict[str, Any]] = {}
    for attempt_id, task_id, typed in rows:
        # An empty list is an answer: none of them.
        if typed not in (None, ""):
            found.setdefault(attempt_id, {})[task_id] = typed
    return found


def _newest_answers(query: Select[int, str, Any]) -> Select[int, str, Any]:
    newer = aliased(Answer)
    is_newest = ~(
        select(newer.id)
        .where(
            newer.attempt_id == Answer.attempt_id,
            newer.task_id == Answer.task_id,
            newer.id > Answer.id,
        )
        .exists()
    )
    return query.join(Answer, Answer.attempt_id == Attempt.id).where(is_newest)


def is_last_try() -> ColumnElement[bool]:
    """Return the condition that an attempt is the last of its enrolment at its scenario."""
    later = aliased(Attempt)
    return ~(
        select(later.id)
        .where(
            later.enrolment_id == Attempt.enrolment_id,
            later.class_scenario_id == Attempt.class_scenario_id,
            later.try_number > Attempt.try_number,
        )
        .exists()
    )


def counting_result(attempt_id: Any) -> Any:
    """Return the marking that counts: the latest of the attempt that is no blind second one.

    This is the one place that says so; whoever reads marks asks here.
    """
    return (
        select(AttemptResult.id)
        .where(AttemptResult.attempt_id == attempt_id, AttemptResult.counts)
        .order_by(AttemptResult.number.desc())
        .limit(1)
        .correlate(Attempt)
        .scalar_subquery()
    )
