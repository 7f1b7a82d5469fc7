"""Moderating: marks changed with a reason, and all that became of a paper's marks.

Nothing is overwritten: each change is a new marking beside the old ones, with who made it,
when and why.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise

from coursekit.assessment.moderation import (
    Held,
    Move,
    against_change,
    marks_typed,
    moves,
)
from coursekit.problems import Message
from coursekit.services.actor import Actor, Role
from coursekit.services.attempts import attempt_row
from coursekit.services.counting import counting_paper, keep_change, reason_checked, refuse
from coursekit.services.errors import NotFound, Refused
from coursekit.services.sheets import Made
from coursekit.store import queries
from coursekit.store.queries.reviews import APPEAL, EXCUSE, MarkingRow, RequestRow
from coursekit.store.unit import Unit

__all__ = ["Change", "MarkChange", "MarkingRow", "PaperHistory", "change_mark", "paper_history"]


@dataclass(frozen=True)
class MarkChange:
    """Other marks for one task, as typed; `seen` is the number of the marking that was shown."""

    attempt_id: int
    task_id: str
    marks: str
    code: str
    reason: str
    seen: int


@dataclass(frozen=True)
class Change:
    """What one marking changed of the one that counted before it."""

    marking: MarkingRow
    moves: tuple[Move, ...]
    outcome_before: str
    excused: tuple[Message, ...]


@dataclass(frozen=True)
class PaperHistory:
    """All that became of a paper's marks: `number` is the marking that counts."""

    attempt_id: int
    number: int
    changes: tuple[Change, ...]
    requests: tuple[RequestRow, ...]

    @property
    def open_appeal(self) -> RequestRow | None:
        """The appeal that waits for an answer."""
        return next((one for one in self.requests if one.is_open and one.kind == APPEAL), None)

    @property
    def open_excuses(self) -> tuple[RequestRow, ...]:
        """The wishes to excuse a finding that wait for an answer."""
        return tuple(one for one in self.requests if one.is_open and one.kind == EXCUSE)


def paper_history(unit: Unit, actor: Actor, attempt_id: int) -> PaperHistory:
    """Return what became of a paper's marks: its student's own, or any for an instructor."""
    with unit.read() as session:
        attempt_row(session, actor, attempt_id)
        rows = [row for row in queries.reviews.markings(session, attempt_id) if row.counts]
        earned = queries.results.earned(session, [row.result_id for row in rows])
        asked = queries.reviews.requests(session, attempt_id)
    held = {
        result_id: [Held(task.task_id, task.marks, task.out_of) for task in tasks]
        for result_id, tasks in earned.items()
    }
    changes = tuple(
        Change(
            new,
            moves(held.get(old.result_id, ()), held.get(new.result_id, ())),
            old.outcome,
            tuple(stop for stop in old.stops if stop not in new.stops),
        )
        for old, new in pairwise(rows)
    )
    return PaperHistory(attempt_id, rows[-1].number if rows else 0, changes, asked)


def change_mark(unit: Unit, actor: Actor, change: MarkChange, now: datetime) -> None:
    """Give one task other marks, with a reason that the student reads too."""
    actor.require(Role.INSTRUCTOR)
    reason = reason_checked(change.code, change.reason)
    with unit.write() as session:
        paper = counting_paper(session, actor, change.attempt_id, change.seen)
        refuse(against_change(actor.person_id, paper.markers, is_appealed=paper.is_appealed))
        held = next((one for one in paper.sheet.held if one.task == change.task_id), None)
        if held is None:
            raise NotFound("task")
        marks = marks_typed(change.marks, held.out_of)
        if marks == held.marks:
            raise Refused("These are the marks that it has", "Give others, or leave it")
        sheet = paper.sheet.with_marks({change.task_id: marks})
        made = Made(now, "changed", actor.person_id, change.code, reason)
        keep_change(session, paper, sheet, made)
