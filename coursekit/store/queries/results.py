"""The handed-in attempts of a class with the marking of each that counts, for its results."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.problems import Message
from coursekit.store.queries.classes import counting_result
from coursekit.store.tables import Attempt, AttemptResult, Enrolment, Person, TaskMark


@dataclass(frozen=True)
class StudentRow:
    """A student of a class."""

    enrolment_id: int
    person_id: int
    name: str


@dataclass(frozen=True)
class TaskEarned:
    """What one task earned in the marking that counts."""

    task_id: str
    marks: float
    out_of: float


@dataclass(frozen=True)
class MarkedAttempt:
    """One attempt; all from `result_id` on is None until it is handed in and marked.

    `result_id` and `result_number` say which marking counts: the number grows as a paper
    is marked again.  `remarked_by` is the scenario version of a marking by another version.
    """

    attempt_id: int
    enrolment_id: int
    class_scenario_id: int
    try_number: int
    seed: int
    digest: str
    started_at: datetime
    submitted_at: datetime | None
    result_id: int | None
    result_number: int | None
    outcome: str | None
    safe: bool | None
    stops: tuple[Message, ...]
    policy_number: int | None
    pass_share: float | None
    solver_version: str | None
    remarked_by: int | None


def students(session: Session, school_id: int, class_id: int) -> tuple[StudentRow, ...]:
    """Return who joined a class, by name: 1 query."""
    rows = session.execute(
        select(Enrolment.id, Person.id, Person.name)
        .join(Person, Person.id == Enrolment.person_id)
        .where(Enrolment.school_id == school_id, Enrolment.class_session_id == class_id)
        .order_by(Person.name, Enrolment.id)
    )
    return tuple(StudentRow(*row) for row in rows)


def attempts(session: Session, school_id: int, class_id: int) -> tuple[MarkedAttempt, ...]:
    """Return every attempt of a class, the tries of each student in their order: 1 query."""
    rows = session.execute(
        select(Attempt, AttemptResult)
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .outerjoin(AttemptResult, AttemptResult.id == counting_result(Attempt.id))
        .where(Enrolment.school_id == school_id, Enrolment.class_session_id == class_id)
        .order_by(Attempt.enrolment_id, Attempt.class_scenario_id, Attempt.try_number)
    )
    return tuple(_attempt(attempt, result) for attempt, result in rows)


def earned(session: Session, result_ids: Iterable[int]) -> dict[int, tuple[TaskEarned, ...]]:
    """Return what each task earned, by marking, in the order of the tasks: 1 query."""
    rows = session.execute(
        select(TaskMark.attempt_result_id, TaskMark.task_id, TaskMark.marks, TaskMark.out_of)
        .where(TaskMark.attempt_result_id.in_(tuple(result_ids)))
        .order_by(TaskMark.attempt_result_id, TaskMark.position)
    )
    found: dict[int, list[TaskEarned]] = {}
    for result_id, task_id, marks, out_of in rows:
        found.setdefault(result_id, []).append(TaskEarned(task_id, marks, out_of))
    return {result_id: tuple(tasks) for result_id, tasks in found.items()}


def _attempt(attempt: Attempt, result: AttemptResult | None) -> MarkedAttempt:
    return MarkedAttempt(
        attempt_id=attempt.id,
        enrolment_id=attempt.enrolment_id,
        class_scenario_id=attempt.class_scenario_id,
        try_number=attempt.try_number,
        seed=attempt.seed,
        digest=attempt.digest,
        started_at=attempt.started_at,
        submitted_at=attempt.submitted_at,
        result_id=result.id if result else None,
        result_number=result.number if result else None,
        outcome=result.outcome if result else None,
        safe=result.safe if result else None,
        stops=tuple(Message.of(said) for said in result.stops) if result else (),
        policy_number=result.policy_number if result else None,
        pass_share=result.pass_share if result else None,
        solver_version=result.solver_version if result else None,
        remarked_by=result.scenario_version_id if result else None,
    )
