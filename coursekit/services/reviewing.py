"""Reviewing: what is asked about a marked paper, and the answer of another person.

A student appeals; an instructor asks that a critical finding be set aside because the key
was wrong.  Who asks never answers, and who marked before an appeal never decides it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from coursekit.assessment.moderation import (
    LONGEST_APPEAL,
    WRONG_KEY,
    against_change,
    against_excuse,
)
from coursekit.problems import Message
from coursekit.services.actor import Actor, Role
from coursekit.services.attempts import attempt_row
from coursekit.services.checks import Checks
from coursekit.services.counting import CountingPaper, counting_paper, keep_change, refuse
from coursekit.services.errors import Conflict, NotFound, Refused
from coursekit.services.sheets import Made, newest_number
from coursekit.store import queries, tables
from coursekit.store.queries.reviews import APPEAL, EXCUSE, RequestRow, WaitingRow
from coursekit.store.unit import Unit

__all__ = [
    "Answered",
    "Excuse",
    "RequestRow",
    "WaitingRow",
    "answer_request",
    "appeal",
    "ask_to_excuse",
    "one_request",
    "waiting_in_class",
    "waiting_requests",
]


@dataclass(frozen=True)
class Excuse:
    """A wish to set one critical finding aside: `stop` is its place among those shown."""

    attempt_id: int
    stop: int
    reason: str
    seen: int


@dataclass(frozen=True)
class Answered:
    """An answer to a request, with its reason."""

    request_id: int
    granted: bool
    reason: str


def ask_to_excuse(unit: Unit, actor: Actor, wish: Excuse, now: datetime) -> int:
    """Ask that a critical finding be set aside because the key was wrong; return the request."""
    actor.require(Role.INSTRUCTOR)
    reason = _reason(wish.reason)
    with unit.write() as session:
        paper = counting_paper(session, actor, wish.attempt_id, wish.seen)
        stops = paper.sheet.stops
        if not 0 <= wish.stop < len(stops):
            raise NotFound("finding")
        stop = dict(stops[wish.stop])
        if any(one.is_open and one.stop == Message.of(stop) for one in paper.requests):
            raise Refused("This was asked already", "Let another instructor decide on it")
        return _ask(session, actor, (paper, EXCUSE), stop, reason, now)


def appeal(unit: Unit, actor: Actor, attempt_id: int, text: str, now: datetime) -> int:
    """Let a student ask for another look at the own paper; one at a time."""
    actor.require(Role.STUDENT)
    checks = Checks()
    reason = checks.text("reason", text)
    if len(reason) > LONGEST_APPEAL:
        checks.add("reason", f"It has {len(reason)} characters", f"Keep it to {LONGEST_APPEAL}")
    checks.done()
    with unit.write() as session:
        row = attempt_row(session, actor, attempt_id)
        if row.person_id != actor.person_id:
            raise NotFound("attempt")
        paper = counting_paper(session, actor, attempt_id, None)
        if paper.is_appealed:
            raise Refused(
                "You have asked about this paper, and no answer has come yet",
                "Wait for the answer",
            )
        return _ask(session, actor, (paper, APPEAL), None, reason, now)


def waiting_requests(unit: Unit, actor: Actor) -> tuple[WaitingRow, ...]:
    """Return the school's requests that wait for an answer, the oldest first."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        return queries.reviews.waiting(session, actor.school_id)


def waiting_in_class(unit: Unit, actor: Actor, class_id: int) -> int:
    """Return how many requests of a class wait for an answer."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        return queries.reviews.waiting_in_class(session, actor.school_id, class_id)


def one_request(unit: Unit, actor: Actor, request_id: int) -> RequestRow:
    """Return one request of the school with its answer, if there is one."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        request = queries.reviews.request(session, actor.school_id, request_id)
    if request is None:
        raise NotFound("request")
    return request


def answer_request(unit: Unit, actor: Actor, answer: Answered, now: datetime) -> int:
    """Answer an appeal or a wish to excuse a finding, as another person; return the paper.

    A finding that is excused leaves the outcome at once.  An appeal that is granted needs its
    marks changed first, by the one who answers.
    """
    actor.require(Role.INSTRUCTOR)
    reason = _reason(answer.reason)
    with unit.write() as session:
        request = queries.reviews.request(session, actor.school_id, answer.request_id)
        if request is None:
            raise NotFound("request")
        paper = counting_paper(session, actor, request.attempt_id, None)
        if not any(one.is_open and one.request_id == request.request_id for one in paper.requests):
            raise Conflict("This was answered already", "Read the answer on the paper")
        if request.kind == EXCUSE:
            _decide_excuse(session, actor, paper, request, (answer.granted, reason, now))
        else:
            _decide_appeal(actor, paper, request, granted=answer.granted)
        session.add(
            tables.ReviewAnswer(
                school_id=actor.school_id,
                review_request_id=request.request_id,
                granted=answer.granted,
                reason=reason,
                answered_by=actor.person_id,
                answered_at=now,
            )
        )
    return request.attempt_id


def _decide_excuse(
    session: Session,
    actor: Actor,
    paper: CountingPaper,
    request: RequestRow,
    answer: tuple[bool, str, datetime],
) -> None:
    granted, reason, now = answer
    askers = {one.asked_by_id for one in paper.requests if one.kind == EXCUSE}
    teacher = queries.reviews.class_instructor(session, request.attempt_id)
    refuse(against_excuse(actor.person_id, askers, teacher))
    if not granted:
        return
    left = tuple(stop for stop in paper.sheet.stops if Message.of(stop) != request.stop)
    if len(left) == len(paper.sheet.stops):
        raise Conflict("The paper no longer has this finding", "Decline it: there is nothing to do")
    made = Made(now, "excused", actor.person_id, WRONG_KEY, reason)
    keep_change(session, paper, replace(paper.sheet, stops=left), made)


def _decide_appeal(
    actor: Actor, paper: CountingPaper, request: RequestRow, *, granted: bool
) -> None:
    refuse(against_change(actor.person_id, paper.markers, is_appealed=True))
    since = [row for row in paper.markings if row.number > request.seen_number and row.counts]
    if granted and not any(row.by_id == actor.person_id for row in since):
        raise Refused(
            "No mark was changed by you since the student asked",
            "Change the marks first, then answer that they changed; or let them stand",
        )


def _ask(
    session: Session,
    actor: Actor,
    about: tuple[CountingPaper, str],
    stop: Any,
    reason: str,
    now: datetime,
) -> int:
    paper, kind = about
    request = tables.ReviewRequest(
        school_id=actor.school_id,
        attempt_id=paper.attempt.id,
        kind=kind,
        stop=stop,
        reason=reason,
        seen_number=newest_number(session, paper.attempt.id),
        asked_by=actor.person_id,
        asked_at=now,
    )
    session.add(request)
    session.flush()
    return request.id


def _reason(reason: str) -> str:
    checks = Checks()
    text = checks.text("reason", reason)
    checks.done()
    return text
