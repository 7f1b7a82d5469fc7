"""The read side: plain selects to frozen views, each told how many queries it takes."""

from coursekit.store.queries import (
    attempts,
    classes,
    drafts,
    figures,
    issues,
    kit,
    ledger,
    lives,
    people,
    policies,
    practice,
    pulls,
    rates,
    results,
    scenarios,
    schools,
)

__all__ = [
    "attempts",
    "classes",
    "drafts",
    "figures",
    "issues",
    "kit",
    "ledger",
    "lives",
    "people",
    "policies",
    "practice",
    "pulls",
    "rates",
    "results",
    "scenarios",
    "schools",
]
