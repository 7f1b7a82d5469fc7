"""Marking a handed-in attempt, and keeping the marks with their reasons."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from babel.numbers import get_decimal_symbol
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.assessment.marking import Desk
from coursekit.assessment.marks import Paper, TaskMark
from coursekit.assessment.replies import Reply
from coursekit.assessment.results import Earned, decided
from coursekit.files.replies import reply_of
from coursekit.problems import Message
from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.findings import Finding
from coursekit.rigging.solver import SOLVER_VERSION
from coursekit.scenario.model import Scenario
from coursekit.scenario.strands import strand_of
from coursekit.scenario.tasks import AnyTask
from coursekit.services.policies import rule_of
from coursekit.store import tables


def marked(scenario: Scenario, answers: Mapping[str, Any], locale: str) -> Paper:
    """Return the marks of typed answers, read as people of a locale write numbers."""
    return Marker(scenario, locale).paper(answers)


class Marker:
    """Marks many papers of one variation; the same text is read once, and marked once."""

    def __init__(self, scenario: Scenario, locale: str) -> None:
        self._desk = Desk(scenario, shower(units_of(scenario)))
        self._decimal_comma = get_decimal_symbol(locale) == ","
        self._read: dict[tuple[str, str], Reply | None] = {}

    def paper(self, answers: Mapping[str, Any]) -> Paper:
        """Return the marks of one set of typed answers."""
        tasks = self._desk.scenario.tasks
        return self._desk.mark({task.id: self._reply(task, answers.get(task.id)) for task in tasks})

    def _reply(self, task: AnyTask, answer: Any) -> Reply | None:
        typed = _document(answer)
        at = (task.id, typed if isinstance(typed, str) else json.dumps(typed, sort_keys=True))
        if at not in self._read:
            self._read[at] = reply_of(
                self._desk.scenario, task, typed, decimal_comma=self._decimal_comma
            )
        return self._read[at]


def store_result(session: Session, attempt: tables.Attempt, paper: Paper, now: datetime) -> None:
    """Keep a marking beside those that were made before, decided by the rule of the first."""
    rule = rule_of(session, attempt, paper.scenario)
    outcome = decided(earned_in(paper), rule, is_safe=paper.is_safe).outcome
    result = tables.AttemptResult(
        school_id=attempt.school_id,
        attempt_id=attempt.id,
        number=_next_number(session, attempt.id),
        kind="first",
        counts=True,
        marks=paper.marks,
        out_of=paper.out_of,
        safe=paper.is_safe,
        outcome=outcome,
        policy_number=rule.policy,
        pass_share=rule.pass_share,
        stops=[said_document(stop) for stop in paper.stops],
        findings=[_finding(found) for task in paper.tasks for found in task.findings],
        solver_version=SOLVER_VERSION,
        marked_at=now,
    )
    session.add(result)
    session.flush()
    session.add_all(
        _task_row(result, position, mark) for position, mark in enumerate(paper.tasks, start=1)
    )


def earned_in(paper: Paper) -> tuple[Earned, ...]:
    """Return what each task of a paper earned, with its strand."""
    strands = {task.id: strand_of(task) for task in paper.scenario.tasks}
    return tuple(Earned(strands[mark.task], mark.marks, mark.out_of) for mark in paper.tasks)


def _document(typed: Any) -> Any:
    """Return what is marked of an answer: of a rig form, the rig that it built."""
    if isinstance(typed, Mapping) and "rig" in typed:
        return typed["rig"]
    return typed


def _next_number(session: Session, attempt_id: int) -> int:
    last = session.scalar(
        select(func.max(tables.AttemptResult.number)).where(
            tables.AttemptResult.attempt_id == attempt_id
        )
    )
    return (last or 0) + 1


def _task_row(result: tables.AttemptResult, position: int, mark: TaskMark) -> tables.TaskMark:
    return tables.TaskMark(
        school_id=result.school_id,
        attempt_result_id=result.id,
        task_id=mark.task,
        position=position,
        marks=mark.marks,
        out_of=mark.out_of,
        verdict=mark.verdict,
        slips=list(mark.slips),
        given=_plain(mark.given),
        truth=_plain(mark.truth),
        expected=_plain(mark.expected),
        feedback=[said_document(message) for message in mark.feedback],
        flagged=mark.flagged,
    )


def said_document(message: Message) -> dict[str, Any]:
    """Return a sentence so that it can still be translated when it is read."""
    values = {
        name: said_document(value) if isinstance(value, Message) else _plain(value)
        for name, value in message.values.items()
    }
    return {"template": message.template, "values": values}


def _finding(found: Finding) -> dict[str, Any]:
    return {
        "rule": found.rule,
        "severity": found.severity,
        "at": found.at,
        "item": found.item,
        "message": str(found.message),
        "said": said_document(found.message),
    }


def _plain(value: Any) -> Any:
    if value is None or isinstance(value, bool | int | float | str):
        return value
    return [_plain(part) for part in value] if isinstance(value, list | tuple) else str(value)
