"""What is due, why, and what is left before that."""

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from coursekit.wear.counting import Counts
from coursekit.wear.policy import ClassesPolicy, Policy, PowerPolicy, default_policy
from coursekit.wear.schedule import Bar, Cause, Due, Facts, due, months_later, rest_until
from coursekit.wear.status import Status

TODAY = date(2026, 6, 15)
NOON = datetime(2026, 6, 15, 12, tzinfo=UTC)
ROPE = default_policy("kinetic-rope")
FRESH = Facts(made=date(2026, 1, 1), is_labelled=True, status=Status.IN_STORE)
SEEN = Counts(last_inspected=date(2026, 6, 1))


def causes(found: Due) -> list[Cause]:
    return [reason.cause for reason in found.now]


def test_a_fresh_item_that_was_examined_may_go_out() -> None:
    found = due(FRESH, SEEN, ROPE, TODAY)

    assert found.may_go_out
    assert not found.is_due
    assert found.left.use == 30.0
    assert found.left.pulls == (("light", 30), ("heavy", 10))


@pytest.mark.parametrize(("use", "found"), [(29.0, []), (30.0, [Cause.USE]), (41.0, [Cause.USE])])
def test_use_is_due_when_the_count_reaches_the_limit(use: float, found: list[Cause]) -> None:
    rope = due(FRESH, replace(SEEN, use=use, heavy=9), ROPE, TODAY)

    assert causes(rope) == found
    assert rope.is_to_retire is bool(found)


def test_what_is_left_is_rounded_down_and_never_negative() -> None:
    nearly = due(FRESH, replace(SEEN, use=28.5), ROPE, TODAY).left
    past = due(FRESH, replace(SEEN, use=75.0), ROPE, TODAY).left

    assert (nearly.use, nearly.pulls) == (1.5, (("light", 1), ("heavy", 0)))
    assert (past.use, past.pulls) == (0.0, (("light", 0), ("heavy", 0)))


def test_age_is_due_on_the_day_itself() -> None:
    made = replace(FRESH, made=date(2021, 6, 15))

    assert causes(due(made, SEEN, ROPE, TODAY)) == [Cause.AGE]
    assert causes(due(made, SEEN, ROPE, TODAY - timedelta(days=1))) == []


def test_calendar_goes_by_the_first_use() -> None:
    used = replace(SEEN, first_used=date(2024, 6, 15))

    assert causes(due(FRESH, used, ROPE, TODAY)) == [Cause.CALENDAR]


def test_inspection_is_due_six_months_after_the_last() -> None:
    seen = Counts(last_inspected=date(2025, 12, 15))
    found = due(FRESH, seen, ROPE, TODAY)

    assert causes(found) == [Cause.INSPECTION]
    assert not found.is_to_retire
    assert not found.may_go_out


def test_an_item_that_was_never_examined_is_due_at_once() -> None:
    assert causes(due(FRESH, Counts(), ROPE, TODAY)) == [Cause.INSPECTION]


def test_the_earliest_comes_first_and_says_how_long_is_left() -> None:
    item = replace(FRESH, made=date(2021, 9, 1))
    used = Counts(first_used=date(2024, 8, 1), last_inspected=date(2026, 6, 1), use=4.0)
    found = due(item, used, ROPE, TODAY)

    assert [reason.cause for reason in found.reasons] == [
        Cause.CALENDAR,
        Cause.AGE,
        Cause.INSPECTION,
        Cause.USE,
    ]
    assert found.left.days == (date(2026, 8, 1) - TODAY).days


@pytest.mark.parametrize(
    ("item", "bars"),
    [
        (replace(FRESH, is_labelled=False), (Bar.UNLABELLED,)),
        (replace(FRESH, is_rated=False), (Bar.UNRATED,)),
        (replace(FRESH, made=None), (Bar.UNDATED,)),
        (replace(FRESH, status=Status.QUARANTINED), (Bar.QUARANTINED,)),
        (replace(FRESH, status=Status.OUT), (Bar.OUT,)),
        (replace(FRESH, status=Status.RETIRED, made=None), (Bar.RETIRED, Bar.UNDATED)),
    ],
)
def test_what_bars_an_item_is_named(item: Facts, bars: tuple[Bar, ...]) -> None:
    found = due(item, SEEN, ROPE, TODAY)

    assert found.bars == bars
    assert not found.may_go_out


