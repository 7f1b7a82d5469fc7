"""Replies to follow-up questions: of one paper, of a class, and of one student."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.problems import Message
from coursekit.store.tables import (
    Attempt,
    ClassScenario,
    Enrolment,
    FollowUpReply,
    ScenarioVersion,
)


@dataclass(frozen=True)
class ReplyRow:
    """A reply and what it told."""

    task_id: str
    slips: tuple[str, ...]
    typed: str
    outcome: str
    slip: str | None
    said: Message


@dataclass(frozen=True)
class ConfirmedRow:
    """A diagnosis that a student confirmed: the task, its scenario, and the step of the slip."""

    document: str
    task_id: str
    step: str
    replied_at: datetime


def of_attempt(session: Session, attempt_id: int) -> dict[str, ReplyRow]:
    """Return the replies of a paper by task: 1 query."""
    rows = session.scalars(select(FollowUpReply).where(FollowUpReply.attempt_id == attempt_id))
    return {row.task_id: _reply(row) for row in rows}


def of_class(session: Session, class_id: int) -> dict[int, list[ReplyRow]]:
    """Return the replies of a class by scenario version: 1 query."""
    rows = session.execute(
        select(ClassScenario.scenario_version_id, FollowUpReply)
        .join(Attempt, Attempt.class_scenario_id == ClassScenario.id)
        .join(FollowUpReply, FollowUpReply.attempt_id == Attempt.id)
        .where(ClassScenario.class_session_id == class_id)
    )
    found: dict[int, list[ReplyRow]] = {}
    for version_id, row in rows:
        found.setdefault(version_id, []).append(_reply(row))
    return found


def confirmed(session: Session, school_id: int, person_id: int) -> tuple[ConfirmedRow, ...]:
    """Return the diagnoses that a person confirmed: 1 query."""
    rows = session.execute(
        select(
            ScenarioVersion.document,
            FollowUpReply.task_id,
            FollowUpReply.step,
            FollowUpReply.replied_at,
        )
        .join(Attempt, Attempt.id == FollowUpReply.attempt_id)
        .join(ClassScenario, ClassScenario.id == Attempt.class_scenario_id)
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .where(
            Enrolment.school_id == school_id,
            Enrolment.person_id == person_id,
            FollowUpReply.step.is_not(None),
        )
    )
    return tuple(ConfirmedRow(doc, task, step or "", at) for doc, task, step, at in rows)


def _reply(row: FollowUpReply) -> ReplyRow:
    slips = tuple(row.slips)
    return ReplyRow(row.task_id, slips, row.typed, row.outcome, row.slip, Message.of(row.said))
