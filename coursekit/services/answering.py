"""Answering: a student's attempts, answers as they were typed, handing in, the result.

Every answer that arrives is kept, the newest counts.  An attempt keeps the
numbers that the student was given, so that it can be marked again as it was.
"""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.assessment.apart import vary_apart
from coursekit.assessment.results import Decision, Earned, decided
from coursekit.assessment.retry import again_from
from coursekit.assessment.school_policy import SchoolPolicy
from coursekit.problems import Message
from coursekit.rigging.solver import SOLVER_VERSION
from coursekit.scenario.model import Scenario
from coursekit.scenario.strands import strand_of
from coursekit.services.actor import Actor, Role
from coursekit.services.attempts import (
    Beginning,
    attempt_row,
    document_of,
    insert_attempt,
    known_attempt,
    locked_enrolment,
    own_attempt,
    require_open,
)
from coursekit.services.checks import Checks
from coursekit.services.errors import Conflict, NotFound, Refused
from coursekit.services.joining import (
    ClassBrief,
    Join,
    Joined,
    Return,
    class_of_code,
    join_class,
    return_to_class,
)
from coursekit.services.marking import marked, store_result
from coursekit.services.policies import PolicyVersion, rule_by
from coursekit.services.retries import fresh_seeds
from coursekit.services.versions import scenario_of
from coursekit.store import queries, tables
from coursekit.store.queries.attempts import MyClass, MyScenario, Result, TaskResult
from coursekit.store.queries.follow_ups import ReplyRow
from coursekit.store.unit import Unit

__all__ = [
    "AttemptView",
    "ClassBrief",
    "Join",
    "Joined",
    "MyScenario",
    "ResultView",
    "Return",
    "Saved",
    "StudentClass",
    "TaskResult",
    "TypedAnswer",
    "attempt_view",
    "class_of_code",
    "join_class",
    "my_class",
    "result_view",
    "return_to_class",
    "save_answer",
    "start_attempt",
    "submit_attempt",
]

# A rig with every row of the form filled has a tenth of it.
LONGEST_ANSWER = 20_000
StudentClass = MyClass


@dataclass(frozen=True)
class AttemptView:
    """An attempt with the student's own numbers and what was answered so far."""

    attempt_id: int
    student: str
    status: str
    class_status: str
    seed: int
    scenario: Scenario
    answers: Mapping[str, Any]
    started_at: datetime
    submitted_at: datetime | None


@dataclass(frozen=True)
class TypedAnswer:
    """One answer as typed: a text, a list of texts, or the document of a rig.

    `client_key` is made by the device when the answer is committed there.
    """

    attempt_id: int
    task_id: str
    typed: Any
    client_key: str


@dataclass(frozen=True)
class Saved:
    """When an answer arrived; `was_there` when it had been sent before."""

    received_at: datetime
    was_there: bool


@dataclass(frozen=True)
class ResultView:
    """A marked attempt: credit and safety are two verdicts.

    `outcome` is the recorded one, `decision` what it hangs on.
    """

    attempt_id: int
    student: str
    seed: int
    scenario: Scenario
    answers: Mapping[str, Any]
    marks: float
    out_of: float
    safe: bool
    outcome: str
    stops: tuple[Message, ...]
    findings: tuple[Mapping[str, Any], ...]
    tasks: tuple[TaskResult, ...]
    solver_version: str
    started_at: datetime
    submitted_at: datetime
    follow_ups: Mapping[str, ReplyRow]
    decision: Decision


def my_class(unit: Unit, actor: Actor) -> StudentClass:
    """Return the class that a student is in, scenario by scenario."""
    actor.require(Role.STUDENT)
    with unit.read() as session:
        found = queries.attempts.my_class(session, actor.school_id, actor.person_id)
        policy = queries.policies.in_force(session, actor.school_id).policy
    if found is None:
        raise NotFound("class")
    return replace(
        found,
        scenarios=tuple(_with_wait(one, policy) for one in found.scenarios),
        other_numbers=policy.retry_other_numbers,
    )


def start_attempt(
    unit: Unit, actor: Actor, class_scenario_id: int, now: datetime, seed: int | None = None
) -> int:
    """Start a scenario, or return the last attempt that is there; see `retries` for another."""
    actor.require(Role.STUDENT)
    with unit.read() as session:
        known = known_attempt(session, actor, class_scenario_id)
        if known is not None:
            return known
        document = document_of(session, actor, class_scenario_id)
    seeds = fresh_seeds() if seed is None else (seed,)
    variation = vary_apart(scenario_of(document, {}), seeds)
    with unit.write() as session:
        enrolment = locked_enrolment(session, actor, class_scenario_id)
        known = known_attempt(session, actor, class_scenario_id)
        if known is not None:
            return known
        return insert_attempt(session, enrolment, class_scenario_id, variation, Beginning(1, now))


