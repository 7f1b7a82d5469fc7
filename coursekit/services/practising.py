"""Practising alone: fresh numbers each time, the mark at once, and when to try again.

Nothing of it reaches the record of assessment.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.assessment.apart import vary_apart
from coursekit.assessment.practice import (
    QUESTIONS_OF_A_SITTING,
    Skill,
    after_try,
    in_order,
    skill_of,
    skill_of_slip,
    skill_of_step,
)
from coursekit.problems import Message
from coursekit.rigging.rig import Rig
from coursekit.scenario.alone import alone, rig_about
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import AnyTask, ItemTask, QuantityTask
from coursekit.services.actor import Actor, Role
from coursekit.services.answering import LONGEST_ANSWER
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound, Refused
from coursekit.services.marking import marked
from coursekit.services.retries import fresh_seeds
from coursekit.services.sheets import said_document
from coursekit.services.versions import scenario_of
from coursekit.store import queries, tables
from coursekit.store.queries.practice import QuestionRow, Source
from coursekit.store.queries.schools import one_school
from coursekit.store.unit import Unit

__all__ = [
    "QUESTIONS_OF_A_SITTING",
    "Practice",
    "PracticeView",
    "Skill",
    "answer_question",
    "ask",
    "my_practice",
    "question_view",
]

# Answers so close together belong to one sitting.
SITTING = timedelta(hours=2)


@dataclass(frozen=True)
class Offer:
    """One task that can be asked alone: of which version, and for which skill."""

    version_id: int
    document: str
    task_id: str
    skill: str


@dataclass(frozen=True)
class Practice:
    """A student's skills, the one to try next first, and how far this sitting is."""

    skills: tuple[Skill, ...]
    answered: int
    now: datetime


@dataclass(frozen=True)
class PracticeView:
    """A question with its numbers; the mark and its reasons once it is answered.

    `rig` is what it is about, None where it is about the ground or asks for a rig.
    """

    question_id: int
    scenario: Scenario
    task: AnyTask
    rig: Rig | None
    skill: str
    typed: Any
    verdict: str | None
    feedback: tuple[Message, ...]
    due: datetime | None
    answered: int


def my_practice(unit: Unit, actor: Actor, now: datetime) -> Practice:
    """Return what a student can practise, the weakest first: 4 queries."""
    actor.require(Role.STUDENT)
    with unit.read() as session:
        offers = _offers(queries.practice.sources(session, actor.school_id, actor.person_id))
        return Practice(_skills(session, actor, offers, now), _answered(session, actor, now), now)


def ask(
    unit: Unit, actor: Actor, now: datetime, skill: str | None = None, seed: int | None = None
) -> int:
    """Ask a question of a skill, of the one to try next where none is named; return its id.

    One that waits for its answer is asked again, its numbers as they were.
    """
    actor.require(Role.STUDENT)
    with unit.read() as session:
        offers = _offers(queries.practice.sources(session, actor.school_id, actor.person_id))
        wanted = skill or _next(_skills(session, actor, offers, now))
        waiting = queries.practice.open_question(session, actor.school_id, actor.person_id, wanted)
    fitting = [offer for offer in offers if offer.skill == wanted]
    if not fitting:
        raise NotFound("skill")
    if waiting is not None:
        return waiting
    drawn = tuple(fresh_seeds()) if seed is None else (seed,)
    offer = fitting[drawn[0] % len(fitting)]
    variation = vary_apart(scenario_of(offer.document, {}), drawn)
    with unit.write() as session:
        row = tables.PracticeQuestion(
            school_id=actor.school_id,
            person_id=actor.person_id,
            scenario_version_id=offer.version_id,
            task_id=offer.task_id,
            skill=offer.skill,
            variation=dict(variation.values),
            asked_at=now,
            typed=None,
            slips=[],
            feedback=[],
        )
        session.add(row)
        session.flush()
        return row.id


def question_view(unit: Unit, actor: Actor, question_id: int, now: datetime) -> PracticeView:
    """Return a student's own question."""
    actor.require(Role.STUDENT)
    with unit.read() as session:
        row = _question(session, actor, question_id)
        skills = queries.practice.skills(session, actor.school_id, actor.person_id)
        answered = _answered(session, actor, now)
    scenario, task = _alone(row)
    skill = next((Skill(s.skill, state=s.state) for s in skills if s.skill == row.skill), None)
    return PracticeView(
        question_id=row.id,
        scenario=scenario,
        task=task,
        rig=rig_about(scenario_of(row.document, row.variation), task),
        skill=row.skill,
        typed=row.typed,
        verdict=row.verdict,
        feedback=row.feedback,
        due=skill.due if skill else None,
        answered=answered,
    )


