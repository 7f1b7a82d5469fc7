"""The school's policy: which rule a paper is decided by, and changing it.

The order for a pass mark: that of a panel, the scenario's own, the school's.  Waits, validity and
retention are the policy's alone.  A change holds from then on: what was decided before
keeps the rule that it was decided by.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.assessment.results import Rule
from coursekit.assessment.school_policy import SchoolPolicy, policy_document, policy_problems
from coursekit.scenario.model import Scenario
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import Checks
from coursekit.services.errors import Conflict
from coursekit.store import queries, tables
from coursekit.store.queries.policies import PolicyVersion
from coursekit.store.queries.schools import locked_school
from coursekit.store.unit import Unit

__all__ = [
    "PolicyChange",
    "PolicyVersion",
    "change_policy",
    "policy_in_force",
    "policy_versions",
    "rule_now",
]


@dataclass(frozen=True)
class PolicyChange:
    """A policy to decide by from now on, and why; `seen` is the version that the form showed."""

    policy: SchoolPolicy
    reason: str
    seen: int


def policy_in_force(unit: Unit, actor: Actor) -> PolicyVersion:
    """Return the policy that the actor's school decides by now."""
    with unit.read() as session:
        return queries.policies.in_force(session, actor.school_id)


def policy_versions(unit: Unit, actor: Actor) -> tuple[PolicyVersion, ...]:
    """Return every version of the school's policy, the newest first."""
    actor.require(Role.HEAD)
    with unit.read() as session:
        return queries.policies.versions(session, actor.school_id)


def change_policy(unit: Unit, actor: Actor, change: PolicyChange, now: datetime) -> int:
    """Put another version in force and return its number; the old ones stay.

    Raises
    ------
    Problems
        If a number is out of its range, or no reason is given.
    Conflict
        If somebody changed the policy since the form was opened.
    """
    actor.require(Role.HEAD)
    reason = _checked(change)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        present = queries.policies.in_force(session, actor.school_id)
        if present.number != change.seen:
            raise Conflict("The policy has changed since this form was opened")
        if present.policy == change.policy:
            return present.number
        session.add(
            tables.SchoolPolicyVersion(
                school_id=actor.school_id,
                number=present.number + 1,
                policy=policy_document(change.policy),
                reason=reason,
                made_at=now,
                made_by=actor.person_id,
            )
        )
    return present.number + 1


def rule_now(unit: Unit, actor: Actor, scenario: Scenario) -> Rule:
    """Return the rule that papers on a scenario of the actor's school are decided by now."""
    with unit.read() as session:
        return rule_for(session, actor.school_id, scenario)


def rule_for(session: Session, school_id: int, scenario: Scenario) -> Rule:
    """Return the rule that a paper is decided by if it is handed in now: 2 queries."""
    version = queries.policies.in_force(session, school_id)
    panel = queries.standards.pass_share_of(session, school_id, scenario.digest)
    own = scenario.pass_share if scenario.names_pass else version.policy.pass_share
    return Rule(own if panel is None else panel, version.policy.strand_minimums, version.number)


def rule_of(session: Session, attempt: tables.Attempt, scenario: Scenario) -> Rule:
    """Return the rule that an attempt is decided by: that of its first marking, else the present.

    Marked again, a paper is held against what it was held against before: 3 queries.
    """
    first = session.execute(
        select(tables.AttemptResult.policy_number, tables.AttemptResult.pass_share)
        .where(tables.AttemptResult.attempt_id == attempt.id)
        .order_by(tables.AttemptResult.number)
        .limit(1)
    ).first()
    if first is None:
        return rule_for(session, attempt.school_id, scenario)
    return rule_by(*first, scenario, queries.policies.versions(session, attempt.school_id))


def rule_by(
    number: int | None,
    share: float | None,
    scenario: Scenario,
    known: Sequence[PolicyVersion],
) -> Rule:
    """Return the rule that a marking was decided by, from what was kept of it."""
    version = next((one for one in known if one.number == number), known[-1])
    return Rule(
        scenario.pass_share if share is None else share,
        version.policy.strand_minimums,
        version.number,
    )


def _checked(change: PolicyChange) -> str:
    checks = Checks()
    for problem in policy_problems(change.policy):
        checks.add(problem.where.field, problem.what, problem.mend)
    reason = checks.text("reason", change.reason)
    checks.done()
    return reason
