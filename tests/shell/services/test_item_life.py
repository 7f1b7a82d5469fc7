"""The life of an item: quarantine, release, retirement, correction."""

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from coursekit.problems import Problems
from coursekit.services import kit
from coursekit.services.accounting import verify
from coursekit.services.book import Book, NewEntry
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.services.kit import Change, Correction, ItemLife, Retirement
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind
from tests.cast import Cast


@pytest.fixture
def sling(cast: Cast) -> int:
    """The item that things happen to."""
    return cast.items["Sling 1"]


def life(unit: Unit, cast: Cast, item_id: int, today: date = date(2026, 6, 13)) -> ItemLife:
    return kit.item_life(unit, cast.storekeeper.actor, item_id, today)


def row(unit: Unit, cast: Cast, item_id: int) -> ItemRow:
    return life(unit, cast, item_id).item


def change(unit: Unit, cast: Cast, item_id: int, key: str = "change-1") -> Change:
    return Change(item_id, row(unit, cast, item_id).version, "a cut near one eye", key)


def retirement(unit: Unit, cast: Cast, item_id: int, key: str = "retire-1") -> Retirement:
    seen = row(unit, cast, item_id).version
    mara = cast.instructor.actor.person_id
    return Retirement(item_id, seen, "a cut near one eye", "cut in three", mara, key)


def test_anyone_may_quarantine(unit: Unit, cast: Cast, now: datetime, sling: int) -> None:
    kit.quarantine(unit, cast.student.actor, change(unit, cast, sling), now)
    found = row(unit, cast, sling)

    assert found.status == "quarantined"
    assert not found.due.may_go_out


def test_another_competent_person_releases(
    unit: Unit, cast: Cast, now: datetime, sling: int
) -> None:
    kit.quarantine(unit, cast.storekeeper.actor, change(unit, cast, sling), now)
    back = change(unit, cast, sling, "release-1")
    with pytest.raises(Refused, match="yourself"):
        kit.release(unit, cast.storekeeper.actor, back, now)
    kit.release(unit, cast.instructor.actor, back, now)

    assert row(unit, cast, sling).status == "in-store"


def test_a_student_releases_nothing(unit: Unit, cast: Cast, now: datetime, sling: int) -> None:
    kit.quarantine(unit, cast.instructor.actor, change(unit, cast, sling), now)

    with pytest.raises(RoleNeeded):
        kit.release(unit, cast.student.actor, change(unit, cast, sling, "release-1"), now)


def test_what_is_in_the_store_is_not_released(
    unit: Unit, cast: Cast, now: datetime, sling: int
) -> None:
    with pytest.raises(Problems, match="The item is in the store"):
        kit.release(unit, cast.instructor.actor, change(unit, cast, sling), now)


def test_a_retirement_says_how_it_was_destroyed_and_who_saw_it(
    unit: Unit, cast: Cast, now: datetime, sling: int
) -> None:
    kit.retire(unit, cast.storekeeper.actor, retirement(unit, cast, sling), now)
    found = life(unit, cast, sling)

    assert (found.item.status, found.item.retired_on) == ("retired", date(2026, 6, 13))
    assert found.item.retired_for == "a cut near one eye"
    mara = cast.instructor.actor.person_id
    assert found.lines[-1].detail == {"destroyed": "cut in three", "witness_id": mara}
    assert found.lines[-1].witness == "Mara Quint"
    count = kit.retirement_count(unit, cast.storekeeper.actor)
    assert [(r.kind, r.year, r.count, r.reasons) for r in count] == [
        ("roundsling", 2026, 1, (("a cut near one eye", 1),))
    ]


def test_a_retirement_leaves_nothing_open(
    unit: Unit, cast: Cast, now: datetime, sling: int
) -> None:
    form = replace(retirement(unit, cast, sling), reason=" ", destroyed="", witness=None)
    with pytest.raises(Problems) as problems:
        kit.retire(unit, cast.storekeeper.actor, form, now)

    fields = [problem.where.field for problem in problems.value.items]
    assert fields == ["reason", "destroyed", "witness"]
    assert row(unit, cast, sling).status == "in-store"


def test_a_witness_is_somebody_of_the_school(
    unit: Unit, cast: Cast, now: datetime, sling: int
) -> None:
    outsider = cast.outsider.actor.person_id
    form = replace(retirement(unit, cast, sling), witness=outsider)
    with pytest.raises(Problems, match="Nobody of the school is chosen"):
        kit.retire(unit, cast.storekeeper.actor, form, now)

    assert row(unit, cast, sling).status == "in-store"


def test_a_witness_that_was_kept_by_name_before_is_still_told(
    unit: Unit, cast: Cast, now: datetime, sling: int
) -> None:
    detail = {"destroyed": "cut in three", "witness": "Mara Quint"}
    with unit.write() as session:
        book = Book(session, cast.storekeeper.actor, now)
        book.write([NewEntry("retired-before", sling, Kind.RETIRED, reason="cut", detail=detail)])

    assert life(unit, cast, sling).lines[-1].witness == "Mara Quint"
    assert verify(unit, cast.storekeeper.actor).holds


