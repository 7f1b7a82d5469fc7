"""A marked paper as the JSON of `mark`, in SI."""

from __future__ import annotations

from typing import Any

from coursekit.assessment.marks import Paper, TaskMark
from coursekit.files.solution_document import plain
from coursekit.rigging.solver import SOLVER_VERSION


def paper_document(paper: Paper, seed: int | None) -> dict[str, Any]:
    """Return the marks of a paper, task by task, as plain data."""
    return {
        "scenario": paper.scenario.id,
        "seed": seed,
        "solver": SOLVER_VERSION,
        "marks": _marks(paper.marks),
        "out_of": _marks(paper.out_of),
        "safe": paper.is_safe,
        "outcome": paper.outcome,
        "stops": [str(stop) for stop in paper.stops],
        "tasks": [_task(task) for task in paper.tasks],
    }


def _task(task: TaskMark) -> dict[str, Any]:
    return {
        "id": task.task,
        "marks": _marks(task.marks),
        "out_of": _marks(task.out_of),
        "verdict": task.verdict,
        "slips": list(task.slips),
        "given": plain(task.given),
        "truth": plain(task.truth),
        "expected": plain(task.expected),
        "feedback": " ".join(str(message) for message in task.feedback),
    }


def _marks(marks: float) -> float | int:
    """Return whole marks as whole numbers.

    >>> _marks(9.0), _marks(9.5)
    (9, 9.5)
    """
    return int(marks) if float(marks).is_integer() else marks
