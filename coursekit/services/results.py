"""The results of a class: what counts of each student, and what it comes to.

Outcomes are read as they were recorded, by the rule that was in force then; what hangs
on them (strands, the cut, what is near it) is worked out from the same rows.  Of several
tries at a scenario the last that was handed in counts, and all of them are told.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy.orm import Session

from coursekit.assessment.results import (
    Decision,
    Earned,
    StrandMark,
    decided,
    is_near_cut,
    overall,
    strand_marks,
)
from coursekit.problems import Message
from coursekit.scenario.model import Scenario
from coursekit.scenario.strands import strand_of
from coursekit.services.actor import Actor, Role
from coursekit.services.class_head import head_of
from coursekit.services.figures import standard_error_of
from coursekit.services.policies import rule_by
from coursekit.services.versions import scenario_of
from coursekit.services.yard_places import YardPlace, places_of
from coursekit.store import queries
from coursekit.store.queries.classes import ClassHead
from coursekit.store.queries.policies import PolicyVersion
from coursekit.store.queries.results import MarkedAttempt, StudentRow, TaskEarned
from coursekit.store.unit import Unit

__all__ = [
    "ClassResults",
    "Decision",
    "MarkedTry",
    "ScenarioInfo",
    "ScenarioResult",
    "StudentResult",
    "class_results",
    "results_in",
]


@dataclass(frozen=True)
class ScenarioInfo:
    """A scenario of the class: which version it is, and its standard error in marks if known."""

    class_scenario_id: int
    version_id: int
    slug: str
    title: str
    digest: str
    standard_error: float | None


@dataclass(frozen=True)
class MarkedTry:
    """One try that was handed in, with what it was decided by.

    `outcome` is the recorded one; `decision` says what it hangs on.
    """

    attempt_id: int
    number: int
    seed: int
    started_at: datetime
    submitted_at: datetime
    outcome: str
    decision: Decision
    tasks: tuple[TaskEarned, ...]
    stops: tuple[Message, ...]
    solver_version: str
    is_near_cut: bool


@dataclass(frozen=True)
class ScenarioResult:
    """A student at one scenario; the last of `tries` counts, none where nothing came in.

    Where the scenario has a yard list, `yard` is what was seen there, and paper and yard
    must both be competent.
    """

    scenario: ScenarioInfo
    tries: tuple[MarkedTry, ...]
    is_under_way: bool
    yard: YardPlace | None = None

    @property
    def counting(self) -> MarkedTry | None:
        """The try that counts."""
        return self.tries[-1] if self.tries else None

    @property
    def outcome(self) -> str | None:
        """The outcome of paper and yard together, None where neither came in."""
        paper = self.tries[-1].outcome if self.tries else None
        if self.yard is None:
            return paper
        seen = None if self.yard.outcome is None else self.yard.outcome.outcome
        return None if paper is None and seen is None else overall([paper, seen])


@dataclass(frozen=True)
class StudentResult:
    """A student of a class: scenario by scenario, and all together."""

    enrolment_id: int
    person_id: int
    name: str
    scenarios: tuple[ScenarioResult, ...]
    strands: tuple[StrandMark, ...]
    outcome: str

    @property
    def counting(self) -> tuple[MarkedTry, ...]:
        """The tries that count, in the order of the scenarios."""
        return tuple(one.counting for one in self.scenarios if one.counting is not None)

    @property
    def marks(self) -> float:
        """All marks that count."""
        return sum(one.decision.marks for one in self.counting)

    @property
    def out_of(self) -> float:
        """All marks that the handed-in scenarios could earn."""
        return sum(one.decision.out_of for one in self.counting)

    @property
    def stops(self) -> tuple[Message, ...]:
        """Every critical finding of the tries that count."""
        return tuple(stop for one in self.counting for stop in one.stops)

    @property
    def has_outcome(self) -> bool:
        """Whether anything came in of them: a paper, or a yard list that is settled."""
        return any(one.outcome is not None for one in self.scenarios)

    @property
    def is_near_cut(self) -> bool:
        """Whether a second assessor should look at one of the papers."""
        return any(one.is_near_cut for one in self.counting)


@dataclass(frozen=True)
class ClassResults:
    """A class with the results of its students, by name, and the policy now in force."""

    head: ClassHead
    policy: PolicyVersion
    scenarios: tuple[ScenarioInfo, ...]
    students: tuple[StudentResult, ...]


@dataclass(frozen=True)
class _Desk:
    """What working out a class's results needs at hand."""

    scenarios: Mapping[int, tuple[ScenarioInfo, Scenario]]
    attempts: tuple[MarkedAttempt, ...]
    remarked: Mapping[int, Scenario]
    earned: Mapping[int, tuple[TaskEarned, ...]]
    policies: tuple[PolicyVersion, ...]
    yard: Mapping[tuple[int, int], YardPlace]

    def scenario(self, attempt: MarkedAttempt) -> Scenario:
        """Return the scenario by which an attempt was marked: of the class, or a corrected one."""
        if attempt.remarked_by is not None:
            return self.remarked[attempt.remarked_by]
        return self.scenarios[attempt.class_scenario_id][1]