def test_only_a_storekeeper_retires(unit: Unit, cast: Cast, now: datetime, sling: int) -> None:
    with pytest.raises(RoleNeeded):
        kit.retire(unit, cast.student.actor, retirement(unit, cast, sling), now)


def test_retired_is_final(unit: Unit, cast: Cast, now: datetime, sling: int) -> None:
    mara = cast.instructor.actor
    kit.retire(unit, cast.storekeeper.actor, retirement(unit, cast, sling), now)

    with pytest.raises(Problems, match="retired is final"):
        kit.quarantine(unit, mara, change(unit, cast, sling), now)
    with pytest.raises(Refused, match="is recorded"):
        kit.retire(unit, mara, retirement(unit, cast, sling, "retire-2"), now)
    last = life(unit, cast, sling).lines[-1].entry_id
    with pytest.raises(Refused, match="doesn't come back"):
        kit.correct(unit, mara, Correction(last, "a slip", "correct-1"), now)


def test_a_form_that_was_opened_before_a_change_is_stale(
    unit: Unit, cast: Cast, now: datetime, sling: int
) -> None:
    stale = change(unit, cast, sling, "stale-001")
    kit.quarantine(unit, cast.instructor.actor, change(unit, cast, sling), now)

    with pytest.raises(Conflict, match="has changed"):
        kit.quarantine(unit, cast.storekeeper.actor, stale, now)
    with pytest.raises(Conflict, match="has changed"):
        kit.release(unit, cast.storekeeper.actor, stale, now)


def test_a_form_sent_twice_counts_once(unit: Unit, cast: Cast, now: datetime, sling: int) -> None:
    form = retirement(unit, cast, sling)
    for _ in range(2):
        kit.retire(unit, cast.storekeeper.actor, form, now)

    assert [line.kind for line in life(unit, cast, sling).lines].count("retired") == 1


def test_the_same_key_for_another_item_is_a_conflict(
    unit: Unit, cast: Cast, now: datetime, sling: int
) -> None:
    kit.quarantine(unit, cast.instructor.actor, change(unit, cast, sling), now)

    other = change(unit, cast, cast.items["Bow 1"])
    with pytest.raises(Conflict, match="other content"):
        kit.quarantine(unit, cast.instructor.actor, other, now)


def test_a_correction_reverses_an_entry_and_both_stay_to_be_seen(
    unit: Unit, cast: Cast, now: datetime, sling: int
) -> None:
    mara = cast.instructor.actor
    kit.quarantine(unit, cast.storekeeper.actor, change(unit, cast, sling), now)
    wrong = life(unit, cast, sling).lines[-1]
    kit.correct(unit, mara, Correction(wrong.entry_id, "the other sling", "correct-1"), now)
    found = life(unit, cast, sling)

    assert found.item.status == "in-store"
    assert [(line.kind, line.is_reversed) for line in found.lines[-2:]] == [
        ("quarantined", True),
        ("correction", False),
    ]
    assert verify(unit, cast.storekeeper.actor).holds


def test_an_entry_is_reversed_once(unit: Unit, cast: Cast, now: datetime, sling: int) -> None:
    mara = cast.instructor.actor
    kit.quarantine(unit, cast.storekeeper.actor, change(unit, cast, sling), now)
    wrong = life(unit, cast, sling).lines[-1].entry_id
    once = Correction(wrong, "the other sling", "correct-1")
    kit.correct(unit, mara, once, now)
    kit.correct(unit, mara, once, now)

    with pytest.raises(Refused, match="reversed already"):
        kit.correct(unit, mara, replace(once, key="correct-2"), now)
    assert [line.kind for line in life(unit, cast, sling).lines].count("correction") == 1


def test_that_an_item_was_received_is_never_reversed(
    unit: Unit, cast: Cast, now: datetime, sling: int
) -> None:
    first = life(unit, cast, sling).lines[0].entry_id
    with pytest.raises(Refused, match="never reversed"):
        kit.correct(unit, cast.instructor.actor, Correction(first, "x", "correct-1"), now)


def test_what_is_not_there_is_not_found(unit: Unit, cast: Cast, now: datetime) -> None:
    mara = cast.instructor.actor
    with pytest.raises(NotFound):
        kit.item_life(unit, mara, 999, now.date())
    with pytest.raises(NotFound):
        kit.quarantine(unit, mara, Change(999, 1, "x", "change-1"), now)
    with pytest.raises(NotFound):
        kit.correct(unit, mara, Correction(999, "x", "correct-1"), now)


def test_days_go_by_the_schools_clock(unit: Unit, cast: Cast, sling: int) -> None:
    before_midnight_utc = datetime.fromisoformat("2026-06-13T23:30:00+00:00")
    form = change(unit, cast, sling)
    kit.quarantine(unit, cast.instructor.actor, form, before_midnight_utc)
    line = life(unit, cast, sling).lines[-1]

    # London keeps summer time in June: half past midnight on the 14th.
    assert (line.day, line.at) == (date(2026, 6, 14), before_midnight_utc)
    assert timedelta(0) == line.at.utcoffset()
