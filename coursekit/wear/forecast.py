"""When an item will retire at the rate it is used now, with a range, and what to buy.

Pulls are taken to come at random at a steady rate that is not known for sure:
the number of pulls ahead is then gamma-Poisson (negative binomial), and the time
until so many pulls follows from an incomplete beta function.  A forecast plans
purchases; it never says that an item is sound.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import lru_cache
from math import exp, floor, inf, isfinite, lgamma, log, log1p

import numpy as np

from coursekit.wear.counting import Counts
from coursekit.wear.policy import Policy
from coursekit.wear.schedule import Cause, Due

YEAR = 365
# A range leaves out 1 case in 20 at each end.
LOW, MIDDLE, HIGH = 0.05, 0.5, 0.95
# Half a pull more than was seen: the prior of Jeffreys for a rate.
_PRIOR = 0.5
# Beyond so many days ahead no date is told.
HORIZON = 20 * YEAR
_STEPS = 60
_TERMS = 10_000
_TINY, _CLOSE = 1e-300, 1e-13


@dataclass(frozen=True)
class Rate:
    """How often an item was pulled: so many times in so many days."""

    pulls: int
    days: int

    @property
    def a_month(self) -> float:
        """Pulls in a twelfth of a year."""
        return self.pulls * YEAR / 12 / max(1, self.days)


@dataclass(frozen=True)
class Forecast:
    """When an item will retire: the early, the likely and the late day; None is far ahead.

    `cause` is what comes first on the likely day, `within_a_year` the chance
    that the item retires in the year ahead.
    """

    cause: Cause | None
    early: date | None
    likely: date | None
    late: date | None
    within_a_year: float


@dataclass(frozen=True)
class Purchases:
    """How many items will retire in a year: expected, and a 5 to 95 % range."""

    expected: float
    low: int
    high: int


def pulls_left(counts: Counts, policy: Policy) -> int | None:
    """Return how many more pulls an item takes, at the mean of those it has had.

    Parameters
    ----------
    counts : Counts
        What its ledger adds up to.
    policy : Policy
        The rule of its type.

    Returns
    -------
    int or None
        Rounded down, at least 1 while anything is left; None without a use
        count, and for an item that was never pulled. [-]

    Raises
    ------
    ZeroDivisionError
        Never: pulls that add nothing give None.

    Notes
    -----
    Limits: every pull ahead counts as the mean of those before; one overload
    ends the life at once. Safe side: few.
    Source: common practice, no source.

    Examples
    --------
    >>> from coursekit.wear.policy import ClassesPolicy
    >>> pulls_left(Counts(light=22, heavy=30, use=62.4), Policy(ClassesPolicy(limit=100.0)))
    31
    """
    limit = policy.counting.limit
    if limit is None or not counts.pulls or counts.use <= 0.0:
        return None
    if counts.use >= limit:
        return 0
    return max(1, floor((limit - counts.use) * counts.pulls / counts.use + 1e-9))


def chance_within(pulls: int, rate: Rate, days: float) -> float:
    r"""Return the chance that so many pulls or more come within some days.

    .. math:: P(N \ge n) = I_{t/(b+t)}(n, a),\quad a = k + \tfrac12,\ b = T

    Parameters
    ----------
    pulls : int
        Pulls to come, n. [-]
    rate : Rate
        Pulls seen, k, in the days they were seen in, T. [-]
    days : float
        Days ahead, t. [day]

    Returns
    -------
    float
        From 0 to 1. [-]

    Raises
    ------
    ValueError
        If the days ahead are less than none.

    Notes
    -----
    Limits: a steady rate; a school that plans more classes pulls more. Safe
    side: neither; the range shows how little is known.
    Source: the negative binomial as a Poisson count whose rate has a gamma
    distribution, prior of Jeffreys; its sum as an incomplete beta function:
    NIST Digital Library of Mathematical Functions, 8.17(i) and 8.17.5.

    Examples
    --------
    >>> round(chance_within(31, Rate(52, 10), 6.0), 6)
    0.535835
    """
    if days < 0.0:
        raise ValueError("a forecast looks ahead")
    if pulls <= 0:
        return 1.0
    return _incomplete_beta(days / (max(1, rate.days) + days), pulls, rate.pulls + _PRIOR)


def days_until(pulls: int, rate: Rate, chance: float) -> float:
    """Return the days within which so many pulls come with some chance.

    Parameters
    ----------
    pulls : int
        Pulls to come. [-]
    rate : Rate
        Pulls seen, in the days they were seen in. [-]
    chance : float
        Between 0 and 1. [-]

    Returns
    -------
    float
        Infinite where the chance is never reached. [day]

    Raises
    ------
    ValueError
        If the chance is not between 0 and 1.

    Notes
    -----
    Limits: as `chance_within`. Safe side: take a low chance for an early day.
    Source: inverse of `chance_within`.

    Examples
    --------
    >>> round(days_until(31, Rate(520, 100), 0.5), 2)
    5.9
    """
    if not 0.0 < chance < 1.0:
        raise ValueError("a chance lies between 0 and 1")
    if pulls <= 0:
        return 0.0
    share = _share_at(pulls, rate.pulls + _PRIOR, chance)
    return max(1, rate.days) * share / (1.0 - share) if share < 1.0 else inf


def forecast(due: Due, counts: Counts, policy: Policy, rate: Rate, today: date) -> Forecast | None:
    """Return when an item will retire, by use at its rate or by a date that is known.

    Parameters
    ----------
    due : Due
        What is due on it, with the dates of age and calendar.
    counts : Counts
        What its ledger adds up to.
    policy : Policy
        The rule of its type.
    rate : Rate
        How often it was pulled of late.
    today : date
        The civil date where the kit is.

    Returns
    -------
    Forecast or None
        None where neither a count nor a date ends its life.

    Raises
    ------
    OverflowError
        If today is at the end of what a date holds.

    Notes
    -----
    Limits: what inspection will find is in no forecast. Safe side: whichever
    comes first. Source: common practice, no source.

    Examples
    --------
    >>> from coursekit.wear.policy import default_policy
    >>> from coursekit.wear.schedule import Facts, due
    >>> from coursekit.wear.status import Status
    >>> rope = Facts(date(2025, 3, 1), True, Status.IN_STORE)
    >>> policy = default_policy("kinetic-rope")
    >>> counts, today = Counts(heavy=5, use=15.0, first_used=date(2026, 1, 10)), date(2026, 7, 1)
    >>> found = forecast(due(rope, counts, policy, today), counts, policy, Rate(5, 172), today)
    >>> found.cause, str(found.early), str(found.likely), str(found.late)
    (<Cause.USE: 'use'>, '2026-08-23', '2026-12-03', '2027-09-20')
    """
    left = pulls_left(counts, policy)
    known = [(r.on, r.cause) for r in due.reasons if r.retires and r.on is not None]
    if left is None and not known:
        return None
    last, known_cause = min(known, default=(None, None))
    by_use = [_days_ahead(left, rate, chance) for chance in (LOW, MIDDLE, HIGH)]
    early, likely, late = (_first(today, days, last) for days in by_use)
    certain = last is not None and last <= today + timedelta(days=YEAR)
    is_by_date = likely is None or likely == last
    return Forecast(
        cause=known_cause if is_by_date else Cause.USE,
        early=early,
        likely=likely,
        late=late,
        within_a_year=1.0 if certain else _by_use(left, rate),
    )


def purchases(chances: Sequence[float]) -> Purchases:
    """Return how many of some items will retire, each with its own chance.

    Parameters
    ----------
    chances : sequence of float
        The chance of each item. [-]

    Returns
    -------
    Purchases
        The expected number, and the 5 to 95 % range of the exact distribution.

    Raises
    ------
    IndexError
        Never: the distribution always reaches its quantiles.

    Notes
    -----
    Limits: items retire independently of each other; what is bought in the
    year may retire in it too, and is left out. Safe side: buy for the high end.
    Source: the distribution of a sum of independent trials, by convolution.

    Examples
    --------
    >>> purchases([1.0, 0.5, 0.5])
    Purchases(expected=2.0, low=1, high=3)
    """
    spread = np.ones(1)
    sure = sum(chance >= 1.0 for chance in chances)
    for chance in (chance for chance in chances if 0.0 < chance < 1.0):
        spread = np.convolve(spread, (1.0 - chance, chance))
    reached = np.cumsum(spread)
    low, high = (int(np.searchsorted(reached, level - _CLOSE)) for level in (LOW, HIGH))
    return Purchases(float(sum(chances)), sure + low, sure + min(high, len(spread) - 1))


def _days_ahead(left: int | None, rate: Rate, chance: float) -> float:
    if left is None or (left and not rate.pulls):
        return inf
    return days_until(left, rate, chance)


def _by_use(left: int | None, rate: Rate) -> float:
    if left is None or (left and not rate.pulls):
        return 0.0
    return chance_within(left, rate, YEAR)


def _first(today: date, days: float, last: date | None) -> date | None:
    ahead = None
    if isfinite(days) and days <= HORIZON:
        ahead = today + timedelta(days=floor(days))
    return min((day for day in (ahead, last) if day is not None), default=None)


@lru_cache(maxsize=4096)
def _share_at(pulls: int, seen: float, chance: float) -> float:
    """Return where the incomplete beta function reaches a chance, by halving."""
    low, high = 0.0, 1.0
    for _ in range(_STEPS):
        middle = (low + high) / 2
        is_below = _incomplete_beta(middle, pulls, seen) < chance
        low, high = (middle, high) if is_below else (low, middle)
    return (low + high) / 2


def _incomplete_beta(x: float, a: float, b: float) -> float:
    """Return I_x(a, b), by its continued fraction.

    Source: NIST Digital Library of Mathematical Functions, 8.17.22; it converges
    fast below its turning point, beyond which 8.17.4 mirrors it.
    """
    if x <= 0.0 or x >= 1.0:
        return float(x >= 1.0)
    if x > (a + 1.0) / (a + b + 2.0):
        return 1.0 - _incomplete_beta(1.0 - x, b, a)
    scale = lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log1p(-x)
    return exp(scale) / (a * _fraction(x, a, b))


def _fraction(x: float, a: float, b: float) -> float:
    """Return 1 + d1/(1 + d2/(1 + …)) by the method of Lentz."""
    value = numerator = 1.0
    denominator = 0.0
    for term in range(1, _TERMS):
        step = _coefficient(term, x, a, b)
        denominator = 1.0 / _not_zero(1.0 + step * denominator)
        numerator = _not_zero(1.0 + step / numerator)
        value *= numerator * denominator
        if abs(numerator * denominator - 1.0) < _CLOSE:
            break
    return value


def _coefficient(term: int, x: float, a: float, b: float) -> float:
    m, odd = divmod(term, 2)
    if odd:
        return -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1))
    return m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m))


def _not_zero(value: float) -> float:
    return value if abs(value) > _TINY else _TINY
