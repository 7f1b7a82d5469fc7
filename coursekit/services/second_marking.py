"""Second marking: another instructor marks papers blind, and both agree on what counts.

Blind marks never count by themselves.  Both markings are then compared, and what is agreed
becomes a new marking with its reason.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy.orm import Session

from coursekit.assessment.moderation import (
    Held,
    PairMarked,
    PairsSeen,
    against_change,
    against_second_marks,
    marks_typed,
    pairs_seen,
    sampled,
)
from coursekit.problems import Message, Problem, Problems
from coursekit.scenario.model import Scenario
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import Checks
from coursekit.services.class_head import head_of
from coursekit.services.counting import (
    CountingPaper,
    counting_paper,
    keep_change,
    reason_checked,
    refuse,
)
from coursekit.services.errors import Refused
from coursekit.services.sheets import Made, said_document
from coursekit.services.versions import scenario_of
from coursekit.store import queries
from coursekit.store.queries.classes import ClassHead
from coursekit.store.queries.reviews import MarkingRow
from coursekit.store.queries.seconds import ClassMarking
from coursekit.store.unit import Unit

__all__ = [
    "Agreed",
    "BlindPaper",
    "Comparison",
    "PaperTwice",
    "SecondMarks",
    "SecondPage",
    "agree",
    "blind_paper",
    "class_second_marking",
    "comparison",
    "mark_second",
]

SECOND = "second"
UNSAFE = "{said}"


@dataclass(frozen=True)
class PaperTwice:
    """A paper of a class: whether it was marked twice, and what the two came to.

    `may_mark` says whether who asks may be its second marker.
    """

    attempt_id: int
    student: str
    scenario: str
    is_sampled: bool
    pair: PairMarked | None
    is_agreed: bool
    may_mark: bool


@dataclass(frozen=True)
class SecondPage:
    """The papers of a class for a second marker, those of the sample first."""

    head: ClassHead
    papers: tuple[PaperTwice, ...]
    seen: PairsSeen
    pairs: tuple[PairMarked, ...]


@dataclass(frozen=True)
class BlindPaper:
    """A paper without its marks: what was asked, what was answered."""

    attempt_id: int
    scenario: Scenario
    answers: Mapping[str, Any]


@dataclass(frozen=True)
class SecondMarks:
    """Marks for every task, as typed, and what in the paper would hurt somebody, if anything."""

    attempt_id: int
    marks: Mapping[str, str]
    unsafe: str


@dataclass(frozen=True)
class Comparison:
    """A paper as two marked it; `counts` is the number of the marking that counts now."""

    attempt_id: int
    student: str
    scenario: Scenario
    answers: Mapping[str, Any]
    first: MarkingRow
    second: MarkingRow
    tasks: tuple[tuple[Held, Held], ...]
    counts: int
    is_agreed: bool


@dataclass(frozen=True)
class Agreed:
    """What two markers agreed on: marks for the tasks in which they differ, as typed."""

    attempt_id: int
    marks: Mapping[str, str]
    is_unsafe: bool
    code: str
    reason: str
    seen: int


def class_second_marking(unit: Unit, actor: Actor, class_id: int) -> SecondPage:
    """Return the papers of a class with what two markers gave them: 4 queries."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        head = head_of(session, actor.school_id, class_id)
        rows = queries.seconds.markings(session, actor.school_id, class_id)
        earned = queries.results.earned(session, [row.result_id for row in rows])
    held = {
        result_id: tuple(Held(task.task_id, task.marks, task.out_of) for task in tasks)
        for result_id, tasks in earned.items()
    }
    papers: dict[int, list[ClassMarking]] = {}
    for row in rows:
        papers.setdefault(row.attempt_id, []).append(row)
    sample = sampled(tuple(papers))
    twice = [_twice(marked, held, sample, actor.person_id) for marked in papers.values()]
    pairs = tuple(one.pair for one in twice if one.pair is not None)
    listed = sorted(twice, key=lambda one: (not one.is_sampled, one.scenario, one.student))
    return SecondPage(head, tuple(listed), pairs_seen(pairs), pairs)


def blind_paper(unit: Unit, actor: Actor, attempt_id: int) -> BlindPaper:
    """Return a paper to be marked blind; refused to whoever knows its marks."""
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        paper = _blind(session, actor, attempt_id)
        answers = queries.classes.answers(session, attempt_id)
        return BlindPaper(attempt_id, _scenario(paper), answers)


def mark_second(unit: Unit, actor: Actor, given: SecondMarks, now: datetime) -> None:
    """Keep the blind marks of a second marker; they do not count."""
    actor.require(Role.INSTRUCTOR)
    checks = Checks()
    unsafe = checks.text("unsafe", given.unsafe, needed=False)
    checks.done()
    with unit.write() as session:
        paper = _blind(session, actor, given.attempt_id)
        marks = _all_typed(given.marks, paper.sheet.held)
        tasks = tuple(
            {**task, "slips": [], "feedback": [], "flagged": False} for task in paper.sheet.tasks
        )
        sheet = replace(paper.sheet, tasks=tasks, stops=_stops(unsafe)).with_marks(marks)
        keep_change(session, paper, sheet, Made(now, SECOND, actor.person_id))


