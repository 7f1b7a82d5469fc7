"""What is due and why: use, age, calendar and inspection; the earliest wins."""

from __future__ import annotations

from calendar import monthrange
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum
from math import floor

from coursekit.wear.counting import Counts
from coursekit.wear.policy import Policy
from coursekit.wear.status import Status


class Cause(StrEnum):
    """What makes an item due."""

    USE = "use"
    AGE = "age"
    CALENDAR = "calendar"
    INSPECTION = "inspection"


class Bar(StrEnum):
    """What keeps an item in the store, whatever is due."""

    UNLABELLED = "unlabelled"
    UNRATED = "unrated"
    UNDATED = "undated"
    QUARANTINED = "quarantined"
    RETIRED = "retired"
    LOST = "lost"
    OUT = "out"


@dataclass(frozen=True)
class Facts:
    """What the register knows of one item.

    `is_rated` tells whether a rating of its type is known, or none is needed.
    """

    made: date | None
    is_labelled: bool
    status: Status
    is_rated: bool = True


@dataclass(frozen=True)
class Reason:
    """One thing that makes or will make an item due.

    `on` is the first day it is due; None for use that is not yet spent, which
    has no date of its own.
    """

    cause: Cause
    on: date | None
    is_due: bool

    @property
    def retires(self) -> bool:
        """Whether the item is to retire; else it is to be examined."""
        return self.cause is not Cause.INSPECTION


@dataclass(frozen=True)
class Left:
    """What is left before due, rounded down; None where nothing limits it.

    `pulls` tells the use left in pulls of each size by itself.
    """

    use: float | None
    pulls: tuple[tuple[str, int], ...]
    days: int | None


@dataclass(frozen=True)
class Due:
    """What is due and will be, the earliest first, and whether the item may go out."""

    reasons: tuple[Reason, ...]
    left: Left
    bars: tuple[Bar, ...]
    look_over: bool

    @property
    def now(self) -> tuple[Reason, ...]:
        """The reasons that are due today."""
        return tuple(reason for reason in self.reasons if reason.is_due)

    @property
    def is_due(self) -> bool:
        """Whether anything is due today."""
        return bool(self.now)

    @property
    def is_to_retire(self) -> bool:
        """Whether use, age or calendar is spent."""
        return any(reason.retires for reason in self.now)

    @property
    def may_go_out(self) -> bool:
        """Whether nothing is due and nothing bars it."""
        return not self.is_due and not self.bars


def due(item: Facts, counts: Counts, policy: Policy, today: date) -> Due:
    """Return what is due on an item and why, and what is left before that.

    Parameters
    ----------
    item : Facts
        Date of make, label and status.
    counts : Counts
        What its ledger adds up to.
    policy : Policy
        The rule of its type.
    today : date
        The civil date where the kit is.

    Returns
    -------
    Due
        Reasons by date; those of today first.

    Raises
    ------
    TypeError
        If a date is a point in time.

    Notes
    -----
    Limits: it prompts; inspection overrides it at any time. Safe side: early:
    due on the day itself, and at once where an examination was never recorded.
    An item without a legible label, a rating or a date of make never goes out.
    Source: common practice, no source; six months between examinations of
    accessories: LOLER 1998 reg. 9(3)(a).

    Examples
    --------
    >>> from coursekit.wear.policy import default_policy
    >>> rope = Facts(made=date(2021, 5, 1), is_labelled=True, status=Status.IN_STORE)
    >>> seen = Counts(last_inspected=date(2026, 4, 1))
    >>> found = due(rope, seen, default_policy("kinetic-rope"), date(2026, 5, 1))
    >>> [reason.cause.value for reason in found.now]
    ['age']
    """
    found = (
        _use(counts, policy, today),
        _by_years(Cause.AGE, item.made, policy.years_from_made, today),
        _by_years(Cause.CALENDAR, counts.first_used, policy.years_from_first_use, today),
        _inspection(counts, policy, today),
    )
    reasons = tuple(sorted((r for r in found if r is not None), key=_earliest_first))
    return Due(
        reasons=reasons,
        left=_left(counts, policy, reasons, today),
        bars=_bars(item),
        look_over=policy.look_over_each_day
        and today not in (counts.last_inspected, counts.last_looked),
    )


def rest_until(counts: Counts, policy: Policy) -> datetime | None:
    """Return the moment until which an item rests after its last pull.

    Parameters
    ----------
    counts : Counts
        What the item's ledger adds up to.
    policy : Policy
        The rule of its type.

    Returns
    -------
    datetime or None
        None for an item that was never pulled, or that needs no rest.

    Raises
    ------
    OverflowError
        If the rest ends beyond what a date holds.

    Notes
    -----
    Limits: a stretched nylon line recovers slowly. Safe side: late.
    Source: common practice, no source.

    Examples
    --------
    >>> from datetime import UTC
    >>> from coursekit.wear.policy import default_policy
    >>> pulled = Counts(heavy=1, last_pull=datetime(2026, 6, 13, 10, 30, tzinfo=UTC))
    >>> str(rest_until(pulled, default_policy("kinetic-rope")))
    '2026-06-13 10:40:00+00:00'
    """
    if counts.last_pull is None or not policy.rest_minutes:
        return None
    return counts.last_pull + timedelta(minutes=policy.rest_minutes)


def months_later(day: date, months: int) -> date:
    """Return the day that is whole months later, the month's last where it has no such day.

    Parameters
    ----------
    day : date
        Any civil date.
    months : int
        Whole months.

    Returns
    -------
    date
        Never past the end of the month that is meant.

    Raises
    ------
    ValueError
        If the year is beyond what a date holds.

    Notes
    -----
    Limits: Gregorian calendar. Safe side: early. Source: calendar arithmetic.

    Examples
    --------
    >>> months_later(date(2024, 8, 31), 6)
    datetime.date(2025, 2, 28)
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))


def _use(counts: Counts, policy: Policy, today: date) -> Reason | None:
    limit = policy.counting.limit
    if limit is None:
        return None
    spent = counts.use >= limit
    return Reason(Cause.USE, today if spent else None, spent)


def _by_years(cause: Cause, since: date | None, years: int | None, today: date) -> Reason | None:
    if since is None or years is None:
        return None
    on = months_later(since, 12 * years)
    return Reason(cause, on, today >= on)


def _inspection(counts: Counts, policy: Policy, today: date) -> Reason | None:
    months = policy.months_between_inspections
    if months is None:
        return None
    if counts.last_inspected is None:
        return Reason(Cause.INSPECTION, today, is_due=True)
    on = months_later(counts.last_inspected, months)
    return Reason(Cause.INSPECTION, on, today >= on)


def _earliest_first(reason: Reason) -> tuple[date, bool]:
    return (reason.on or date.max, not reason.retires)


def _left(counts: Counts, policy: Policy, reasons: tuple[Reason, ...], today: date) -> Left:
    dates = [reason.on for reason in reasons if reason.on is not None]
    limit = policy.counting.limit
    use = None if limit is None else max(0.0, limit - counts.use)
    return Left(
        use=use,
        pulls=tuple(
            (name, floor((use or 0.0) / cost)) for name, cost in policy.counting.yardsticks
        ),
        days=max(0, (min(dates) - today).days) if dates else None,
    )


def _bars(item: Facts) -> tuple[Bar, ...]:
    found = [] if item.status is Status.IN_STORE else [Bar(item.status.value)]
    if not item.is_labelled:
        found.append(Bar.UNLABELLED)
    if not item.is_rated:
        found.append(Bar.UNRATED)
    if item.made is None:
        found.append(Bar.UNDATED)
    return tuple(found)
