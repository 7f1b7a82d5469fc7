"""Who holds an item back, and what has to be seen before it is released."""

from dataclasses import replace

import pytest
from hypothesis import given

from coursekit.wear.holds import hold_of
from coursekit.wear.ledger import Entry, Kind
from tests.core.wear.ledgers import correction, entry, inspection, ledgers

THERE = entry(Kind.RECEIVED, "r", day=-1)


def by(person: str, one: Entry) -> Entry:
    return replace(one, person=person)


def test_everybody_who_held_it_since_its_last_release_holds_it() -> None:
    ledger = [
        THERE,
        by("ana", entry(Kind.QUARANTINED, "a", day=1)),
        by("mara", entry(Kind.RELEASED, "b", day=2)),
        by("mara", entry(Kind.QUARANTINED, "c", day=3)),
        by("tobin", entry(Kind.QUARANTINED, "d", day=4)),
    ]

    assert hold_of(ledger).holders == {"mara", "tobin"}
    assert hold_of([*ledger, correction(ledger[-1])]).holders == {"mara"}
    assert hold_of([*ledger, entry(Kind.RELEASED, "e", day=5)]).holders == set()


@pytest.mark.parametrize(
    "met",
    [
        replace(entry(Kind.QUARANTINED, "m", day=3), of_pull="7"),
        inspection("m", passed=False, day=3),
        entry(Kind.REPAIRED, "m", day=3),
        entry(Kind.RECEIVED, "m", day=3),
    ],
)
def test_after_some_events_only_a_passed_examination_clears_it(met: Entry) -> None:
    assert hold_of([THERE, inspection("before", day=2), met]).unexamined == met
    assert hold_of([THERE, met, entry(Kind.RELEASED, "l", day=4)]).unexamined == met
    assert hold_of([THERE, met, inspection("after", day=4)]).unexamined is None
    assert hold_of([THERE, met, inspection("after", day=4, passed=False)]).unexamined is not None


def test_a_doubt_of_a_person_asks_for_no_thorough_examination() -> None:
    assert hold_of([THERE, entry(Kind.QUARANTINED, "q", day=1)]).unexamined is None


def test_whoever_found_a_lost_item_does_not_release_it() -> None:
    found = by("tobin", entry(Kind.RECEIVED, "f", day=5))

    assert hold_of([THERE, entry(Kind.LOST, "l", day=4), found]).holders == {"tobin"}


@given(ledgers())
def test_the_order_of_arrival_does_not_change_who_holds_it(ledger: list[Entry]) -> None:
    assert hold_of(list(reversed(ledger))) == hold_of(ledger)
