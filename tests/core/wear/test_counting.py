"""What a ledger adds up to."""

from dataclasses import replace
from datetime import date
from math import fsum

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.wear.counting import ages, count, explain, use_before
from coursekit.wear.ledger import Entry, Kind, Pull, Size, UsedBefore, joined
from coursekit.wear.policy import ClassesPolicy, Counting, InspectionOnly, PowerPolicy
from tests.core.wear.ledgers import (
    LIMIT,
    correction,
    declared,
    entry,
    inspection,
    ledgers,
    pull_entry,
    pulls,
    solved,
)

THIRTY = ClassesPolicy(limit=30.0)
# The worked log of 58 pulls; N(39 kN) = 20711.2912 on the curve of slope 5
# through 1,000 pulls at 55 % of 130 kN: derived by hand from Miner's rule.
POWER = PowerPolicy(reference_load=39_000.0, exponent=5.0, life=20711.2912, safety=60.0)
LOG = ((40, 25_000.0), (12, 45_000.0), (5, 65_000.0), (1, 90_000.0))
COUNTINGS = st.sampled_from([THIRTY, POWER, InspectionOnly()])


def worked_log() -> list[Entry]:
    loads = [load for number, load in LOG for _ in range(number)]
    return [pull_entry(solved(load, 130_000.0), f"p{n}") for n, load in enumerate(loads)]


def test_the_worked_log_has_the_worked_weight_and_damage() -> None:
    counts = count(worked_log(), POWER)

    assert counts.use == pytest.approx(158.619, abs=5e-4)
    assert counts.use / POWER.life == pytest.approx(0.00765860, abs=5e-9)


@pytest.mark.parametrize(
    ("share", "size", "use"),
    [
        (0.0, Size.LIGHT, 1.0),
        (0.249, Size.LIGHT, 1.0),
        (0.25, Size.HEAVY, 3.0),
        (1.0, Size.HEAVY, 3.0),
        (1.001, Size.OVERLOAD, 30.0),
    ],
)
def test_a_pull_is_classed_by_its_share_of_the_limit(share: float, size: Size, use: float) -> None:
    line = explain([pull_entry(solved(share * LIMIT))], THIRTY)[0]

    assert (line.size, line.added) == (size, use)


def test_an_unknown_load_counts_as_heavy_and_is_told_apart() -> None:
    counts = count([pull_entry(solved(9.0, limit=None))], THIRTY)

    assert (counts.unknown, counts.heavy, counts.use) == (1, 0, 3.0)


def test_what_bore_no_load_needs_no_limit() -> None:
    assert explain([pull_entry(solved(0.0, limit=None))], THIRTY)[0].size is Size.LIGHT


def test_a_declared_pull_weighs_by_the_upper_end_of_its_class() -> None:
    light = count([pull_entry(declared(Size.LIGHT))], POWER).use
    heavy = count([pull_entry(declared(Size.HEAVY))], POWER).use

    assert light == pytest.approx((0.25 * LIMIT / 39_000.0) ** 5)
    assert heavy == pytest.approx((LIMIT / 39_000.0) ** 5)


def test_a_declared_pull_on_an_unrated_item_weighs_its_whole_life() -> None:
    assert count([pull_entry(declared(Size.LIGHT, limit=None))], POWER).use == POWER.limit


def test_an_item_without_a_count_still_tells_its_pulls() -> None:
    counts = count([pull_entry(solved(LIMIT))], InspectionOnly())

    assert (counts.heavy, counts.use) == (1, 0.0)


@given(ledgers(), COUNTINGS)
def test_the_order_of_arrival_changes_no_digit(ledger: list[Entry], counting: Counting) -> None:
    assert count(list(reversed(ledger)), counting) == count(ledger, counting)


