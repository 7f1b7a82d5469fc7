"""The edges of a rule agree with what is due on one item."""

from datetime import date, timedelta

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from coursekit.wear.counting import Counts
from coursekit.wear.policy import ClassesPolicy, InspectionOnly, Policy, default_policy
from coursekit.wear.schedule import Facts, due, months_later
from coursekit.wear.shelf import (
    Edges,
    Shelf,
    edges,
    is_nearly_used,
    months_earlier,
    near_edges,
    shelf_of,
)
from coursekit.wear.status import Status

TODAY = date(2026, 6, 15)
ROPE = default_policy("kinetic-rope")
SEEN = Counts(last_inspected=date(2026, 6, 1))

days = st.dates(date(1990, 1, 1), date(2060, 12, 31))


@given(day=days, months=st.integers(1, 600))
def test_what_is_due_by_a_day_lies_no_later_than_the_edge(day: date, months: int) -> None:
    edge = months_earlier(day, months)

    assert months_later(edge, months) <= day
    assert months_later(edge + timedelta(days=1), months) > day


@given(day=days, months=st.integers(1, 600))
def test_the_edge_is_the_calendars_own_day_or_the_end_of_its_month(day: date, months: int) -> None:
    """Against dateutil, which keeps the day of the month where the month has it."""
    plain = day - relativedelta(months=months)
    edge = months_earlier(day, months)

    assert (edge.year, edge.month) == (plain.year, plain.month)
    assert edge == plain or (edge + timedelta(days=1)).day == 1


@pytest.mark.parametrize(
    ("status", "counts", "made", "shelf"),
    [
        (Status.IN_STORE, SEEN, date(2026, 1, 1), Shelf.READY),
        (Status.IN_STORE, Counts(), date(2026, 1, 1), Shelf.HELD),
        (Status.IN_STORE, SEEN, None, Shelf.HELD),
        (Status.IN_STORE, SEEN, date(2021, 6, 15), Shelf.HELD),
        # Thirty days before it retires by age: common practice, no source.
        (Status.IN_STORE, SEEN, date(2021, 7, 15), Shelf.SOON),
        (Status.IN_STORE, SEEN, date(2021, 7, 16), Shelf.READY),
        (Status.QUARANTINED, SEEN, date(2026, 1, 1), Shelf.HELD),
        (Status.OUT, SEEN, date(2026, 1, 1), Shelf.OUT),
        (Status.OUT, SEEN, date(2021, 6, 15), Shelf.HELD),
        (Status.RETIRED, Counts(), None, Shelf.AWAY),
        (Status.LOST, Counts(), None, Shelf.AWAY),
    ],
)
def test_an_item_stands_on_one_shelf(
    status: Status, counts: Counts, made: date | None, shelf: Shelf
) -> None:
    found = due(Facts(made, is_labelled=True, status=status), counts, ROPE, TODAY)

    assert shelf_of(status, found, counts, ROPE) is shelf


@pytest.mark.parametrize(("use", "near"), [(23.9, False), (24.0, True), (30.0, True)])
def test_four_fifths_of_the_use_count_is_soon(use: float, near: bool) -> None:  # noqa: FBT001
    counts = Counts(use=use, last_inspected=TODAY)
    facts = Facts(date(2026, 1, 1), is_labelled=True, status=Status.IN_STORE)
    found = due(facts, counts, ROPE, TODAY)

    assert is_nearly_used(counts, ROPE) is near
    assert (shelf_of(Status.IN_STORE, found, counts, ROPE) is Shelf.READY) is not near


def test_a_rule_without_limits_has_no_edges() -> None:
    bare = Policy(InspectionOnly(), months_between_inspections=None)

    assert edges(bare, TODAY) == near_edges(bare, TODAY) == Edges(None, None, None, None)
    assert near_edges(Policy(ClassesPolicy(limit=10.0)), TODAY).use == 8.0
