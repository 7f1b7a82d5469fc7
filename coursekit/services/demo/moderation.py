"""What became of the past class's marks: one changed, one appealed, some marked twice."""

from __future__ import annotations

from datetime import datetime, timedelta

from coursekit.services import moderating, reviewing, second_marking
from coursekit.services.actor import Actor
from coursekit.services.answering import result_view
from coursekit.services.demo.group import PastClass
from coursekit.services.moderating import MarkChange
from coursekit.services.second_marking import SecondMarks
from coursekit.store.unit import Unit

CHANGED = ("Lowri Tamm", "meadow-gate", "limit")
APPEALED = ("Kit Larkin", "snow-lane")
# Who was marked by a second person, and by how much the two differ in the first task.
TWICE = {("Abel Strand", "meadow-gate"): 0.0, ("Jory Penhale", "snow-lane"): 1.0}


def moderate(unit: Unit, past: PastClass, wren: Actor, tamsin: Actor) -> None:
    """Change a mark, let a student appeal, and let a second marker mark two papers."""
    at = past.over + timedelta(days=1)
    name, slug, task = CHANGED
    _student, attempt_id = past.papers[name, slug]
    why = "The number is right, and the form did not ask for a unit on paper"
    change = MarkChange(attempt_id, task, "1.5", "scheme-misapplied", why, seen=1)
    moderating.change_mark(unit, wren, change, at)
    student, attempt_id = past.papers[APPEALED]
    asked = "Task 3: I wrote down what the winch pulls, not what comes out at the point."
    reviewing.appeal(unit, student, attempt_id, asked, at)
    for paper, less in TWICE.items():
        _mark_blind(unit, tamsin, past.papers[paper][1], less, at)


def _mark_blind(unit: Unit, tamsin: Actor, attempt_id: int, less: float, at: datetime) -> None:
    """Give the marks that the solver gave, the first task so much less."""
    tasks = result_view(unit, tamsin, attempt_id).tasks
    marks = {task.task_id: f"{task.marks:g}" for task in tasks}
    first = next(task for task in tasks if task.marks >= less)
    marks[first.task_id] = f"{first.marks - less:g}"
    second_marking.mark_second(unit, tamsin, SecondMarks(attempt_id, marks, ""), at)
