"""How often a class pulls the rig of each scenario: what is planned, made and still to make.

A class that nobody planned for pulls as `usual_pulls` says.  A new plan stands beside the
old ones, so that it can be told what an item was issued for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from sqlalchemy.orm import Session

from coursekit.rigging.rig import Rig
from coursekit.rigging.solver import solve
from coursekit.scenario.model import Scenario
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import Checks
from coursekit.services.class_head import head_of
from coursekit.services.errors import Conflict, Refused
from coursekit.services.teaching import locked_class
from coursekit.services.versions import scenario_of
from coursekit.store import queries, tables
from coursekit.store.queries.classes import ClassHead
from coursekit.store.unit import Unit
from coursekit.wear.planning import MOST_PULLS, usual_pulls

__all__ = [
    "ClassPlan",
    "NewPlan",
    "PlanDesk",
    "PlannedScenario",
    "plan_desk",
    "plan_of",
    "plan_pulls",
]


@dataclass(frozen=True)
class PlannedScenario:
    """A scenario of a class: its safe rigs, how often one is pulled, and was by now."""

    version_id: int
    scenario: Scenario
    rigs: tuple[Rig, ...]
    pulls: int
    made: int

    @property
    def is_meant(self) -> bool:
        """Whether it is to be pulled: its file has a safe rig."""
        return bool(self.rigs)

    @property
    def left(self) -> int:
        """The pulls that are still to be made."""
        return max(0, self.pulls - self.made)


@dataclass(frozen=True)
class ClassPlan:
    """What a class means to pull; number 0 is what is usual for so many students."""

    number: int
    students: int
    scenarios: tuple[PlannedScenario, ...]

    def with_rigs_of(self, other: ClassPlan) -> ClassPlan:
        """Return the plan with the rigs that another knows of the same scenarios."""
        known = {one.version_id: one.rigs for one in other.scenarios}
        scenarios = [
            replace(one, rigs=tuple(dict.fromkeys((*one.rigs, *known.get(one.version_id, ())))))
            for one in self.scenarios
        ]
        return replace(self, scenarios=tuple(scenarios))

    @property
    def usual(self) -> int:
        """How often a rig is pulled where nobody planned it."""
        return usual_pulls(self.students)


@dataclass(frozen=True)
class PlanDesk:
    """A class with what it means to pull."""

    head: ClassHead
    plan: ClassPlan


@dataclass(frozen=True)
class NewPlan:
    """Pulls for each scenario version of a class; `seen` is the plan that the form showed."""

    class_id: int
    pulls: Mapping[int, int]
    seen: int


def plan_desk(unit: Unit, actor: Actor, class_id: int) -> PlanDesk:
    """Return what a class of the school means to pull."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        head = head_of(session, actor.school_id, class_id)
        return PlanDesk(head, plan_of(session, actor.school_id, class_id))


def plan_of(session: Session, school_id: int, class_id: int) -> ClassPlan:
    """Return what a class means to pull: 4 queries."""
    row = queries.plans.newest(session, class_id)
    students = queries.plans.students(session, class_id)
    made = queries.plans.pulls_made(session, school_id, class_id)
    scenarios = [
        PlannedScenario(
            one.version_id,
            scenario,
            rigs,
            row.pulls.get(one.version_id, usual_pulls(students)) if rigs else 0,
            made.get(one.version_id, 0),
        )
        for one in queries.classes.scenarios(session, class_id)
        for scenario in [scenario_of(one.document, {})]
        for rigs in [tuple(_safe(scenario))]
    ]
    return ClassPlan(row.number, students, tuple(scenarios))


def plan_pulls(unit: Unit, actor: Actor, new: NewPlan, now: datetime) -> int:
    """Let another plan hold for a class, and return its number; the old ones stay.

    Raises
    ------
    Problems
        If a number is out of its range, or is for a scenario that is not to be pulled.
    Conflict
        If somebody planned anew since the form was opened.
    Refused
        If the class is over.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.write() as session:
        group = locked_class(session, actor, new.class_id)
        if group.status == "closed":
            raise Refused("The class is over", "Plan the pulls of another class")
        present = plan_of(session, actor.school_id, group.id)
        if present.number != new.seen:
            raise Conflict("The pulls were planned anew since this form was opened")
        _check(new, present)
        session.add(
            tables.PullPlan(
                school_id=actor.school_id,
                class_session_id=group.id,
                number=present.number + 1,
                pulls={str(version_id): pulls for version_id, pulls in new.pulls.items()},
                made_at=now,
                made_by=actor.person_id,
            )
        )
    return present.number + 1


def _check(new: NewPlan, present: ClassPlan) -> None:
    checks = Checks()
    known = {one.version_id for one in present.scenarios if one.is_meant}
    for version_id, pulls in new.pulls.items():
        if version_id not in known:
            checks.add(
                f"pulls.{version_id}", "The class has no such rig to pull", "Open the form again"
            )
        elif not 0 <= pulls <= MOST_PULLS:
            checks.add(
                f"pulls.{version_id}",
                f"{pulls} is out of range",
                f"Plan 0 to {MOST_PULLS} pulls of a rig",
            )
    checks.done()


def _safe(scenario: Scenario) -> Iterator[Rig]:
    for rig in scenario.rigs.values():
        if not solve(scenario.situation, rig).stops:
            yield rig
