"""Attempts and their results, as the student and the instructor see them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.problems import Message
from coursekit.store.queries.classes import counting_result, is_last_try
from coursekit.store.tables import (
    Attempt,
    AttemptResult,
    ClassScenario,
    ClassSession,
    Course,
    Enrolment,
    Person,
    ScenarioVersion,
    School,
    TaskMark,
)


@dataclass(frozen=True)
class MyScenario:
    """A scenario of the student's class, and how far the student is with the last try at it.

    `again_from` is when another try may begin, None where none is due.
    """

    class_scenario_id: int
    title: str
    level: str
    tasks: int
    attempt_id: int | None
    status: str
    try_number: int
    submitted_at: datetime | None
    marks: float | None
    out_of: float | None
    outcome: str | None
    again_from: datetime | None = None


@dataclass(frozen=True)
class MyClass:
    """The class that a student is in, and whether another try has other numbers."""

    class_id: int
    title: str
    course: str
    status: str
    scenarios: tuple[MyScenario, ...]
    other_numbers: bool = True


@dataclass(frozen=True)
class AttemptRow:
    """An attempt with the document and the numbers that it is read from."""

    attempt_id: int
    enrolment_id: int
    class_scenario_id: int
    person_id: int
    student: str
    status: str
    class_status: str
    seed: int
    variation: Mapping[str, str]
    document: str
    locale: str
    started_at: datetime
    submitted_at: datetime | None


@dataclass(frozen=True)
class TaskResult:
    """The mark of one task, with its reasons."""

    task_id: str
    marks: float
    out_of: float
    verdict: str
    slips: tuple[str, ...]
    given: Any
    truth: Any
    expected: Any
    feedback: tuple[Message, ...]
    flagged: bool


@dataclass(frozen=True)
class Result:
    """The marking of an attempt that counts.

    `document` is that of the scenario version by which it was marked again, None where it
    was marked by the version of its class.  `policy_number` and `pass_share` are the rule
    that decided it, None in rows from before schools had a policy.
    """

    document: str | None
    marks: float
    out_of: float
    safe: bool
    outcome: str
    policy_number: int | None
    pass_share: float | None
    stops: tuple[Message, ...]
    findings: tuple[Mapping[str, Any], ...]
    solver_version: str
    marked_at: datetime
    tasks: tuple[TaskResult, ...]


def my_class(session: Session, school_id: int, person_id: int) -> MyClass | None:
    """Return the class of a student with the student's own attempts: 2 queries."""
    found = session.execute(
        select(ClassSession, Course.title, Enrolment.id)
        .join(Course, Course.id == ClassSession.course_id)
        .join(Enrolment, Enrolment.class_session_id == ClassSession.id)
        .where(Enrolment.school_id == school_id, Enrolment.person_id == person_id)
        .order_by(Enrolment.id.desc())
    ).first()
    if found is None:
        return None
    group, course, enrolment_id = found
    scenarios = _my_scenarios(session, group.id, enrolment_id)
    return MyClass(group.id, group.title, course, group.status, scenarios)


def attempt(session: Session, school_id: int, attempt_id: int) -> AttemptRow | None:
    """Return an attempt of a school: 1 query."""
    found = session.execute(
        select(
            Attempt.id,
            Attempt.enrolment_id,
            Attempt.class_scenario_id,
            Person.id,
            Person.name,
            Attempt.status,
            ClassSession.status,
            Attempt.seed,
            Attempt.variation,
            ScenarioVersion.document,
            School.locale,
            Attempt.started_at,
            Attempt.submitted_at,
        )
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .join(Person, Person.id == Enrolment.person_id)
        .join(ClassSession, ClassSession.id == Enrolment.class_session_id)
        .join(ClassScenario, ClassScenario.id == Attempt.class_scenario_id)
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .join(School, School.id == Attempt.school_id)
        .where(Attempt.school_id == school_id, Attempt.id == attempt_id)
    ).first()
    return None if found is None else AttemptRow(*found)


def result(session: Session, attempt_id: int) -> Result | None:
    """Return the marking of an attempt that counts: 2 queries."""
    found = session.execute(
        select(AttemptResult, ScenarioVersion.document)
        .outerjoin(ScenarioVersion, ScenarioVersion.id == AttemptResult.scenario_version_id)
        .where(AttemptResult.id == counting_result(attempt_id))
    ).first()
    if found is None:
        return None
    row, document = found
    tasks = session.scalars(
        select(TaskMark).where(TaskMark.attempt_result_id == row.id).order_by(TaskMark.position)
    )
    return Result(
        document=document,
        marks=row.marks,
        out_of=row.out_of,
        safe=row.safe,
        outcome=row.outcome,
        policy_number=row.policy_number,
        pass_share=row.pass_share,
        stops=_messages(row.stops),
        findings=tuple(row.findings),
        solver_version=row.solver_version,
        marked_at=row.marked_at,
        tasks=tuple(_task(task) for task in tasks),
    )


def _my_scenarios(session: Session, class_id: int, enrolment_id: int) -> tuple[MyScenario, ...]:
    is_mine = (
        (Attempt.class_scenario_id == ClassScenario.id)
        & (Attempt.enrolment_id == enrolment_id)
        & is_last_try()
    )
    rows = session.execute(
        select(
            ClassScenario.id,
            ScenarioVersion.title,
            ScenarioVersion.level,
            ScenarioVersion.task_count,
            Attempt.id,
            func.coalesce(Attempt.status, "new"),
            func.coalesce(Attempt.try_number, 0),
            Attempt.submitted_at,
            AttemptResult.marks,
            AttemptResult.out_of,
            AttemptResult.outcome,
        )
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .outerjoin(Attempt, is_mine)
        .outerjoin(AttemptResult, AttemptResult.id == counting_result(Attempt.id))
        .where(ClassScenario.class_session_id == class_id)
        .order_by(ClassScenario.position)
    )
    return tuple(MyScenario(*row) for row in rows)


def _task(row: TaskMark) -> TaskResult:
    return TaskResult(
        task_id=row.task_id,
        marks=row.marks,
        out_of=row.out_of,
        verdict=row.verdict,
        slips=tuple(row.slips),
        given=row.given,
        truth=row.truth,
        expected=row.expected,
        feedback=_messages(row.feedback),
        flagged=row.flagged,
    )


def _messages(stored: list[dict[str, Any]]) -> tuple[Message, ...]:
    return tuple(Message.of(said) for said in stored)
