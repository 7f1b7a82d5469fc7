"""Every marking of a paper in its order, and what was asked and answered about it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ColumnElement, func, select
from sqlalchemy.orm import Session, aliased

from coursekit.problems import Message
from coursekit.store.tables import (
    Attempt,
    AttemptResult,
    ClassScenario,
    ClassSession,
    Enrolment,
    Person,
    ReviewAnswer,
    ReviewRequest,
    ScenarioVersion,
)

APPEAL, EXCUSE = "appeal", "excuse"


@dataclass(frozen=True)
class MarkingRow:
    """One marking of a paper; `by` is empty where the solver marked.

    `version` is the number of the scenario version by which it was marked again.
    """

    result_id: int
    number: int
    kind: str
    counts: bool
    by_id: int | None
    by: str
    code: str | None
    reason: str | None
    version: int | None
    marks: float
    out_of: float
    outcome: str
    stops: tuple[Message, ...]
    marked_at: datetime


@dataclass(frozen=True)
class RequestRow:
    """What was asked about a paper, with its answer once there is one."""

    request_id: int
    attempt_id: int
    kind: str
    stop: Message | None
    reason: str
    seen_number: int
    asked_by_id: int
    asked_by: str
    asked_at: datetime
    granted: bool | None
    answer: str | None
    answered_by: str | None
    answered_at: datetime | None

    @property
    def is_open(self) -> bool:
        """Whether it waits for its answer."""
        return self.granted is None


@dataclass(frozen=True)
class WaitingRow:
    """A request that waits, as it is listed."""

    request_id: int
    attempt_id: int
    kind: str
    student: str
    scenario: str
    class_id: int
    class_title: str
    asked_by: str
    asked_at: datetime


def markings(session: Session, attempt_id: int) -> tuple[MarkingRow, ...]:
    """Return every marking of an attempt, the first first: 1 query."""
    rows = session.execute(
        select(AttemptResult, Person.name, ScenarioVersion.number)
        .outerjoin(Person, Person.id == AttemptResult.marked_by)
        .outerjoin(ScenarioVersion, ScenarioVersion.id == AttemptResult.scenario_version_id)
        .where(AttemptResult.attempt_id == attempt_id)
        .order_by(AttemptResult.number)
    )
    return tuple(_marking(row, name or "", version) for row, name, version in rows)


def requests(session: Session, attempt_id: int) -> tuple[RequestRow, ...]:
    """Return what was asked about an attempt, the first first: 1 query."""
    return _requests(session, ReviewRequest.attempt_id == attempt_id)


def request(session: Session, school_id: int, request_id: int) -> RequestRow | None:
    """Return one request of a school: 1 query."""
    found = _requests(session, ReviewRequest.school_id == school_id, ReviewRequest.id == request_id)
    return found[0] if found else None


def waiting(session: Session, school_id: int) -> tuple[WaitingRow, ...]:
    """Return the school's requests that wait for an answer, the oldest first: 1 query."""
    student = aliased(Person)
    rows = session.execute(
        select(
            ReviewRequest.id,
            ReviewRequest.attempt_id,
            ReviewRequest.kind,
            student.name,
            ScenarioVersion.title,
            ClassSession.id,
            ClassSession.title,
            Person.name,
            ReviewRequest.asked_at,
        )
        .join(Person, Person.id == ReviewRequest.asked_by)
        .join(Attempt, Attempt.id == ReviewRequest.attempt_id)
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .join(student, student.id == Enrolment.person_id)
        .join(ClassSession, ClassSession.id == Enrolment.class_session_id)
        .join(ClassScenario, ClassScenario.id == Attempt.class_scenario_id)
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .where(ReviewRequest.school_id == school_id, _unanswered())
        .order_by(ReviewRequest.asked_at, ReviewRequest.id)
    )
    return tuple(WaitingRow(*row) for row in rows)


def waiting_in_class(session: Session, school_id: int, class_id: int) -> int:
    """Return how many requests of a class wait for an answer: 1 query."""
    return (
        session.scalar(
            select(func.count())
            .select_from(ReviewRequest)
            .join(Attempt, Attempt.id == ReviewRequest.attempt_id)
            .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
            .where(
                ReviewRequest.school_id == school_id,
                Enrolment.class_session_id == class_id,
                _unanswered(),
            )
        )
        or 0
    )


def class_instructor(session: Session, attempt_id: int) -> int:
    """Return who teaches the class of an attempt: 1 query."""
    return session.execute(
        select(ClassSession.instructor_id)
        .join(Enrolment, Enrolment.class_session_id == ClassSession.id)
        .join(Attempt, Attempt.enrolment_id == Enrolment.id)
        .where(Attempt.id == attempt_id)
    ).scalar_one()


def markers(rows: Iterable[MarkingRow], up_to: int) -> frozenset[int]:
    """Return who marked or changed a mark, up to a number of marking."""
    return frozenset(row.by_id for row in rows if row.by_id is not None and row.number <= up_to)


def _unanswered() -> ColumnElement[bool]:
    return (
        ~select(ReviewAnswer.id).where(ReviewAnswer.review_request_id == ReviewRequest.id).exists()
    )


def _requests(session: Session, *where: ColumnElement[bool]) -> tuple[RequestRow, ...]:
    answerer = aliased(Person)
    rows = session.execute(
        select(ReviewRequest, Person.name, ReviewAnswer, answerer.name)
        .join(Person, Person.id == ReviewRequest.asked_by)
        .outerjoin(ReviewAnswer, ReviewAnswer.review_request_id == ReviewRequest.id)
        .outerjoin(answerer, answerer.id == ReviewAnswer.answered_by)
        .where(*where)
        .order_by(ReviewRequest.id)
    )
    return tuple(_request(*row) for row in rows)


def _request(
    asked: ReviewRequest, asked_by: str, answer: ReviewAnswer | None, answered_by: str | None
) -> RequestRow:
    return RequestRow(
        request_id=asked.id,
        attempt_id=asked.attempt_id,
        kind=asked.kind,
        stop=Message.of(asked.stop) if asked.stop else None,
        reason=asked.reason,
        seen_number=asked.seen_number,
        asked_by_id=asked.asked_by,
        asked_by=asked_by,
        asked_at=asked.asked_at,
        granted=answer.granted if answer else None,
        answer=answer.reason if answer else None,
        answered_by=answered_by,
        answered_at=answer.answered_at if answer else None,
    )


def _marking(row: AttemptResult, by: str, version: int | None) -> MarkingRow:
    return MarkingRow(
        result_id=row.id,
        number=row.number,
        kind=row.kind,
        counts=row.counts,
        by_id=row.marked_by,
        by=by,
        code=row.code,
        reason=row.reason,
        version=version,
        marks=row.marks,
        out_of=row.out_of,
        outcome=row.outcome,
        stops=tuple(Message.of(said) for said in row.stops),
        marked_at=row.marked_at,
    )