@given(ledgers(), COUNTINGS, st.integers(0, 30))
def test_batches_change_no_digit(ledger: list[Entry], counting: Counting, cut: int) -> None:
    kept: tuple[Entry, ...] = ()
    for batch in (ledger[:cut], ledger[: cut + 2], ledger[cut:]):
        kept = joined(kept, batch)

    assert count(kept, counting) == count(ledger, counting)


@given(ledgers(), pulls, COUNTINGS, st.integers(0, 400))
def test_a_correction_restores_the_count(
    ledger: list[Entry], pull: Pull, counting: Counting, day: int
) -> None:
    wrong = pull_entry(pull, "wrong", day=day)
    before = count(ledger, counting)

    assert count([wrong, *ledger, correction(wrong)], counting) == before


@given(ledgers(), pulls, COUNTINGS)
def test_one_more_pull_never_lowers_the_count(
    ledger: list[Entry], pull: Pull, counting: Counting
) -> None:
    more = [*ledger, pull_entry(pull, "more")]

    assert count(more, counting).use >= count(ledger, counting).use
    assert count(more, counting).pulls == count(ledger, counting).pulls + 1


@given(ledgers(), COUNTINGS)
def test_the_explanation_adds_up_to_the_count(ledger: list[Entry], counting: Counting) -> None:
    lines = explain(ledger, counting)
    use = count(ledger, counting).use

    assert fsum(line.added for line in lines) == use
    assert (lines[-1].total if lines else 0.0) == use
    assert [line.day for line in lines] == sorted(line.day for line in lines)


def test_ages_go_by_the_first_pull_and_the_last_inspection_that_passed() -> None:
    ledger = [
        pull_entry(solved(1.0), "late", day=20),
        pull_entry(solved(1.0), "first", day=10),
        inspection("passed", day=15),
        inspection("failed", passed=False, day=25),
    ]
    counts = count(ledger, THIRTY)
    found = ages(date(2026, 1, 1), counts, date(2026, 3, 31))

    assert (found.since_made, found.since_first_use, found.since_inspection) == (89, 20, 15)


def test_an_item_never_used_nor_inspected_has_no_such_age() -> None:
    found = ages(None, count([], THIRTY), date(2026, 3, 31))

    assert (found.since_made, found.since_first_use, found.since_inspection) == (None, None, None)


def test_other_entries_add_nothing() -> None:
    other = [entry(kind, kind.value) for kind in Kind if kind is not Kind.PULL]

    assert count(other, THIRTY).pulls == 0


CAME = UsedBefore(date(2024, 5, 1), light=10, heavy=4, limit=130_000.0 / 3)


@pytest.mark.parametrize(
    ("counting", "use"),
    [
        # Ten light at 1 and four heavy at 3 (common practice, no source).
        (THIRTY, 22.0),
        # Light at a quarter of the limit of 43.33 kN, heavy at all of it, by hand.
        (POWER, 10 * (130 / 3 / 4 / 39) ** 5 + 4 * (130 / 3 / 39) ** 5),
        (InspectionOnly(), 0.0),
    ],
)
def test_what_an_item_came_with_counts_like_declared_pulls(counting: Counting, use: float) -> None:
    came = replace(entry(Kind.RECEIVED, "r"), before=CAME)
    felt = solved(LIMIT / 2, LIMIT)
    pull = pull_entry(felt, "p")
    counts = count([came, pull], counting)

    assert use_before([came, pull], counting) == pytest.approx(use)
    assert counts.use == pytest.approx(use + counting.weight(felt))
    assert (counts.light, counts.heavy, counts.first_used) == (10, 5, date(2024, 5, 1))
    (line,) = explain([came, pull], counting)
    assert line.total == pytest.approx(counts.use)


def test_a_count_that_was_kept_elsewhere_is_taken_as_it_is() -> None:
    came = replace(entry(Kind.RECEIVED, "r"), before=UsedBefore(date(2024, 5, 1), count=7.5))

    assert count([came], THIRTY).use == 7.5
    assert count([came], InspectionOnly()).use == 0.0
