"""Kit that was lost, found again, or repaired."""

from datetime import datetime

import pytest

from coursekit.problems import Problems
from coursekit.services import issuing, repairing
from coursekit.services.accounting import verify
from coursekit.services.errors import Refused, RoleNeeded
from coursekit.services.issuing import GiveBack
from coursekit.services.repairing import Repair
from coursekit.store.queries.issues import out_with
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind
from tests.cast import Cast
from tests.shell.services.store_acts import Store


@pytest.fixture
def store(unit: Unit, cast: Cast, now: datetime) -> Store:
    return Store(unit, cast, now)


def repair(store: Store, mark: str, length: str = "", certificate: str = "") -> None:
    item = store.life(mark).item
    new = Repair(item.id, item.version, "new pin", store.key(), length, certificate)
    for _ in "12":
        repairing.repair(store.unit, store.tobin, new, store.now)


def test_what_was_lost_while_a_class_had_it_is_back_from_it(store: Store) -> None:
    store.issue("Bow 1", store.cast.class_id)
    repairing.lose(store.unit, store.mara, store.change("Bow 1"), store.now)
    assert store.status("Bow 1") == "lost"
    back = GiveBack(store.cast.class_id, {store.cast.items["Bow 1"]: "clean"}, {}, store.key())
    with pytest.raises(Problems, match="receive it again when it is found"):
        issuing.give_back(store.unit, store.tobin, back, store.now)
    repairing.find(store.unit, store.mara, store.change("Bow 1"), store.now)
    with store.unit.read() as session:
        assert out_with(session, store.tobin.school_id, store.cast.class_id) == set()
    store.examine("Bow 1", store.mara)
    with pytest.raises(Refused, match="yourself"):
        store.release("Bow 1", store.mara)
    store.release("Bow 1", store.tobin)

    assert store.status("Bow 1") == "in-store"
    assert verify(store.unit, store.tobin).holds


def test_nobody_gets_round_it_by_reversing_that_it_was_lost(store: Store) -> None:
    repairing.lose(store.unit, store.mara, store.change("Bow 1"), store.now)
    store.reverse("Bow 1", Kind.LOST, store.mara)
    assert store.status("Bow 1") == "in-store"
    repairing.lose(store.unit, store.mara, store.change("Bow 1"), store.now)
    repairing.find(store.unit, store.mara, store.change("Bow 1"), store.now)
    for who in (store.mara, store.tobin):
        with pytest.raises(Refused, match="found again since"):
            store.reverse("Bow 1", Kind.LOST, who)

    assert store.status("Bow 1") == "quarantined"


def test_what_was_repaired_passes_an_examination_before_it_is_released(store: Store) -> None:
    store.hold("Hook 1", store.mara)
    repair(store, "Hook 1")
    with pytest.raises(Refused, match="since it was repaired"):
        store.release("Hook 1", store.tobin)
    store.examine("Hook 1", store.mara)
    store.release("Hook 1", store.tobin)

    assert [line.kind for line in store.life("Hook 1").lines].count("repaired") == 1
    assert store.life("Hook 1").item.due.may_go_out


@pytest.mark.parametrize(
    ("length", "certificate", "fields"),
    [
        ("", "", ["length", "certificate"]),
        ("27.5", "FB-77", ["length"]),
        ("0 m", "FB-77", ["length"]),
        ("27.5 m", " ", ["certificate"]),
    ],
)
def test_a_line_that_was_spliced_has_a_new_length_and_certificate(
    store: Store, length: str, certificate: str, fields: list[str]
) -> None:
    store.hold("Line 1", store.mara)
    with pytest.raises(Problems) as problems:
        repair(store, "Line 1", length, certificate)
    assert [problem.where.field for problem in problems.value.items] == fields
    repair(store, "Line 1", "27.5 m", "FB-77")

    told = store.life("Line 1").lines[-1].detail
    assert told == {"length": "27.5 m", "metres": 27.5, "certificate": "FB-77"}


def test_a_line_is_as_long_as_its_last_splice_left_it(store: Store) -> None:
    def metres() -> float | None:
        return store.life("Line 1").item.type.metres

    whole = metres()
    store.hold("Line 1", store.mara)
    repair(store, "Line 1", "27.5 m", "FB-77")
    repair(store, "Line 1", "26 m", "FB-78")
    assert (metres(), store.life("Line 2").item.type.metres) == (26.0, whole)
    store.reverse("Line 1", Kind.REPAIRED, store.mara)

    assert metres() == 27.5


@pytest.mark.parametrize("mark", ["Sling 1", "Soft 1", "Rope 1"])
def test_textile_is_never_repaired(store: Store, mark: str) -> None:
    store.hold(mark, store.mara)
    with pytest.raises(Refused, match="never repaired"):
        repair(store, mark)


def test_what_is_in_the_store_is_neither_found_nor_repaired(store: Store) -> None:
    with pytest.raises(Problems, match="The item is in the store"):
        repair(store, "Hook 1")
    with pytest.raises(Problems, match="The item is in the store"):
        repairing.find(store.unit, store.tobin, store.change("Hook 1"), store.now)


def test_a_student_does_none_of_it(store: Store, cast: Cast) -> None:
    for act in (repairing.lose, repairing.find):
        with pytest.raises(RoleNeeded):
            act(store.unit, cast.student.actor, store.change("Hook 1"), store.now)
