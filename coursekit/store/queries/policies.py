"""The versions of a school's policy."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.assessment.school_policy import USUAL, SchoolPolicy, policy_of
from coursekit.store.tables import Person, SchoolPolicyVersion


@dataclass(frozen=True)
class PolicyVersion:
    """A policy with its number, and who made it when and why; 0 is the usual one of no maker."""

    number: int
    policy: SchoolPolicy
    reason: str
    made_at: datetime | None
    made_by: str


NOT_CHANGED = PolicyVersion(0, USUAL, "", None, "")


def versions(session: Session, school_id: int) -> tuple[PolicyVersion, ...]:
    """Return every version of a school's policy, the newest first, the usual one last: 1 query."""
    rows = session.execute(
        select(SchoolPolicyVersion, Person.name)
        .join(Person, Person.id == SchoolPolicyVersion.made_by)
        .where(SchoolPolicyVersion.school_id == school_id)
        .order_by(SchoolPolicyVersion.number.desc())
    )
    made = (
        PolicyVersion(row.number, policy_of(row.policy), row.reason, row.made_at, name)
        for row, name in rows
    )
    return (*made, NOT_CHANGED)


def in_force(session: Session, school_id: int) -> PolicyVersion:
    """Return the version that a school decides by now: 1 query."""
    return versions(session, school_id)[0]
