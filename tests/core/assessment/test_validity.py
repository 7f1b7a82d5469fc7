"""How long a certificate holds, against another library's calendar."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from coursekit.assessment.validity import Act, Term, Validity, expiry, may_follow, validity

days = st.dates(date(1990, 1, 1), date(2100, 12, 31))
months = st.integers(1, 240)
TERM = Term(date(2026, 6, 6), date(2028, 6, 6), warn_days=60)


@pytest.mark.independent("dateutil's relativedelta, which ends a month that lacks the day early")
@given(day=days, count=months)
def test_it_expires_on_the_same_day_so_many_months_on(day: date, count: int) -> None:
    assert expiry(day, count) == day + relativedelta(months=count)


@given(day=days, count=months)
def test_a_month_more_never_ends_sooner(day: date, count: int) -> None:
    assert expiry(day, count) < expiry(day, count + 1)


def test_a_leap_day_ends_on_the_28th_of_a_common_year() -> None:
    assert expiry(date(2024, 2, 29), 12) == date(2025, 2, 28)
    assert expiry(date(2024, 2, 29), 48) == date(2028, 2, 29)


def test_less_than_a_month_is_refused() -> None:
    with pytest.raises(ValueError, match="a month at least"):
        expiry(date(2026, 6, 6), 0)


@pytest.mark.parametrize(
    ("day", "stands"),
    [
        (date(2026, 6, 6), Validity.VALID),
        (date(2028, 4, 6), Validity.VALID),
        (date(2028, 4, 7), Validity.EXPIRING),
        (date(2028, 6, 6), Validity.EXPIRING),
        (date(2028, 6, 7), Validity.EXPIRED),
    ],
)
def test_it_warns_before_its_last_day_and_holds_on_it(day: date, stands: Validity) -> None:
    assert validity(TERM, (), day) is stands


@given(acts=st.lists(st.sampled_from(Act)), day=days)
def test_withdrawn_is_final_and_nothing_comes_after_it(acts: list[Act], day: date) -> None:
    done: tuple[Act, ...] = ()
    for act in acts:
        if may_follow(done, act):
            done = (*done, act)
    if Act.WITHDRAWN in done:
        assert done[-1] is Act.WITHDRAWN
        assert validity(TERM, done, day) is Validity.WITHDRAWN
    elif done and done[-1] is Act.SUSPENDED:
        assert validity(TERM, done, day) is Validity.SUSPENDED
    else:
        assert validity(TERM, done, day) is validity(TERM, (), day)


@given(day=days, later=st.integers(0, 4000))
def test_what_has_expired_stays_so(day: date, later: int) -> None:
    if validity(TERM, (), day) is Validity.EXPIRED:
        assert validity(TERM, (), day + timedelta(days=later)) is Validity.EXPIRED
