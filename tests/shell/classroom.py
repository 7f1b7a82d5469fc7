"""A student who answers and hands in, and a pull that is logged: rows in every table."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from coursekit.services import answering, pulls
from coursekit.services.answering import TypedAnswer
from coursekit.services.pull_desk import PullReport, RigPull
from coursekit.store.unit import Unit
from tests.cast import Cast

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


def rig_pull(cast: Cast, key: str = "pull-0001", ended: str = "came-free") -> RigPull:
    """Return a pull of the given rig with the school's own gear."""
    items: dict[str, int | None] = {gear: cast.items[mark] for gear, mark in GIVEN_ITEMS.items()}
    return RigPull(cast.class_id, cast.version_id, "given", items, ended, key)


def pulled(unit: Unit, cast: Cast, now: datetime, key: str = "pull-0001") -> PullReport:
    """Log a pull of the given rig as the instructor."""
    return pulls.record_rig_pull(unit, cast.instructor.actor, rig_pull(cast, key), now)