def comparison(unit: Unit, actor: Actor, attempt_id: int) -> Comparison:
    """Return a paper that was marked twice, both side by side."""
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        paper = counting_paper(session, actor, attempt_id, None)
        first, second = _pair(paper)
        earned = queries.results.earned(session, [first.result_id, second.result_id])
        student = queries.attempts.attempt(session, actor.school_id, attempt_id)
        answers = queries.classes.answers(session, attempt_id)
    twice = [
        {one.task_id: Held(one.task_id, one.marks, one.out_of) for one in earned[row.result_id]}
        for row in (first, second)
    ]
    return Comparison(
        attempt_id,
        student.student if student else "",
        _scenario(paper),
        answers,
        first,
        second,
        tuple((held, twice[1][task]) for task, held in twice[0].items() if task in twice[1]),
        paper.result.number,
        is_agreed=paper.result.number > second.number,
    )


def agree(unit: Unit, actor: Actor, agreed: Agreed, now: datetime) -> None:
    """Keep what two markers agreed on; it counts from now on.

    A critical finding of the first marking stays: only excusing it takes it away.
    """
    actor.require(Role.INSTRUCTOR)
    reason = reason_checked(agreed.code, agreed.reason)
    with unit.write() as session:
        paper = counting_paper(session, actor, agreed.attempt_id, agreed.seen)
        refuse(against_change(actor.person_id, paper.markers, is_appealed=paper.is_appealed))
        _first, second = _pair(paper)
        if paper.result.number > second.number:
            raise Refused("Both have agreed already", "Change a mark on the paper instead")
        asked = [one for one in paper.sheet.held if one.task in agreed.marks]
        marks = _all_typed(agreed.marks, asked)
        stops = list(paper.sheet.stops)
        if agreed.is_unsafe:
            stops += [said for stop in second.stops if (said := said_document(stop)) not in stops]
        sheet = replace(paper.sheet, stops=tuple(stops)).with_marks(marks)
        made = Made(now, "agreed", actor.person_id, agreed.code, reason)
        keep_change(session, paper, sheet, made)


def _blind(session: Session, actor: Actor, attempt_id: int) -> CountingPaper:
    paper = counting_paper(session, actor, attempt_id, None)
    if any(row.kind == SECOND for row in paper.markings):
        raise Refused("This paper was marked a second time already", "Compare the two markings")
    everybody = queries.reviews.markers(paper.markings, paper.markings[-1].number)
    teacher = queries.reviews.class_instructor(session, attempt_id)
    refuse(against_second_marks(actor.person_id, everybody, teacher))
    return paper


def _pair(paper: CountingPaper) -> tuple[MarkingRow, MarkingRow]:
    """Return the marking that counted when the second one was made, and that one."""
    second = next((row for row in reversed(paper.markings) if row.kind == SECOND), None)
    if second is None:
        raise Refused("This paper was not marked a second time", "Let another instructor mark it")
    first = [row for row in paper.markings if row.counts and row.number < second.number]
    return first[-1], second


def _twice(
    marked: Sequence[ClassMarking],
    held: Mapping[int, tuple[Held, ...]],
    sample: frozenset[int],
    person_id: int,
) -> PaperTwice:
    last = marked[-1]
    markers = {row.by_id for row in marked if row.by_id is not None}
    second = next((row for row in reversed(marked) if row.kind == SECOND), None)
    pair = None
    if second is not None:
        first = [row for row in marked if row.counts and row.number < second.number][-1]
        other = {one.task: one for one in held.get(second.result_id, ())}
        tasks = held.get(first.result_id, ())
        both = tuple((one, other[one.task]) for one in tasks if one.task in other)
        pair = PairMarked(first.outcome, second.outcome, both)
    return PaperTwice(
        last.attempt_id,
        last.student,
        last.scenario,
        last.attempt_id in sample,
        pair,
        is_agreed=second is not None and last.number > second.number,
        may_mark=against_second_marks(person_id, markers, last.class_instructor) is None,
    )


def _all_typed(typed: Mapping[str, str], held: Sequence[Held]) -> dict[str, float]:
    """Return marks for all tasks, or raise everything that is wrong with them."""
    marks: dict[str, float] = {}
    problems: list[Problem] = []
    for one in held:
        try:
            marks[one.task] = marks_typed(typed.get(one.task, ""), one.out_of, one.task)
        except Problems as found:
            problems += found.items
    if problems:
        raise Problems(problems)
    return marks


def _stops(unsafe: str) -> tuple[Mapping[str, Any], ...]:
    return (said_document(Message(UNSAFE, {"said": unsafe})),) if unsafe else ()


def _scenario(paper: CountingPaper) -> Scenario:
    return scenario_of(paper.document, paper.attempt.variation)
