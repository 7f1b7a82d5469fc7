"""When an item will be due, against scipy's own distributions."""

from datetime import date
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from coursekit.wear.counting import Counts
from coursekit.wear.forecast import (
    Forecast,
    Rate,
    chance_within,
    days_until,
    forecast,
    pulls_left,
    purchases,
)
from coursekit.wear.policy import ClassesPolicy, InspectionOnly, Policy, default_policy
from coursekit.wear.schedule import Cause, Facts, due
from coursekit.wear.status import Status

TODAY = date(2026, 6, 13)
ROPE = default_policy("kinetic-rope")

rates = st.builds(Rate, pulls=st.integers(1, 400), days=st.integers(1, 365))
chances = st.floats(0.01, 0.99)


def ahead(counts: Counts, rate: Rate, policy: Policy = ROPE) -> Forecast | None:
    facts = Facts(date(2026, 1, 15), is_labelled=True, status=Status.IN_STORE)
    return forecast(due(facts, counts, policy, TODAY), counts, policy, rate, TODAY)


@pytest.mark.independent("scipy's negative binomial, shape a and success b / (b + t)")
@given(rate=rates, pulls=st.integers(1, 300), days=st.floats(0.5, 2000.0))
def test_the_chance_is_that_of_a_negative_binomial(rate: Rate, pulls: int, days: float) -> None:
    expected = stats.nbinom(rate.pulls + 0.5, rate.days / (rate.days + days)).sf(pulls - 1)

    assert chance_within(pulls, rate, days) == pytest.approx(expected, rel=1e-7, abs=1e-11)


@pytest.mark.independent("scipy's beta prime: a gamma time over a gamma rate")
@given(rate=rates, pulls=st.integers(1, 300), chance=chances)
def test_the_days_until_are_those_of_a_beta_prime(rate: Rate, pulls: int, chance: float) -> None:
    expected = rate.days * stats.betaprime(pulls, rate.pulls + 0.5).ppf(chance)

    assert days_until(pulls, rate, chance) == pytest.approx(expected, rel=1e-6)


@pytest.mark.independent("the gamma-Poisson count of a = 52.5, b = 10, t = 6, worked with scipy")
def test_the_count_of_a_worked_example() -> None:
    # 52 uses in 10 months: 5, 50 and 95 % of the uses in 6 more are 20, 31 and 44.
    rate = Rate(52, 10)
    for uses, level in ((20, 0.05), (31, 0.5), (44, 0.95)):
        assert (
            1.0 - chance_within(uses, rate, 6.0) < level <= 1.0 - chance_within(uses + 1, rate, 6.0)
        )


@given(rate=rates, pulls=st.integers(1, 200))
def test_a_later_day_is_likelier_and_more_pulls_take_longer(rate: Rate, pulls: int) -> None:
    times = [days_until(pulls, rate, chance) for chance in (0.05, 0.5, 0.95)]

    assert times == sorted(times)
    assert all(one < other for one, other in pairwise([0.0, *times]))
    assert days_until(pulls + 1, rate, 0.5) > times[1]


def test_the_pulls_left_go_by_the_mean_of_those_before_and_round_down() -> None:
    hundred = Policy(ClassesPolicy(limit=100.0))

    # 62.4 in 52 pulls is 1.2 a pull, and 37.6 / 1.2 = 31.3.
    assert pulls_left(Counts(light=52, use=62.4), hundred) == 31
    assert pulls_left(Counts(light=52, use=100.0), hundred) == 0
    assert pulls_left(Counts(light=1, use=99.9), hundred) == 1


@pytest.mark.parametrize("counts", [Counts(), Counts(light=3)], ids=["no pull", "weighs nothing"])
def test_without_use_there_is_no_forecast_by_use(counts: Counts) -> None:
    assert pulls_left(counts, ROPE) is None


def test_one_very_heavy_pull_leaves_few() -> None:
    assert pulls_left(Counts(overload=1, use=30.0), ROPE) == 0
    assert pulls_left(Counts(heavy=1, use=29.0), ROPE) == 1


def test_a_date_that_is_known_cuts_the_range_off() -> None:
    # First used on 1 July 2024, it leaves after two years, whatever its rate.
    counts = Counts(light=2, use=2.0, first_used=date(2024, 7, 1))
    found = ahead(counts, Rate(2, 365))

    assert found is not None
    assert (found.cause, found.likely, found.late) == (
        Cause.CALENDAR,
        date(2026, 7, 1),
        date(2026, 7, 1),
    )
    assert found.within_a_year == 1.0


def test_what_is_spent_retires_today() -> None:
    found = ahead(Counts(heavy=10, use=30.0), Rate(0, 365))

    assert found is not None
    assert (found.early, found.likely, found.late, found.within_a_year) == (
        TODAY,
        TODAY,
        TODAY,
        1.0,
    )


def test_an_item_that_nobody_pulled_of_late_keeps_its_known_dates_alone() -> None:
    found = ahead(Counts(light=1, use=1.0, first_used=date(2026, 2, 1)), Rate(0, 365))

    assert found is not None
    assert (found.cause, found.early) == (Cause.CALENDAR, date(2028, 2, 1))


def test_what_only_inspection_ends_has_no_forecast() -> None:
    assert ahead(Counts(light=40), Rate(40, 365), Policy(InspectionOnly())) is None


def test_no_day_is_told_beyond_the_horizon() -> None:
    found = ahead(Counts(light=1, use=1.0), Rate(1, 365), Policy(ClassesPolicy(limit=10_000.0)))

    assert found is not None
    assert found.likely is None


@pytest.mark.independent("scipy's binomial, where all chances are alike")
@given(items=st.integers(1, 80), chance=chances)
def test_purchases_of_like_items_are_binomial(items: int, chance: float) -> None:
    found, expected = purchases([chance] * items), stats.binom(items, chance)

    assert found.expected == pytest.approx(items * chance)
    assert (found.low, found.high) == (expected.ppf(0.05), expected.ppf(0.95))


def test_purchases_count_what_is_certain() -> None:
    found = purchases([1.0, 1.0, 0.0, 0.5])

    assert (found.expected, found.low, found.high) == (2.5, 2, 3)
    assert purchases([]).high == 0
