"""Which shelf an item stands on today, and the dates and counts that put a whole type there.

The edges of a rule let a database sort ten thousand items at once; they agree with
`due`, which tells of one item why.
"""

from __future__ import annotations

from calendar import monthrange
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from coursekit.wear.counting import Counts
from coursekit.wear.policy import Policy
from coursekit.wear.schedule import Bar, Due
from coursekit.wear.status import AWAY, Status

# From here on an item is told as soon due: common practice, no source.
NEAR_DAYS = 30
NEAR_USE = 0.8


class Shelf(StrEnum):
    """Where an item stands, the gravest first; what is retired or lost stands last."""

    HELD = "held"
    SOON = "soon"
    READY = "ready"
    OUT = "out"
    AWAY = "away"


@dataclass(frozen=True)
class Edges:
    """Where a rule begins to be due: a use count, and the last dates that are due.

    None where the rule has no such limit.  An item without a recorded examination
    is due where there is an edge of examinations.
    """

    use: float | None
    made: date | None
    first_used: date | None
    inspected: date | None


def shelf_of(status: Status, found: Due, counts: Counts, policy: Policy) -> Shelf:
    """Return the shelf of one item.

    >>> from coursekit.wear.policy import default_policy
    >>> from coursekit.wear.schedule import Facts, due
    >>> rope, seen = default_policy("kinetic-rope"), Counts(last_inspected=date(2026, 4, 1))
    >>> facts = Facts(made=date(2026, 1, 1), is_labelled=True, status=Status.IN_STORE)
    >>> found = due(facts, seen, rope, date(2026, 5, 1))
    >>> shelf_of(Status.IN_STORE, found, seen, rope).value
    'ready'
    """
    if status in AWAY:
        return Shelf.AWAY
    if found.is_due or any(bar is not Bar.OUT for bar in found.bars):
        return Shelf.HELD
    if status is Status.OUT:
        return Shelf.OUT
    return Shelf.SOON if _is_near(found, counts, policy) else Shelf.READY


def is_nearly_used(counts: Counts, policy: Policy) -> bool:
    """Whether most of the use count is spent.

    >>> from coursekit.wear.policy import default_policy
    >>> is_nearly_used(Counts(use=24.0), default_policy("kinetic-rope"))
    True
    """
    limit = policy.counting.limit
    return bool(limit) and counts.use >= NEAR_USE * (limit or 0.0)


def is_nearly_due(found: Due) -> bool:
    """Whether something falls due within the days that count as soon."""
    return found.left.days is not None and found.left.days <= NEAR_DAYS


def edges(policy: Policy, today: date) -> Edges:
    """Return where a rule is due today.

    >>> from coursekit.wear.policy import default_policy
    >>> found = edges(default_policy("kinetic-rope"), date(2026, 5, 1))
    >>> str(found.made), str(found.first_used), str(found.inspected), found.use
    ('2021-05-01', '2024-05-01', '2025-11-01', 30.0)
    """
    return Edges(
        use=policy.counting.limit,
        made=_years_back(today, policy.years_from_made),
        first_used=_years_back(today, policy.years_from_first_use),
        inspected=None
        if policy.months_between_inspections is None
        else months_earlier(today, policy.months_between_inspections),
    )


def near_edges(policy: Policy, today: date) -> Edges:
    """Return where a rule is due within the days and the share of use that count as soon."""
    ahead = edges(policy, today + timedelta(days=NEAR_DAYS))
    use = None if not ahead.use else NEAR_USE * ahead.use
    return Edges(use, ahead.made, ahead.first_used, ahead.inspected)


def months_earlier(day: date, months: int) -> date:
    """Return the last date that, whole months later, has come by a day.

    The end of a month meets the end of any month, as in `months_later`.

    >>> months_earlier(date(2025, 2, 28), 6), months_earlier(date(2025, 3, 30), 1)
    (datetime.date(2024, 8, 31), datetime.date(2025, 2, 28))
    """
    year, month = divmod(day.year * 12 + day.month - 1 - months, 12)
    last = monthrange(year, month + 1)[1]
    is_last = day.day == monthrange(day.year, day.month)[1]
    return date(year, month + 1, last if is_last else min(day.day, last))


def _years_back(today: date, years: int | None) -> date | None:
    return None if years is None else months_earlier(today, 12 * years)


def _is_near(found: Due, counts: Counts, policy: Policy) -> bool:
    return is_nearly_used(counts, policy) or is_nearly_due(found) or found.look_over
