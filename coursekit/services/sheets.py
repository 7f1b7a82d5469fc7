"""Marking sheets: a marking as it is kept, whether the solver or a person made it."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import func, insert, select
from sqlalchemy.orm import Session

from coursekit.assessment.marks import Paper, TaskMark
from coursekit.assessment.moderation import Held, verdict_for
from coursekit.assessment.results import Decision, Earned, Rule, decided
from coursekit.problems import Message
from coursekit.rigging.findings import Finding
from coursekit.rigging.solver import SOLVER_VERSION
from coursekit.scenario.model import Scenario
from coursekit.scenario.strands import strand_of
from coursekit.store import tables

# The columns of a task's mark that say what was marked, in place of where it is kept.
_KEPT = (
    "task_id",
    "position",
    "marks",
    "out_of",
    "verdict",
    "slips",
    "given",
    "truth",
    "expected",
    "feedback",
    "flagged",
)


@dataclass(frozen=True)
class Made:
    """How a marking came about; the solver's first one has no maker, code or reason.

    `version_id` names the scenario version, where it is not that of the class.
    """

    at: datetime
    kind: str = "first"
    by: int | None = None
    code: str | None = None
    reason: str | None = None
    version_id: int | None = None


@dataclass(frozen=True)
class Sheet:
    """Each task's mark, what makes the paper unsafe, and what else was found of its rigs."""

    tasks: tuple[Mapping[str, Any], ...]
    stops: tuple[Mapping[str, Any], ...]
    findings: tuple[Mapping[str, Any], ...]
    solver_version: str = SOLVER_VERSION

    @property
    def marks(self) -> float:
        """All marks earned."""
        return math.fsum(task["marks"] for task in self.tasks)

    @property
    def out_of(self) -> float:
        """All marks there are."""
        return math.fsum(task["out_of"] for task in self.tasks)

    @property
    def held(self) -> tuple[Held, ...]:
        """The tasks as moderation reads them."""
        return tuple(
            Held(task["task_id"], task["marks"], task["out_of"], task["verdict"])
            for task in self.tasks
        )

    def with_marks(self, marks: Mapping[str, float]) -> Sheet:
        """Return the sheet with other marks for some tasks, their verdicts made to fit."""
        return replace(self, tasks=tuple(_changed(task, marks) for task in self.tasks))

    def decision(self, scenario: Scenario, rule: Rule) -> Decision:
        """Return what it comes to by a rule."""
        strands = {task.id: strand_of(task) for task in scenario.tasks}
        earned = [
            Earned(strands[task["task_id"]], task["marks"], task["out_of"]) for task in self.tasks
        ]
        return decided(earned, rule, is_safe=not self.stops)


def sheet_of(paper: Paper) -> Sheet:
    """Return what is kept of a paper that the solver marked."""
    return Sheet(
        tuple(_task(position, mark) for position, mark in enumerate(paper.tasks, start=1)),
        tuple(said_document(stop) for stop in paper.stops),
        tuple(_finding(found) for task in paper.tasks for found in task.findings),
    )


def stored_sheet(session: Session, result: tables.AttemptResult) -> Sheet:
    """Return a marking that was kept: 1 query."""
    rows = session.scalars(
        select(tables.TaskMark)
        .where(tables.TaskMark.attempt_result_id == result.id)
        .order_by(tables.TaskMark.position)
    )
    return Sheet(
        tuple({name: getattr(row, name) for name in _KEPT} for row in rows),
        tuple(result.stops),
        tuple(result.findings),
        result.solver_version,
    )


def sheet_document(sheet: Sheet) -> dict[str, Any]:
    """Return a sheet as plain data, to be kept until it is written."""
    return {
        "tasks": list(sheet.tasks),
        "stops": list(sheet.stops),
        "findings": list(sheet.findings),
        "solver_version": sheet.solver_version,
    }


def sheet_of_document(document: Mapping[str, Any]) -> Sheet:
    """Return a sheet from its plain data."""
    return Sheet(
        tuple(document["tasks"]),
        tuple(document["stops"]),
        tuple(document["findings"]),
        document["solver_version"],
    )


@dataclass(frozen=True)
class Kept:
    """A sheet to be kept under a number, with its outcome and the rule that it was decided by."""

    attempt_id: int
    number: int
    sheet: Sheet
    outcome: str
    rule: tuple[int, float]
    made: Made

    def columns(self, school_id: int) -> dict[str, Any]:
        """Return the row of the marking."""
        made, sheet = self.made, self.sheet
        return {
            "school_id": school_id,
            "attempt_id": self.attempt_id,
            "number": self.number,
            "kind": made.kind,
            "counts": made.kind != "second",
            "marked_by": made.by,
            "code": made.code,
            "reason": made.reason,
            "scenario_version_id": made.version_id,
            "marks": sheet.marks,
            "out_of": sheet.out_of,
            "safe": not sheet.stops,
            "outcome": self.outcome,
            "policy_number": self.rule[0],
            "pass_share": self.rule[1],
            "stops": list(sheet.stops),
            "findings": list(sheet.findings),
            "solver_version": sheet.solver_version,
            "marked_at": made.at,
        }


def keep_sheet(
    session: Session, attempt: tables.Attempt, sheet: Sheet, decision: Decision, made: Made
) -> None:
    """Keep a marking beside those that were made before."""
    number = newest_number(session, attempt.id) + 1
    rule = (decision.rule.policy, decision.rule.pass_share)
    kept = Kept(attempt.id, number, sheet, decision.outcome, rule, made)
    keep_sheets(session, attempt.school_id, [kept])


def keep_sheets(session: Session, school_id: int, kept: Sequence[Kept]) -> None:
    """Keep many markings, each beside those of its attempt: 2 statements."""
    if not kept:
        return
    session.flush()
    ids = session.scalars(
        insert(tables.AttemptResult).returning(
            tables.AttemptResult.id, sort_by_parameter_order=True
        ),
        [one.columns(school_id) for one in kept],
    ).all()
    session.execute(
        insert(tables.TaskMark),
        [
            {"school_id": school_id, "attempt_result_id": result_id, **task}
            for result_id, one in zip(ids, kept, strict=True)
            for task in one.sheet.tasks
        ],
    )


def newest_number(session: Session, attempt_id: int) -> int:
    """Return the number of the newest marking of an attempt, 0 where there is none: 1 query."""
    last = session.scalar(
        select(func.max(tables.AttemptResult.number)).where(
            tables.AttemptResult.attempt_id == attempt_id
        )
    )
    return last or 0


def said_document(message: Message) -> dict[str, Any]:
    """Return a sentence so that it can still be translated when it is read."""
    values = {
        name: said_document(value) if isinstance(value, Message) else _plain(value)
        for name, value in message.values.items()
    }
    return {"template": message.template, "values": values}


def _changed(task: Mapping[str, Any], marks: Mapping[str, float]) -> Mapping[str, Any]:
    mark = marks.get(task["task_id"], task["marks"])
    if mark == task["marks"]:
        return task
    return {**task, "marks": mark, "verdict": verdict_for(task["verdict"], mark, task["out_of"])}


def _task(position: int, mark: TaskMark) -> dict[str, Any]:
    return {
        "task_id": mark.task,
        "position": position,
        "marks": mark.marks,
        "out_of": mark.out_of,
        "verdict": mark.verdict,
        "slips": list(mark.slips),
        "given": _plain(mark.given),
        "truth": _plain(mark.truth),
        "expected": _plain(mark.expected),
        "feedback": [said_document(message) for message in mark.feedback],
        "flagged": mark.flagged,
    }


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
