"""Where an item stands and which moves are allowed."""

from contextlib import suppress
from dataclasses import replace

import pytest
from hypothesis import given

from coursekit.wear.ledger import Entry, Kind
from coursekit.wear.status import NotAllowed, Status, move, status_of
from tests.core.wear.ledgers import correction, entry, ledgers

LIVING = (Status.IN_STORE, Status.OUT, Status.QUARANTINED)


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind is not Kind.RECEIVED])
def test_nothing_happens_to_an_item_that_is_not_in_the_register(kind: Kind) -> None:
    with pytest.raises(NotAllowed, match="not in the register"):
        move(None, kind)


@pytest.mark.parametrize("kind", [kind for kind in Kind if kind is not Kind.RETIRED])
def test_retired_is_final(kind: Kind) -> None:
    with pytest.raises(NotAllowed, match="retired is final"):
        move(Status.RETIRED, kind)


def test_a_retired_item_is_retired_once_more_with_how_it_was_destroyed() -> None:
    assert move(Status.RETIRED, Kind.RETIRED) is Status.RETIRED


@pytest.mark.parametrize(
    ("status", "kind", "after"),
    [
        (None, Kind.RECEIVED, Status.IN_STORE),
        (Status.IN_STORE, Kind.ISSUED, Status.OUT),
        (Status.OUT, Kind.RETURNED, Status.IN_STORE),
        (Status.QUARANTINED, Kind.RETURNED, Status.QUARANTINED),
        (Status.QUARANTINED, Kind.REPAIRED, Status.QUARANTINED),
        (Status.QUARANTINED, Kind.RELEASED, Status.IN_STORE),
        (Status.LOST, Kind.RECEIVED, Status.QUARANTINED),
    ],
)
def test_a_move_leads_where_it_should(status: Status | None, kind: Kind, after: Status) -> None:
    assert move(status, kind) is after


@pytest.mark.parametrize("status", LIVING)
def test_a_living_item_may_be_pulled_quarantined_retired_and_lost(status: Status) -> None:
    assert move(status, Kind.PULL) is status
    assert move(status, Kind.INSPECTED) is status
    assert move(status, Kind.QUARANTINED) is Status.QUARANTINED
    assert move(status, Kind.RETIRED) is Status.RETIRED
    assert move(status, Kind.LOST) is Status.LOST


@pytest.mark.parametrize(
    ("status", "kind"),
    [
        (Status.QUARANTINED, Kind.ISSUED),
        (Status.IN_STORE, Kind.RELEASED),
        (Status.IN_STORE, Kind.RETURNED),
        (Status.IN_STORE, Kind.RECEIVED),
        (Status.IN_STORE, Kind.REPAIRED),
        (Status.LOST, Kind.RETIRED),
        (Status.LOST, Kind.PULL),
        (Status.IN_STORE, Kind.CORRECTION),
    ],
)
def test_a_move_that_makes_no_sense_is_refused_with_the_reason(status: Status, kind: Kind) -> None:
    with pytest.raises(NotAllowed) as refused:
        move(status, kind)

    assert refused.value.move is kind
    assert str(refused.value) == f"{kind}: {refused.value.reason}."


def test_status_goes_by_the_time_of_the_event() -> None:
    late = [
        entry(Kind.RELEASED, "b", day=5),
        entry(Kind.RECEIVED, "a", day=0),
        entry(Kind.QUARANTINED, "c", day=3),
    ]

    assert status_of(late) is Status.IN_STORE


def test_a_late_retirement_is_final_for_what_was_recorded_after_it() -> None:
    ledger = [
        entry(Kind.RECEIVED, "a", day=0),
        entry(Kind.QUARANTINED, "b", day=3),
        entry(Kind.RELEASED, "c", day=5),
        entry(Kind.RETIRED, "late", day=4),
    ]

    assert status_of(ledger) is Status.RETIRED


def test_correcting_a_quarantine_puts_the_item_back() -> None:
    wrong = entry(Kind.QUARANTINED, "b", day=3)

    assert status_of([entry(Kind.RECEIVED, "a"), wrong, correction(wrong)]) is Status.IN_STORE


@given(ledgers())
def test_the_order_of_arrival_does_not_change_the_status(ledger: list[Entry]) -> None:
    assert status_of(list(reversed(ledger))) is status_of(ledger)


def test_what_is_released_while_a_class_has_it_is_still_out() -> None:
    ledger = [
        entry(Kind.RECEIVED, "a", day=0),
        entry(Kind.ISSUED, "b", day=1),
        entry(Kind.QUARANTINED, "c", day=2),
        entry(Kind.RELEASED, "d", day=3),
    ]
    back = entry(Kind.RETURNED, "e", day=4)

    assert status_of(ledger) is Status.OUT
    assert status_of([*ledger, back]) is Status.IN_STORE
    # It came back in quarantine, or it never went out.
    assert status_of([*ledger, replace(back, at=ledger[2].at)]) is Status.IN_STORE
    assert status_of([*ledger, correction(ledger[1])]) is Status.IN_STORE


def test_an_old_ledger_with_a_second_issue_still_ends_in_the_store() -> None:
    kinds = (Kind.RECEIVED, Kind.ISSUED, Kind.QUARANTINED, Kind.RELEASED, Kind.ISSUED)
    ledger = [entry(kind, f"old-{day}", day=day) for day, kind in enumerate(kinds)]

    assert status_of(ledger) is Status.OUT
    assert status_of([*ledger, entry(Kind.RETURNED, "x", day=9)]) is Status.IN_STORE


@given(ledgers())
def test_moves_in_order_lead_to_the_same_status(ledger: list[Entry]) -> None:
    status: Status | None = None
    is_out, hands = False, {Kind.ISSUED: True, Kind.RETURNED: False, Kind.RECEIVED: False}
    for one in sorted(ledger, key=lambda e: (e.at, e.key)):
        with suppress(NotAllowed):
            status = move(status, one.kind, is_with_class=is_out)
        is_out = hands.get(one.kind, is_out)

    assert status is status_of(ledger)