def answer_question(unit: Unit, actor: Actor, question_id: int, typed: Any, now: datetime) -> None:
    """Mark an answer and set the next date; sent twice, it counts once."""
    actor.require(Role.STUDENT)
    _check(typed)
    with unit.write() as session:
        kept = session.scalar(
            select(tables.PracticeQuestion)
            .where(
                tables.PracticeQuestion.id == question_id,
                tables.PracticeQuestion.school_id == actor.school_id,
                tables.PracticeQuestion.person_id == actor.person_id,
            )
            .with_for_update()
        )
        if kept is None:
            raise NotFound("question")
        if kept.answered_at is not None:
            if kept.typed != typed:
                raise Refused("This question is answered already", "Take a new one")
            return
        scenario, task = _alone(_question(session, actor, question_id))
        locale = one_school(session, actor.school_id).locale
        (mark,) = marked(scenario, {task.id: typed}, locale).tasks
        kept.typed, kept.answered_at = typed, now
        kept.verdict, kept.slips = mark.verdict, list(mark.slips)
        kept.feedback = [said_document(said) for said in mark.feedback]
        _tried(session, actor, kept.skill, mark.verdict, now)


def _check(typed: Any) -> None:
    checks = Checks()
    if len(json.dumps(typed)) > LONGEST_ANSWER:
        checks.add("answer", "It is too long", "Write the answer, no more")
    checks.done()


def _tried(session: Session, actor: Actor, skill: str, verdict: str, now: datetime) -> None:
    row = session.scalar(
        select(tables.PracticeSkill)
        .where(
            tables.PracticeSkill.school_id == actor.school_id,
            tables.PracticeSkill.person_id == actor.person_id,
            tables.PracticeSkill.skill == skill,
        )
        .with_for_update()
    )
    state = after_try(row.state if row else None, verdict, now)
    if row is None:
        row = tables.PracticeSkill(
            school_id=actor.school_id, person_id=actor.person_id, skill=skill, tries=0, hits=0
        )
        session.add(row)
    row.state, row.due_at = dict(state), datetime.fromisoformat(state["due"])
    row.tries += 1
    row.hits += verdict == "right"


def _question(session: Session, actor: Actor, question_id: int) -> QuestionRow:
    row = queries.practice.question(session, actor.school_id, actor.person_id, question_id)
    if row is None:
        raise NotFound("question")
    return row


def _alone(row: QuestionRow) -> tuple[Scenario, AnyTask]:
    """Return a scenario with one task of it, asked by itself and of the given rig."""
    return alone(scenario_of(row.document, row.variation), row.task_id)


def _offers(sources: Iterable[Source]) -> list[Offer]:
    return [
        Offer(source.version_id, source.document, task.id, skill_of(task))
        for source in sources
        for scenario in (scenario_of(source.document, {}),)
        for task in scenario.tasks
        if _can_be_asked(scenario, task)
    ]


def _can_be_asked(scenario: Scenario, task: AnyTask) -> bool:
    """Whether a task has an answer by itself, which for some takes a rig of the file."""
    is_of_a_rig = isinstance(task, QuantityTask | ItemTask)
    return not is_of_a_rig or rig_about(scenario, task) is not None


def _skills(
    session: Session, actor: Actor, offers: Sequence[Offer], now: datetime
) -> tuple[Skill, ...]:
    tried = {
        row.skill: row for row in queries.practice.skills(session, actor.school_id, actor.person_id)
    }
    keys = dict.fromkeys(offer.skill for offer in offers)
    in_class = _in_class(session, actor, keys)
    confirmed = _confirmed(session, actor, keys)
    skills = [
        Skill(
            key,
            tuple(in_class.get(key, ())),
            tried[key].tries if key in tried else 0,
            tried[key].hits if key in tried else 0,
            tried[key].state if key in tried else None,
            confirmed.get(key),
        )
        for key in keys
    ]
    return in_order(skills, now)


def _in_class(session: Session, actor: Actor, keys: Collection[str]) -> Mapping[str, list[str]]:
    """Return how each skill went in class.

    A slip counts for its own step too, where something can be asked of that: the commonest
    of those that the answer agrees with.
    """
    found: dict[str, list[str]] = {}
    for mark in queries.practice.marked_in_class(session, actor.school_id, actor.person_id):
        scenario = scenario_of(mark.document, {})
        task = scenario.task(mark.task_id)
        of_step = skill_of_slip(scenario, task, mark.slips[0]) if mark.slips else None
        skills = {skill_of(task)} if of_step is None else {skill_of(task), of_step}
        for skill in skills:
            if skill in keys:
                found.setdefault(skill, []).append(mark.verdict)
    return found


def _confirmed(session: Session, actor: Actor, keys: Collection[str]) -> Mapping[str, datetime]:
    """Return when a slip of each skill was last confirmed.

    It counts for the skill of its own step; where none asks for that, for the task's.
    """
    found: dict[str, datetime] = {}
    for row in queries.follow_ups.confirmed(session, actor.school_id, actor.person_id):
        of_task = skill_of(scenario_of(row.document, {}).task(row.task_id))
        of_step = skill_of_step(row.step)
        skill = of_step if of_step in keys else of_task
        found[skill] = max(row.replied_at, found.get(skill, row.replied_at))
    return found


def _answered(session: Session, actor: Actor, now: datetime) -> int:
    return queries.practice.answered_since(session, actor.school_id, actor.person_id, now - SITTING)


def _next(skills: Sequence[Skill]) -> str:
    if not skills:
        raise Refused("There is nothing to practise yet", "Ask your instructor for scenarios")
    return skills[0].key