def attempt_view(unit: Unit, actor: Actor, attempt_id: int) -> AttemptView:
    """Return a student's own attempt, or any of the school's for its instructor."""
    with unit.read() as session:
        row = attempt_row(session, actor, attempt_id)
        answers = queries.classes.answers(session, attempt_id)
    return AttemptView(
        attempt_id=row.attempt_id,
        student=row.student,
        status=row.status,
        class_status=row.class_status,
        seed=row.seed,
        scenario=scenario_of(row.document, row.variation),
        answers=answers,
        started_at=row.started_at,
        submitted_at=row.submitted_at,
    )


def save_answer(unit: Unit, actor: Actor, answer: TypedAnswer, now: datetime) -> Saved:
    """Keep an answer as it was typed; sent twice, it counts once."""
    actor.require(Role.STUDENT)
    _check(answer)
    with unit.write() as session:
        attempt = own_attempt(session, actor, answer.attempt_id)
        known = _known_answer(session, answer)
        if known is not None:
            return Saved(known.received_at, was_there=True)
        require_open(session, attempt)
        row = attempt_row(session, actor, answer.attempt_id)
        _require_task(scenario_of(row.document, row.variation), answer.task_id)
        session.add(
            tables.Answer(
                school_id=actor.school_id,
                attempt_id=answer.attempt_id,
                task_id=answer.task_id,
                typed=answer.typed,
                client_key=answer.client_key,
                received_at=now,
            )
        )
    return Saved(now, was_there=False)


def submit_attempt(unit: Unit, actor: Actor, attempt_id: int, now: datetime) -> None:
    """Hand an attempt in and mark it; handed in twice, it counts once."""
    actor.require(Role.STUDENT)
    with unit.write() as session:
        attempt = own_attempt(session, actor, attempt_id)
        if attempt.status == "submitted":
            return
        require_open(session, attempt)
        row = attempt_row(session, actor, attempt_id)
        answers = queries.classes.answers(session, attempt_id)
        paper = marked(scenario_of(row.document, row.variation), answers, row.locale)
        attempt.status, attempt.submitted_at = "submitted", now
        attempt.solver_version = SOLVER_VERSION
        store_result(session, attempt, paper, now)


def result_view(unit: Unit, actor: Actor, attempt_id: int) -> ResultView:
    """Return the marks of a handed-in attempt: the student's own, or any for its instructor."""
    with unit.read() as session:
        row = attempt_row(session, actor, attempt_id)
        result = queries.attempts.result(session, attempt_id)
        answers = queries.classes.answers(session, attempt_id)
        follow_ups = queries.follow_ups.of_attempt(session, attempt_id)
        versions = queries.policies.versions(session, actor.school_id)
    if result is None or row.submitted_at is None:
        raise Refused("This has not been handed in", "Hand it in first")
    scenario = scenario_of(result.document or row.document, row.variation)
    return ResultView(
        attempt_id=row.attempt_id,
        student=row.student,
        seed=row.seed,
        scenario=scenario,
        answers=answers,
        marks=result.marks,
        out_of=result.out_of,
        safe=result.safe,
        outcome=result.outcome,
        stops=result.stops,
        findings=result.findings,
        tasks=result.tasks,
        solver_version=result.solver_version,
        started_at=row.started_at,
        submitted_at=row.submitted_at,
        follow_ups=follow_ups,
        decision=_decision(scenario, result, versions),
    )


def _decision(scenario: Scenario, result: Result, versions: Sequence[PolicyVersion]) -> Decision:
    """Return what the recorded outcome hangs on."""
    earned = [
        Earned(strand_of(scenario.task(task.task_id)), task.marks, task.out_of)
        for task in result.tasks
    ]
    rule = rule_by(result.policy_number, result.pass_share, scenario, versions)
    return decided(earned, rule, is_safe=result.safe)


def _with_wait(one: MyScenario, policy: SchoolPolicy) -> MyScenario:
    if one.outcome is None or one.submitted_at is None:
        return one
    return replace(
        one, again_from=again_from(one.outcome, one.submitted_at, policy.retry_wait_hours)
    )


def _known_answer(session: Session, answer: TypedAnswer) -> tables.Answer | None:
    known = session.scalar(
        select(tables.Answer).where(
            tables.Answer.attempt_id == answer.attempt_id,
            tables.Answer.client_key == answer.client_key,
        )
    )
    if known is not None and (known.task_id, known.typed) != (answer.task_id, answer.typed):
        raise Conflict("This was sent before with another answer", "Send it again")
    return known


def _require_task(scenario: Scenario, task_id: str) -> None:
    if task_id not in {task.id for task in scenario.tasks}:
        raise NotFound("task")


def _check(answer: TypedAnswer) -> None:
    checks = Checks()
    checks.key("client_key", answer.client_key)
    if len(json.dumps(answer.typed)) > LONGEST_ANSWER:
        checks.add(answer.task_id, "It is too long", "Write the answer, no more")
    checks.done()
