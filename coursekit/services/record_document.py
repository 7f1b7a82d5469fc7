"""What a record of assessment holds, as one plain document: everything that decided it.

People stand in it by their ids alone.  Where somebody wrote the student's name into a note
or a reason, other words stand in its place: a record is kept longer than a name.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.rigging.solver import SOLVER_VERSION
from coursekit.scenario.strands import STRANDS
from coursekit.scenario.yard import criteria_of
from coursekit.services.results import ClassResults, MarkedTry, ScenarioResult, StudentResult
from coursekit.services.sheets import said_document
from coursekit.services.versions import scenario_of
from coursekit.services.yard_places import YardPlace
from coursekit.store import queries, tables
from coursekit.store.queries.attempts import TaskResult
from coursekit.store.queries.records import MarkingRow

FORMAT = 1
STUDENT = "(the student)"


@dataclass(frozen=True)
class Circumstances:
    """What only those who were there know: the place, ground and weather, adjustments made."""

    place: str
    conditions: str
    adjustments: str


def record_document(
    session: Session, school_id: int, results: ClassResults, student: StudentResult,
    circumstances: Circumstances,
) -> dict[str, Any]:  # fmt: skip
    """Return the document of a student's record: 1 query and 4 for each paper."""
    group = session.get_one(tables.ClassSession, results.head.id)
    papers = [
        _paper(session, school_id, result, result.counting)
        for result in student.scenarios
        if result.counting is not None
    ]
    assessed = {strand for paper in papers for strand in paper["strands"]}
    return {
        "format": FORMAT,
        "class": {
            "id": group.id,
            "title": group.title,
            "course": results.head.course,
            "on": group.on.isoformat(),
            "timezone": group.timezone,
            "opened_at": _moment(group.opened_at),
            "closed_at": _moment(group.closed_at),
        },
        "student": student.person_id,
        "assessor": group.instructor_id,
        "place": circumstances.place,
        "conditions": circumstances.conditions,
        "adjustments": circumstances.adjustments,
        "policy": results.policy.number,
        "solver": SOLVER_VERSION,
        "kit": list(queries.records.kit_used(session, school_id, group.id)),
        "papers": papers,
        "yard": [_yard(one.yard) for one in student.scenarios if one.yard is not None],
        "missing": [one.scenario.title for one in student.scenarios if one.counting is None],
        "assessed": [strand for strand in STRANDS if strand in assessed],
        "marks": student.marks,
        "out_of": student.out_of,
        "outcome": student.outcome,
    }


def _paper(
    session: Session, school_id: int, result: ScenarioResult, made: MarkedTry
) -> dict[str, Any]:
    row = queries.attempts.attempt(session, school_id, made.attempt_id)
    marking = queries.attempts.result(session, made.attempt_id)
    if row is None or marking is None:
        raise LookupError(f"attempt {made.attempt_id} has no marking")
    answers = queries.classes.answers(session, made.attempt_id)
    scenario = scenario_of(marking.document or row.document, dict(row.variation))
    return {
        "attempt": made.attempt_id,
        "scenario": result.scenario.slug,
        "title": result.scenario.title,
        "version": _version_of(session, made.attempt_id, result.scenario.version_id),
        "digest": scenario.digest,
        "try": made.number,
        "seed": str(made.seed),
        "numbers": dict(row.variation),
        "locale": row.locale,
        "started_at": _moment(row.started_at),
        "submitted_at": _moment(row.submitted_at),
        "pass_share": made.decision.rule.pass_share,
        "policy": made.decision.rule.policy,
        "strands": {
            one.strand: [one.marks, one.out_of, one.minimum] for one in made.decision.strands
        },
        "tasks": [_task(task, answers) for task in marking.tasks],
        "stops": [said_document(stop) for stop in marking.stops],
        "markings": [
            _marking(one, row.student) for one in queries.records.markings(session, made.attempt_id)
        ],
        "marks": marking.marks,
        "out_of": marking.out_of,
        "outcome": marking.outcome,
        "solver": marking.solver_version,
    }


def _yard(place: YardPlace) -> dict[str, Any]:
    outcome, name = place.outcome, place.student.name
    return {
        "scenario": place.scenario.id,
        "title": place.scenario.title,
        "outcome": None if outcome is None else outcome.outcome,
        "marks": None if outcome is None else outcome.marks,
        "out_of": None if outcome is None else outcome.out_of,
        "criteria": {name: one.text for name, one in criteria_of(place.scenario.yard)},
        "sheets": [
            {
                "kind": sheet.kind,
                "by": sheet.assessor_id,
                "levels": {name: int(level) for name, level in sheet.levels.items()},
                "notes": {key: _nameless(note, name) for key, note in sheet.notes.items()},
                "reason": _nameless(sheet.reason, name),
                "at": _moment(sheet.handed_in_at),
            }
            for sheet in place.sheets
        ],
    }


def _version_of(session: Session, attempt_id: int, of_class: int) -> int:
    """Return the version by which an attempt was marked: of its class, or a corrected one."""
    remarked = session.scalar(
        select(tables.AttemptResult.scenario_version_id).where(
            tables.AttemptResult.id == queries.classes.counting_result(attempt_id)
        )
    )
    return of_class if remarked is None else remarked


def _task(task: TaskResult, answers: dict[str, Any]) -> dict[str, Any]:
    return {
        "task": task.task_id,
        "typed": answers.get(task.task_id),
        "given": task.given,
        "verdict": task.verdict,
        "marks": task.marks,
        "out_of": task.out_of,
        "slips": list(task.slips),
        "feedback": [said_document(message) for message in task.feedback],
    }


def _marking(row: MarkingRow, student: str) -> dict[str, Any]:
    return {
        "number": row.number,
        "kind": row.kind,
        "by": row.by,
        "code": row.code,
        "reason": None if row.reason is None else _nameless(row.reason, student),
        "marks": row.marks,
        "out_of": row.out_of,
        "outcome": row.outcome,
        "at": _moment(row.at),
    }


def _nameless(text: str, name: str) -> str:
    return text.replace(name, STUDENT)


def _moment(value: Any) -> str | None:
    return None if value is None else value.isoformat()
