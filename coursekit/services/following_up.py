"""Asking back after a diagnosis, and keeping the reply beside a mark that stays as it is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from babel.numbers import get_decimal_symbol
from sqlalchemy.orm import Session

from coursekit.assessment.follow_up import (
    NO_WAY,
    Choice,
    Diagnosed,
    FollowUp,
    Fresh,
    Told,
    follow_up,
    told_by_choice,
    told_by_number,
)
from coursekit.assessment.replies import QuantityReply
from coursekit.files.replies import reply_of
from coursekit.quantities.voice import shower, units_of
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import QuantityTask
from coursekit.services.actor import Actor, Role
from coursekit.services.attempts import attempt_row, own_attempt
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound, Refused
from coursekit.services.marking import marked
from coursekit.services.sheets import said_document
from coursekit.services.versions import scenario_of
from coursekit.store import queries, tables
from coursekit.store.queries.attempts import AttemptRow
from coursekit.store.queries.follow_ups import ReplyRow
from coursekit.store.unit import Unit

LONGEST_REPLY = 200
SLIP = "slip"


@dataclass(frozen=True)
class FollowUpView:
    """The question that follows one task's diagnosis, and the reply once there is one."""

    attempt_id: int
    scenario: Scenario
    task: QuantityTask
    asked: FollowUp
    reply: ReplyRow | None


@dataclass(frozen=True)
class Reply:
    """What a student sends: the text of an answer, or the key of a way."""

    attempt_id: int
    task_id: str
    typed: str


@dataclass(frozen=True)
class _Paper:
    """A marked paper, its mark of one task, and what was replied to it before."""

    row: AttemptRow
    document: str
    answers: Mapping[str, Any]
    slips: tuple[str, ...]
    reply: ReplyRow | None


def follow_up_view(unit: Unit, actor: Actor, attempt_id: int, task_id: str) -> FollowUpView:
    """Return the question that follows a diagnosis; NotFound where none is offered."""
    actor.require(Role.STUDENT)
    with unit.read() as session:
        paper = _paper(session, actor, attempt_id, task_id)
    return _view(paper, task_id)


def reply_to_follow_up(unit: Unit, actor: Actor, reply: Reply, now: datetime) -> None:
    """Keep a student's reply; sent twice, it counts once."""
    actor.require(Role.STUDENT)
    _check(reply.typed)
    # Looking for numbers that part the ways takes long: nothing is locked meanwhile.
    with unit.read() as session:
        paper = _paper(session, actor, reply.attempt_id, reply.task_id)
    view = _view(paper, reply.task_id)
    told = _told(view, reply.typed, paper.row.locale)
    with unit.write() as session:
        own_attempt(session, actor, reply.attempt_id)
        known = queries.follow_ups.of_attempt(session, reply.attempt_id).get(reply.task_id)
        if known is not None:
            _refuse_another(known, reply.typed)
            return
        session.add(
            tables.FollowUpReply(
                school_id=actor.school_id,
                attempt_id=reply.attempt_id,
                task_id=reply.task_id,
                slips=list(paper.slips),
                numbers=dict(view.asked.numbers) if isinstance(view.asked, Fresh) else {},
                typed=reply.typed,
                outcome=told.outcome,
                slip=told.slip,
                step=told.step,
                said=said_document(told.words),
                replied_at=now,
            )
        )


def _paper(session: Session, actor: Actor, attempt_id: int, task_id: str) -> _Paper:
    row = attempt_row(session, actor, attempt_id)
    result = queries.attempts.result(session, attempt_id)
    marks = {mark.task_id: mark for mark in result.tasks} if result else {}
    mark = marks.get(task_id)
    if row.person_id != actor.person_id or mark is None or mark.verdict != SLIP:
        raise NotFound("follow-up question")
    document = (result.document if result else None) or row.document
    answers = queries.classes.answers(session, attempt_id)
    reply = queries.follow_ups.of_attempt(session, attempt_id).get(task_id)
    return _Paper(row, document, answers, mark.slips, reply)


def _view(paper: _Paper, task_id: str) -> FollowUpView:
    base = scenario_of(paper.document, {})
    scenario = scenario_of(paper.document, paper.row.variation)
    task = scenario.task(task_id)
    marks = {mark.task: mark for mark in marked(scenario, paper.answers, paper.row.locale).tasks}
    solution = marks[task_id].solution
    asked = None
    if isinstance(task, QuantityTask) and solution is not None:
        diagnosed = Diagnosed(base, scenario, task, solution, paper.slips)
        asked = follow_up(diagnosed, paper.row.seed)
    if asked is None or not isinstance(task, QuantityTask):
        raise NotFound("follow-up question")
    return FollowUpView(paper.row.attempt_id, scenario, task, asked, paper.reply)


def _told(view: FollowUpView, typed: str, locale: str) -> Told:
    asked = view.asked
    if isinstance(asked, Choice):
        _require_way(asked, typed)
        return told_by_choice(asked, typed)
    comma = get_decimal_symbol(locale) == ","
    read = reply_of(asked.scenario, asked.task, typed, decimal_comma=comma)
    number = read if isinstance(read, QuantityReply) else QuantityReply(typed, None)
    return told_by_number(asked, number, shower(units_of(asked.scenario)))


def _require_way(asked: Choice, typed: str) -> None:
    checks = Checks()
    if typed not in {NO_WAY, *(way.key for way in asked.ways)}:
        checks.add("answer", "That is none of the ways", "Choose one of them, or none of these")
    checks.done()


def _refuse_another(known: ReplyRow, typed: str) -> None:
    if known.typed != typed:
        raise Refused("You have replied to this already", "Your first reply stands")


def _check(typed: str) -> None:
    checks = Checks()
    if not typed.strip():
        checks.add("answer", "A reply is missing", "Answer it, or go back to your marks")
    if len(typed) > LONGEST_REPLY:
        checks.add("answer", "It is too long", "Write the answer, no more")
    checks.done()
