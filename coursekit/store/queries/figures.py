"""The marks of all papers of one scenario version, for figures over many classes."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.store.queries.classes import counting_result
from coursekit.store.tables import Attempt, AttemptResult, ClassScenario, TaskMark


@dataclass(frozen=True)
class ScoreRow:
    """The mark of one task of one paper, with the paper's outcome."""

    attempt_id: int
    class_id: int
    outcome: str
    task_id: str
    marks: float
    out_of: float
    verdict: str
    slips: tuple[str, ...]


def scores(session: Session, school_id: int, version_id: int, newest: int) -> tuple[ScoreRow, ...]:
    """Return the marks that count of the `newest` papers of a version: 1 query."""
    papers = (
        select(
            AttemptResult.id.label("result_id"),
            Attempt.id.label("attempt_id"),
            ClassScenario.class_session_id.label("class_id"),
            AttemptResult.outcome.label("outcome"),
        )
        .join(Attempt, Attempt.id == AttemptResult.attempt_id)
        .join(ClassScenario, ClassScenario.id == Attempt.class_scenario_id)
        .where(
            ClassScenario.school_id == school_id,
            ClassScenario.scenario_version_id == version_id,
            AttemptResult.id == counting_result(Attempt.id),
            # A second try by the same student would count one person twice.
            Attempt.try_number == 1,
        )
        .order_by(Attempt.submitted_at.desc(), Attempt.id.desc())
        .limit(newest)
        .subquery()
    )
    rows = session.execute(
        select(
            papers.c.attempt_id,
            papers.c.class_id,
            papers.c.outcome,
            TaskMark.task_id,
            TaskMark.marks,
            TaskMark.out_of,
            TaskMark.verdict,
            TaskMark.slips,
        )
        .join(TaskMark, TaskMark.attempt_result_id == papers.c.result_id)
        .order_by(papers.c.attempt_id, TaskMark.position)
    )
    return tuple(
        ScoreRow(attempt_id, class_id, outcome, task_id, marks, out_of, verdict, tuple(slips))
        for attempt_id, class_id, outcome, task_id, marks, out_of, verdict, slips in rows
    )
