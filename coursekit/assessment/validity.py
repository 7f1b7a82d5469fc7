"""How long an assessment holds: by the calendar, and what becomes of it on a day."""

from __future__ import annotations

import calendar
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

_MONTHS = 12


class Validity(StrEnum):
    """How a certificate stands on a day."""

    VALID = "valid"
    EXPIRING = "expiring"
    IN_QUESTION = "in-question"
    EXPIRED = "expired"
    SUSPENDED = "suspended"
    WITHDRAWN = "withdrawn"


class Act(StrEnum):
    """What the school's head does to a certificate after it was issued."""

    SUSPENDED = "suspended"
    REINSTATED = "reinstated"
    WITHDRAWN = "withdrawn"


@dataclass(frozen=True)
class Term:
    """The days that a certificate holds for, both ends included, and how early it warns."""

    effective: date
    expires: date
    warn_days: int


def expiry(effective: date, months: int) -> date:
    """Return the last day that holds: the same day, so many months on.

    In a month that lacks the day it is the month's last one.

    Raises
    ------
    ValueError
        If there is less than one month.

    Examples
    --------
    >>> expiry(date(2024, 2, 29), 12), expiry(date(2026, 6, 6), 24)
    (datetime.date(2025, 2, 28), datetime.date(2028, 6, 6))
    """
    if months < 1:
        raise ValueError("a certificate holds for a month at least")
    years, month = divmod(effective.month - 1 + months, _MONTHS)
    year = effective.year + years
    last = calendar.monthrange(year, month + 1)[1]
    return date(year, month + 1, min(effective.day, last))


def validity(
    term: Term, acts: tuple[Act, ...], today: date, *, is_borne_out: bool = True
) -> Validity:
    """Return how a certificate stands; `acts` are in their order, `today` is a local day.

    Withdrawn is final; one that is suspended or withdrawn is told as that, expired or not.
    One that would hold, but whose marks have fallen since it was issued and bear it out no
    longer, is in question until the school issues another or withdraws it.

    Examples
    --------
    >>> term = Term(date(2026, 6, 6), date(2028, 6, 6), warn_days=60)
    >>> validity(term, (), date(2028, 6, 6)).value, validity(term, (), date(2028, 6, 7)).value
    ('expiring', 'expired')
    >>> validity(term, (Act.SUSPENDED, Act.REINSTATED), date(2027, 1, 1)).value
    'valid'
    >>> validity(term, (), date(2027, 1, 1), is_borne_out=False).value
    'in-question'
    """
    if Act.WITHDRAWN in acts:
        return Validity.WITHDRAWN
    if acts and acts[-1] is Act.SUSPENDED:
        return Validity.SUSPENDED
    if today > term.expires:
        return Validity.EXPIRED
    if not is_borne_out:
        return Validity.IN_QUESTION
    warns = today >= term.expires - timedelta(days=term.warn_days)
    return Validity.EXPIRING if warns else Validity.VALID


def may_follow(acts: tuple[Act, ...], act: Act) -> bool:
    """Whether an act may come after those that were.

    >>> may_follow((), Act.REINSTATED), may_follow((Act.WITHDRAWN,), Act.REINSTATED)
    (False, False)
    """
    if Act.WITHDRAWN in acts:
        return False
    is_suspended = bool(acts) and acts[-1] is Act.SUSPENDED
    return act is Act.WITHDRAWN or (act is Act.REINSTATED) == is_suspended
