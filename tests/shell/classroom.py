"""A student who answers and hands in, and a pull that is logged: rows in every table."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from coursekit.rigging.solver import solve
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import QuantityTask
from coursekit.services import accounts, answering, pulls, reviewing
from coursekit.services.accounts import Credentials, NewPerson
from coursekit.services.actor import Role
from coursekit.services.answering import TypedAnswer
from coursekit.services.pull_desk import PullReport, RigPull
from coursekit.services.reviewing import Answered
from coursekit.store.unit import Unit
from tests.cast import NOW, PASSWORD, Cast, Member

SEED = 7
OWN_RIG: dict[str, Any] = {
    "method": "winch",
    "lines": [
        {
            "from": "recovery_vehicle.winch",
            "made_of": ["winch-line"],
            "to": {"at": "stuck_vehicle.rear", "with": ["soft-1"]},
            "dampers": ["damper-1"],
        }
    ],
}
ANSWERS: dict[str, Any] = {
    "total": "7.3 kN",
    "build": OWN_RIG,
    "weak": "winch-line",
    "bin": ["old-strap"],
    "go": "go",
    "steps": ["brief everyone", "walk the line", "take the slack"],
}
COMPETENT = {**ANSWERS, "total": "7.55 kN", "rear": "7.3 kN", "weak": "soft-1"}
GIVEN_ITEMS = {"winch-line": "Line 1", "bow-1": "Bow 1", "damper-1": "Damper 1"}


def started(unit: Unit, cast: Cast, now: datetime, seed: int = SEED) -> int:
    """Start the scenario of the class as its student."""
    student = cast.student.actor
    return answering.start_attempt(unit, student, cast.class_scenario_id, now, seed)


def answer(unit: Unit, cast: Cast, now: datetime, attempt_id: int, **typed: Any) -> None:
    """Answer some tasks as the student."""
    for number, (task_id, text) in enumerate(typed.items()):
        key = f"answer-{task_id}-{number}"
        one = TypedAnswer(attempt_id, task_id, text, key)
        answering.save_answer(unit, cast.student.actor, one, now)


def handed_in(unit: Unit, cast: Cast, now: datetime, **typed: Any) -> int:
    """Answer the scenario of the class and hand it in."""
    attempt_id = started(unit, cast, now)
    answer(unit, cast, now, attempt_id, **(typed or ANSWERS))
    answering.submit_attempt(unit, cast.student.actor, attempt_id, now)
    return attempt_id


def colleague(unit: Unit, cast: Cast, name: str) -> Member:
    """Add one more instructor to the school and return them, signed in."""
    new = NewPerson(name, name, PASSWORD, frozenset({Role.INSTRUCTOR}))
    accounts.add_person(unit, cast.instructor.actor, new, NOW)
    school_id = cast.instructor.actor.school_id
    signed_in = accounts.sign_in(unit, Credentials(name, PASSWORD, school_id), NOW)
    return Member(signed_in.person.actor, name, signed_in.token, name.casefold())


def appealed_and_answered(unit: Unit, cast: Cast, attempt_id: int) -> None:
    """Let the student appeal, and the instructor let the marks stand."""
    student, teacher = cast.student.actor, cast.instructor.actor
    request_id = reviewing.appeal(unit, student, attempt_id, "Look at the total again", NOW)
    answer = Answered(request_id, granted=False, reason="It is outside the tolerance")
    reviewing.answer_request(unit, teacher, answer, NOW)


def slipped(unit: Unit, cast: Cast, attempt_id: int, slip: str, task_id: str = "total") -> str:
    """Return what somebody types who makes one usual mistake and no other."""
    scenario = answering.attempt_view(unit, cast.student.actor, attempt_id).scenario
    return slip_text(scenario, slip, task_id)


def slip_text(scenario: Scenario, slip: str, task_id: str = "total") -> str:
    """Return the number, in newtons, that a slip of a scenario leads to."""
    task = scenario.task(task_id)
    assert isinstance(task, QuantityTask)
    solution = solve(scenario.situation, scenario.rigs["given"])
    values = solution.chain.slips_at(task.of, solution.values)
    return next(f"{found.value:.0f} N" for found in values if found.slip.key == slip)


def rig_pull(cast: Cast, key: str = "pull-0001", ended: str = "came-free") -> RigPull:
    """Return a pull of the given rig with the school's own gear."""
    items: dict[str, int | None] = {gear: cast.items[mark] for gear, mark in GIVEN_ITEMS.items()}
    return RigPull(cast.class_id, cast.version_id, "given", items, ended, key)


def pulled(unit: Unit, cast: Cast, now: datetime, key: str = "pull-0001") -> PullReport:
    """Log a pull of the given rig as the instructor."""
    return pulls.record_rig_pull(unit, cast.instructor.actor, rig_pull(cast, key), now)
