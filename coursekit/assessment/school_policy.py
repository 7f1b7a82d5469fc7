"""What a school decides for itself: pass marks, minimums, waits, validity and retention.

No published rule gives these numbers: the usual ones below are conventions that a
school may change, and each change is kept as a new version.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from coursekit.problems import Problem, Where
from coursekit.scenario.model import DEFAULT_PASS
from coursekit.scenario.strands import STRANDS

# The lowest and the highest that each number may be, in its own unit.
LIMITS: Mapping[str, tuple[float, float]] = {
    "pass_share": (0.05, 1.0),
    "retry_wait_hours": (0, 24 * 365),
    "certificate_months": (1, 120),
    "warn_days": (0, 365),
    "records_months": (1, 600),
    "names_months": (1, 600),
    "review_sems": (0.0, 3.0),
    "review_share": (0.0, 0.25),
}


@dataclass(frozen=True)
class SchoolPolicy:
    """One version of a school's policy; shares are 0 to 1.

    `pass_share` holds where a scenario names no pass mark of its own.
    `strand_minimums` names a share only for strands that have one.
    `retry_wait_hours` is the wait from handing in to another try; 24 hours is the wait of
    a published military performance test (second-hand).  `review_sems` is how many
    standard errors of measurement from the cut a second assessor looks at a paper;
    `review_share` stands in for them, as a share of all marks, while there are too few
    papers for a standard error.
    """

    pass_share: float = DEFAULT_PASS
    strand_minimums: Mapping[str, float] = field(default_factory=dict)
    retry_wait_hours: int = 24
    retry_other_numbers: bool = True
    certificate_months: int = 36
    warn_days: int = 60
    records_months: int = 84
    names_months: int = 84
    review_sems: float = 1.0
    review_share: float = 0.05


USUAL = SchoolPolicy()


def policy_problems(policy: SchoolPolicy) -> Iterator[Problem]:
    """Yield everything that keeps a policy from being taken on, field by field.

    >>> [str(problem.where.field) for problem in policy_problems(SchoolPolicy(warn_days=-1))]
    ['warn_days']
    >>> list(policy_problems(USUAL))
    []
    """
    for name, (lowest, highest) in LIMITS.items():
        if not lowest <= getattr(policy, name) <= highest:
            mend = f"Give {lowest:g} to {highest:g}"
            yield Problem(Where(name), "It is out of its range", mend)
    for strand, share in policy.strand_minimums.items():
        if strand not in STRANDS:
            yield Problem(Where("strand_minimums"), f"There is no strand {strand[:40]!r}", _STRANDS)
        elif not 0.0 < share <= 1.0:
            yield Problem(Where(f"minimum_{strand}"), "It is out of its range", "Give 1 to 100 %")
    if policy.names_months < policy.certificate_months:
        mend = "Keep them for at least as long as a certificate holds"
        yield Problem(Where("names_months"), "Names would go before certificates end", mend)
    if policy.records_months < policy.names_months:
        mend = "Keep them for at least as long as the names"
        yield Problem(Where("records_months"), "Records would go before the names in them", mend)


_STRANDS = f"Name one of {', '.join(STRANDS)}"


def policy_document(policy: SchoolPolicy) -> dict[str, Any]:
    """Return a policy as it is stored.

    >>> policy_of(policy_document(USUAL)) == USUAL
    True
    """
    return {**vars(policy), "strand_minimums": dict(policy.strand_minimums)}


def policy_of(stored: Mapping[str, Any]) -> SchoolPolicy:
    """Return a stored policy; a number that it was too old to hold has its usual value."""
    return SchoolPolicy(**stored)
