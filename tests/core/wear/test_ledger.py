"""Which entries of a ledger stand."""

from dataclasses import replace
from datetime import timedelta

from hypothesis import given
from hypothesis import strategies as st

from coursekit.wear.ledger import Entry, Kind, joined, standing
from tests.core.wear.ledgers import START, correction, entry, ledgers, pull_entry, solved


@given(ledgers())
def test_the_order_of_arrival_does_not_matter(ledger: list[Entry]) -> None:
    assert standing(sorted(ledger, key=lambda e: e.key)) == standing(ledger)


@given(ledgers())
def test_what_was_sent_twice_counts_once(ledger: list[Entry]) -> None:
    assert standing([*ledger, *reversed(ledger)]) == standing(ledger)


@given(ledgers(), st.integers(0, 30))
def test_batches_add_up_to_the_whole_wherever_they_are_cut(ledger: list[Entry], at: int) -> None:
    in_batches = joined(joined((), ledger[:at]), ledger[at // 2 :])

    assert standing(in_batches) == standing(ledger)


def test_a_correction_takes_out_its_entry_and_no_other() -> None:
    wrong, right = pull_entry(solved(1.0), "wrong"), pull_entry(solved(2.0), "right")

    assert standing([wrong, right, correction(wrong)]) == (right,)


def test_a_correction_may_arrive_before_the_entry_it_reverses() -> None:
    wrong = pull_entry(solved(1.0), "wrong")

    assert standing([correction(wrong), wrong]) == ()


def test_of_two_entries_with_one_key_the_first_known_is_kept() -> None:
    first, second = entry(Kind.RECEIVED, "k"), entry(Kind.RETIRED, "k")

    assert joined([first], [second]) == (first,)


def test_an_entry_that_arrives_a_day_later_is_late() -> None:
    on_the_day = replace(entry(Kind.RECEIVED), recorded=START + timedelta(hours=23))
    later = replace(entry(Kind.RECEIVED), recorded=START + timedelta(hours=25))

    assert not on_the_day.is_late
    assert later.is_late
