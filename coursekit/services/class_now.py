"""The class right now: who is in, what arrived task by task, and how it was marked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import AnyTask
from coursekit.services.actor import Actor, Role
from coursekit.services.class_head import head_of
from coursekit.services.versions import scenario_of
from coursekit.store import queries
from coursekit.store.queries.classes import (
    AttemptInClass,
    ClassHead,
    MarkInClass,
    ScenarioInClass,
    StudentInClass,
)
from coursekit.store.queries.pulls import PullRow
from coursekit.store.unit import Unit


@dataclass(frozen=True)
class GivenMark:
    """One student's mark for one task, for the strip between truth and slips."""

    student: str
    attempt_id: int
    verdict: str
    marks: float
    slips: tuple[str, ...]
    given: Any
    truth: Any
    flagged: bool


@dataclass(frozen=True)
class TaskNow:
    """One task: how many sent an answer, and how those handed in were marked."""

    task: AnyTask
    sent: int
    marks: tuple[GivenMark, ...]

    @property
    def verdicts(self) -> tuple[tuple[str, int], ...]:
        """How often each verdict was given, the most frequent first."""
        return tuple(Counter(mark.verdict for mark in self.marks).most_common())

    @property
    def slips(self) -> tuple[tuple[str, int], ...]:
        """How often each slip was seen, the most frequent first."""
        return tuple(Counter(slip for mark in self.marks for slip in mark.slips).most_common())


@dataclass(frozen=True)
class ScenarioNow:
    """One scenario of the class, task by task."""

    class_scenario_id: int
    version_id: int
    position: int
    scenario: Scenario
    tasks: tuple[TaskNow, ...]


@dataclass(frozen=True)
class AttemptNow:
    """How far a student is with one scenario."""

    attempt_id: int
    class_scenario_id: int
    status: str
    answered: int
    tasks: int
    marks: float | None
    out_of: float | None
    outcome: str | None


@dataclass(frozen=True)
class StudentNow:
    """A student with the attempts made so far."""

    enrolment_id: int
    name: str
    joined_at: datetime
    attempts: tuple[AttemptNow, ...]


@dataclass(frozen=True)
class ClassNow:
    """A class with all that it holds."""

    head: ClassHead
    scenarios: tuple[ScenarioNow, ...]
    students: tuple[StudentNow, ...]
    pulls: tuple[PullRow, ...]


@dataclass(frozen=True)
class _Rows:
    """What the database holds of a class."""

    scenarios: tuple[ScenarioInClass, ...]
    students: tuple[StudentInClass, ...]
    attempts: tuple[AttemptInClass, ...]
    marks: tuple[MarkInClass, ...]
    answered: frozenset[tuple[int, str]]


def class_now(unit: Unit, actor: Actor, class_id: int) -> ClassNow:
    """Return a class as it is now: 7 queries, however many students it has."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        head = head_of(session, actor.school_id, class_id)
        rows = _Rows(
            scenarios=queries.classes.scenarios(session, class_id),
            students=queries.classes.students(session, class_id),
            attempts=queries.classes.attempts(session, class_id),
            marks=queries.classes.marks(session, class_id),
            answered=queries.classes.answered(session, class_id),
        )
        pulls = queries.pulls.pulls_of_class(session, actor.school_id, class_id)
    scenarios = tuple(_scenario(row, rows) for row in rows.scenarios)
    students = tuple(_student(row, scenarios, rows) for row in rows.students)
    return ClassNow(head, scenarios, students, pulls)


def _scenario(row: ScenarioInClass, rows: _Rows) -> ScenarioNow:
    scenario = scenario_of(row.document, {})
    names = {student.enrolment_id: student.name for student in rows.students}
    by = {
        attempt.attempt_id: names[attempt.enrolment_id]
        for attempt in rows.attempts
        if attempt.class_scenario_id == row.class_scenario_id
    }
    return ScenarioNow(
        class_scenario_id=row.class_scenario_id,
        version_id=row.version_id,
        position=row.position,
        scenario=scenario,
        tasks=tuple(_task(task, by, rows) for task in scenario.tasks),
    )


def _task(task: AnyTask, by: dict[int, str], rows: _Rows) -> TaskNow:
    return TaskNow(
        task=task,
        sent=sum((attempt_id, task.id) in rows.answered for attempt_id in by),
        marks=tuple(
            GivenMark(
                student=by[mark.attempt_id],
                attempt_id=mark.attempt_id,
                verdict=mark.verdict,
                marks=mark.marks,
                slips=mark.slips,
                given=mark.given,
                truth=mark.truth,
                flagged=mark.flagged,
            )
            for mark in rows.marks
            if mark.task_id == task.id and mark.attempt_id in by
        ),
    )


def _student(row: StudentInClass, scenarios: Sequence[ScenarioNow], rows: _Rows) -> StudentNow:
    tasks = {scenario.class_scenario_id: len(scenario.tasks) for scenario in scenarios}
    places = {scenario.class_scenario_id: scenario.position for scenario in scenarios}
    made = [attempt for attempt in rows.attempts if attempt.enrolment_id == row.enrolment_id]
    return StudentNow(
        enrolment_id=row.enrolment_id,
        name=row.name,
        joined_at=row.joined_at,
        attempts=tuple(
            _attempt(attempt, tasks[attempt.class_scenario_id], rows)
            for attempt in sorted(made, key=lambda one: places[one.class_scenario_id])
        ),
    )


def _attempt(attempt: AttemptInClass, tasks: int, rows: _Rows) -> AttemptNow:
    return AttemptNow(
        attempt_id=attempt.attempt_id,
        class_scenario_id=attempt.class_scenario_id,
        status=attempt.status,
        answered=sum(attempt_id == attempt.attempt_id for attempt_id, _ in rows.answered),
        tasks=tasks,
        marks=attempt.marks,
        out_of=attempt.out_of,
        outcome=attempt.outcome,
    )