def test_slings_and_steel_have_no_count_to_spend() -> None:
    found = due(FRESH, replace(SEEN, use=0.0, heavy=900), default_policy("bow-shackle"), TODAY)

    assert found.may_go_out
    assert (found.left.use, found.left.pulls) == (None, ())


def test_a_power_law_is_due_at_the_damage_it_names() -> None:
    policy = Policy(PowerPolicy(39_000.0, 5.0, life=20_711.2912, safety=60.0))

    assert due(FRESH, replace(SEEN, use=345.0), policy, TODAY).may_go_out
    assert causes(due(FRESH, replace(SEEN, use=345.2), policy, TODAY)) == [Cause.USE]


def test_a_rule_that_the_school_does_not_have_is_never_due() -> None:
    policy = Policy(ClassesPolicy(limit=1.0), months_between_inspections=None)
    found = due(FRESH, Counts(), policy, TODAY)

    assert [reason.cause for reason in found.reasons] == [Cause.USE]
    assert found.left.days is None


def test_a_winch_line_is_looked_over_on_each_class_day() -> None:
    line = default_policy("winch-line")

    assert due(FRESH, SEEN, line, TODAY).look_over
    assert not due(FRESH, Counts(last_inspected=TODAY), line, TODAY).look_over
    assert not due(FRESH, replace(SEEN, last_looked=TODAY), line, TODAY).look_over
    yesterday = TODAY - timedelta(days=1)
    assert due(FRESH, replace(SEEN, last_looked=yesterday), line, TODAY).look_over
    assert not due(FRESH, SEEN, ROPE, TODAY).look_over


def test_a_kinetic_rope_rests_ten_minutes() -> None:
    pulled = Counts(heavy=1, last_pull=NOON)

    assert rest_until(pulled, ROPE) == NOON + timedelta(minutes=10)


def test_what_was_never_pulled_or_does_not_stretch_needs_no_rest() -> None:
    pulled = Counts(heavy=1, last_pull=NOON)

    assert rest_until(Counts(), ROPE) is None
    assert rest_until(pulled, default_policy("bow-shackle")) is None


@given(st.dates(date(1990, 1, 1), date(2090, 1, 1)), st.integers(0, 240))
def test_months_later_agrees_with_an_independent_calendar(day: date, months: int) -> None:
    assert months_later(day, months) == day + relativedelta(months=months)


@given(
    use=st.floats(0.0, 60.0),
    made=st.dates(date(2015, 1, 1), TODAY),
    first=st.dates(date(2020, 1, 1), TODAY),
    seen=st.dates(date(2020, 1, 1), TODAY),
)
def test_any_one_rule_alone_makes_it_due(use: float, made: date, first: date, seen: date) -> None:
    item = replace(FRESH, made=made)
    found = due(item, Counts(use=use, first_used=first, last_inspected=seen), ROPE, TODAY)
    alone = (
        use >= 30.0,
        made + relativedelta(years=5) <= TODAY,
        first + relativedelta(years=2) <= TODAY,
        seen + relativedelta(months=6) <= TODAY,
    )

    assert found.is_due is any(alone)
    assert len(found.now) == sum(alone)


@given(use=st.floats(0.0, 60.0), days=st.integers(0, 3000))
def test_time_and_use_never_make_an_item_less_due(use: float, days: int) -> None:
    counts = replace(SEEN, use=use, first_used=date(2025, 1, 1))
    later = due(FRESH, replace(counts, use=use + 1.0), ROPE, TODAY + timedelta(days=days))

    assert set(causes(due(FRESH, counts, ROPE, TODAY))) <= set(causes(later))