def class_results(unit: Unit, actor: Actor, class_id: int) -> ClassResults:
    """Return the results of a class of the actor's school, for its instructors and its head."""
    actor.require(Role.INSTRUCTOR, Role.HEAD)
    with unit.read() as session:
        return results_in(session, actor.school_id, class_id)


def results_in(session: Session, school_id: int, class_id: int) -> ClassResults:
    """Return the results of a class: 6 queries and 1 for each scenario.

    One more where papers were marked again by a corrected version.

    Raises
    ------
    NotFound
        If the school has no such class.
    """
    head = head_of(session, school_id, class_id)
    attempts = queries.results.attempts(session, school_id, class_id)
    marked = [one.result_id for one in attempts if one.result_id is not None]
    desk = _Desk(
        _scenarios(session, school_id, class_id),
        attempts,
        _remarked(session, school_id, attempts),
        queries.results.earned(session, marked),
        queries.policies.versions(session, school_id),
        {
            (place.student.enrolment_id, place.class_scenario_id): place
            for place in places_of(session, school_id, class_id)
        },
    )
    return ClassResults(
        head=head,
        policy=desk.policies[0],
        scenarios=tuple(info for info, _scenario in desk.scenarios.values()),
        students=tuple(
            _student(row, desk) for row in queries.results.students(session, school_id, class_id)
        ),
    )


def _scenarios(
    session: Session, school_id: int, class_id: int
) -> dict[int, tuple[ScenarioInfo, Scenario]]:
    found = {}
    for row in queries.classes.scenarios(session, class_id):
        scenario = scenario_of(row.document, {})
        info = ScenarioInfo(
            row.class_scenario_id,
            row.version_id,
            scenario.id,
            scenario.title,
            scenario.digest,
            standard_error_of(session, school_id, row.version_id, scenario),
        )
        found[row.class_scenario_id] = (info, scenario)
    return found


def _remarked(
    session: Session, school_id: int, attempts: tuple[MarkedAttempt, ...]
) -> dict[int, Scenario]:
    """Return the corrected versions by which attempts were marked again."""
    by = {one.remarked_by for one in attempts if one.remarked_by is not None}
    found = queries.scenarios.documents(session, school_id, by)
    return {version_id: scenario_of(document, {}) for version_id, document in found.items()}


def _student(row: StudentRow, desk: _Desk) -> StudentResult:
    scenarios = tuple(_scenario_result(row, place, desk) for place in desk.scenarios)
    counting = [one.counting for one in scenarios if one.counting is not None]
    earned = [
        Earned(strand.strand, strand.marks, strand.out_of)
        for one in counting
        for strand in one.decision.strands
    ]
    return StudentResult(
        row.enrolment_id,
        row.person_id,
        row.name,
        scenarios,
        strand_marks(earned, desk.policies[0].policy.strand_minimums),
        overall([one.outcome for one in scenarios]),
    )


def _scenario_result(row: StudentRow, place: int, desk: _Desk) -> ScenarioResult:
    made = [
        attempt
        for attempt in desk.attempts
        if (attempt.enrolment_id, attempt.class_scenario_id) == (row.enrolment_id, place)
    ]
    tries = tuple(one for attempt in made if (one := _try(attempt, desk)) is not None)
    return ScenarioResult(
        desk.scenarios[place][0],
        tries,
        is_under_way=len(made) > len(tries),
        yard=desk.yard.get((row.enrolment_id, place)),
    )


def _try(attempt: MarkedAttempt, desk: _Desk) -> MarkedTry | None:
    if attempt.result_id is None or attempt.outcome is None or attempt.submitted_at is None:
        return None
    scenario, info = desk.scenario(attempt), desk.scenarios[attempt.class_scenario_id][0]
    strands = {task.id: strand_of(task) for task in scenario.tasks}
    tasks = desk.earned.get(attempt.result_id, ())
    earned = [Earned(strands[task.task_id], task.marks, task.out_of) for task in tasks]
    decision = decided(
        earned,
        rule_by(attempt.policy_number, attempt.pass_share, scenario, desk.policies),
        is_safe=bool(attempt.safe),
    )
    policy = desk.policies[0].policy
    return MarkedTry(
        attempt_id=attempt.attempt_id,
        number=attempt.try_number,
        seed=attempt.seed,
        started_at=attempt.started_at,
        submitted_at=attempt.submitted_at,
        outcome=attempt.outcome,
        decision=decision,
        tasks=tasks,
        stops=attempt.stops,
        solver_version=attempt.solver_version or "",
        is_near_cut=is_near_cut(
            decision, info.standard_error, policy.review_sems, policy.review_share
        ),
    )
