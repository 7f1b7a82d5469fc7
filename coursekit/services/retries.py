"""Another try at a scenario, once the wait is over; every try stays, the last one counts."""

from __future__ import annotations

import secrets
from collections.abc import Collection, Iterable, Mapping
from datetime import datetime

from sqlalchemy.orm import Session

from coursekit.assessment.retry import again_from
from coursekit.assessment.school_policy import SchoolPolicy
from coursekit.scenario.model import Scenario
from coursekit.scenario.vary import Variation, vary, vary_unlike
from coursekit.services.actor import Actor, Role
from coursekit.services.attempts import (
    Beginning,
    attempt_row,
    document_of,
    enrolment_of,
    insert_attempt,
    locked_enrolment,
)
from coursekit.services.errors import NotFound, Refused
from coursekit.services.versions import scenario_of
from coursekit.store import queries
from coursekit.store.queries.tries import TryRow
from coursekit.store.unit import Unit

__all__ = ["TryRow", "fresh_seeds", "tries", "try_again"]

# Seeds are shown and typed: they stay exact in JSON and short on paper.
MOST_SEEDS = 2**31
# Where so many draws bring nothing new, the student has seen what there is.
MOST_DRAWS = 40


def fresh_seeds() -> Iterable[int]:
    """Return seeds that nobody can foresee, as many as are tried."""
    return (secrets.randbelow(MOST_SEEDS) for _draw in range(MOST_DRAWS))


def tries(unit: Unit, actor: Actor, attempt_id: int) -> tuple[TryRow, ...]:
    """Return every try that stands with an attempt: the student's own, or any for staff."""
    with unit.read() as session:
        row = attempt_row(session, actor, attempt_id)
        return queries.tries.ladder(
            session, actor.school_id, row.enrolment_id, row.class_scenario_id
        )


def try_again(
    unit: Unit,
    actor: Actor,
    class_scenario_id: int,
    now: datetime,
    seeds: Iterable[int] | None = None,
) -> int:
    """Begin another try at a scenario of the student's open class and return its attempt.

    A try that is under way is gone on with.  `seeds` are drawn from where none are given.

    Raises
    ------
    NotFound
        If the scenario was never begun.
    Refused
        If it is passed, the wait is not over, the class is closed, or no numbers are
        left that the student has not seen.
    """
    actor.require(Role.STUDENT)
    with unit.read() as session:
        scenario = scenario_of(document_of(session, actor, class_scenario_id), {})
        last = _last(session, actor, class_scenario_id)
        policy = queries.policies.in_force(session, actor.school_id).policy
        seen = queries.tries.seen_numbers(
            session, actor.school_id, actor.person_id, class_scenario_id
        )
    if last.status != "submitted":
        return last.attempt_id
    _require_wait(last, policy, now)
    given = fresh_seeds() if seeds is None else seeds
    variation = _other(scenario, seen, given) if policy.retry_other_numbers else None
    with unit.write() as session:
        enrolment = locked_enrolment(session, actor, class_scenario_id)
        present = _last(session, actor, class_scenario_id)
        if present.number != last.number:
            return present.attempt_id
        drawn = variation or vary(scenario, last.seed)
        return insert_attempt(
            session, enrolment, class_scenario_id, drawn, Beginning(last.number + 1, now)
        )


def _last(session: Session, actor: Actor, class_scenario_id: int) -> TryRow:
    enrolment_id = enrolment_of(session, actor, class_scenario_id)
    made = queries.tries.ladder(session, actor.school_id, enrolment_id, class_scenario_id)
    if not made:
        raise NotFound("attempt")
    return made[-1]


def _require_wait(last: TryRow, policy: SchoolPolicy, now: datetime) -> None:
    if last.outcome is None or last.submitted_at is None:
        raise Refused("This has not been marked yet", "Wait for its marks")
    begins = again_from(last.outcome, last.submitted_at, policy.retry_wait_hours)
    if begins is None:
        raise Refused("You have passed this already", "Practise alone to keep it fresh")
    if now < begins:
        raise Refused("The wait before another try is not over", "Your class page says until when")


def _other(
    scenario: Scenario, seen: Collection[Mapping[str, str]], seeds: Iterable[int]
) -> Variation:
    found = vary_unlike(scenario, seen, seeds)
    if found is None:
        raise Refused(
            "You have seen all the numbers of this scenario",
            "Ask your instructor for another scenario",
        )
    return found
