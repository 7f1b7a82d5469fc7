"""Nobody alone lets out what they held, and some things are examined first."""

from collections.abc import Callable
from datetime import datetime

import pytest

from coursekit.problems import Problems
from coursekit.services.errors import Refused
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind
from tests.cast import Cast
from tests.shell.services.store_acts import Store


@pytest.fixture
def store(unit: Unit, cast: Cast, now: datetime) -> Store:
    return Store(unit, cast, now)


def test_nobody_reverses_a_quarantine_of_their_own(store: Store) -> None:
    store.hold("Sling 1", store.mara)
    with pytest.raises(Refused, match="another competent person"):
        store.reverse("Sling 1", Kind.QUARANTINED, store.mara)
    assert store.status("Sling 1") == "quarantined"
    store.reverse("Sling 1", Kind.QUARANTINED, store.tobin)

    assert store.status("Sling 1") == "in-store"


def test_nor_the_damage_that_they_noted_when_it_came_back(store: Store) -> None:
    store.issue("Sling 1", store.cast.class_id)
    store.give_back("Sling 1", "damage")

    with pytest.raises(Refused, match="yourself"):
        store.reverse("Sling 1", Kind.QUARANTINED, store.tobin)


def test_everybody_who_held_it_needs_another_to_release_it(store: Store) -> None:
    store.hold("Sling 1", store.mara)
    store.hold("Sling 1", store.tobin)
    for who in (store.mara, store.tobin):
        with pytest.raises(Refused, match="yourself"):
            store.release("Sling 1", who)

    assert store.status("Sling 1") == "quarantined"


def test_what_a_pull_held_goes_with_the_pull_alone(store: Store) -> None:
    store.pull("Bow 1", "parted")
    for who in (store.mara, store.tobin):
        with pytest.raises(Refused, match="reverse its own entry: this goes with it"):
            store.reverse("Bow 1", Kind.QUARANTINED, who)
    store.reverse("Bow 1", Kind.PULL, store.mara)

    assert store.status("Bow 1") == "in-store"


def test_what_an_examination_held_goes_with_it_and_takes_another(store: Store) -> None:
    store.examine("Bow 1", store.tobin, found="cracked")
    with pytest.raises(Refused, match="The examination that brought this still stands"):
        store.reverse("Bow 1", Kind.QUARANTINED, store.mara)
    with pytest.raises(Refused, match="yourself"):
        store.reverse("Bow 1", Kind.INSPECTED, store.tobin)
    store.reverse("Bow 1", Kind.INSPECTED, store.mara)
    lines = store.life("Bow 1").lines

    assert store.status("Bow 1") == "in-store"
    assert [line.kind for line in lines if line.is_reversed] == ["inspected", "quarantined"]


def _fails(store: Store) -> None:
    store.examine("Bow 1", store.mara, found="cracked")


def _parts(store: Store) -> None:
    store.pull("Bow 1", "parted")


@pytest.mark.parametrize("held", [_fails, _parts])
def test_after_a_pull_or_a_failure_it_passes_an_examination_before_it_is_released(
    store: Store, held: Callable[[Store], None]
) -> None:
    held(store)
    with pytest.raises(Refused, match="has not passed a thorough examination since"):
        store.release("Bow 1", store.tobin)
    # Whoever held it may examine it; another lets it out.
    store.examine("Bow 1", store.mara)
    with pytest.raises(Refused, match="yourself"):
        store.release("Bow 1", store.mara)
    store.release("Bow 1", store.tobin)

    assert store.life("Bow 1").item.due.may_go_out


def test_what_is_released_while_a_class_has_it_goes_out_with_no_other(
    store: Store,
) -> None:
    store.issue("Bow 1", store.cast.class_id)
    store.hold("Bow 1", store.mara)
    store.release("Bow 1", store.tobin)
    assert store.status("Bow 1") == "out"
    with pytest.raises(Problems, match="is out already"):
        store.issue("Bow 1", store.cast.class_id)
    store.give_back("Bow 1", "clean")

    assert store.status("Bow 1") == "in-store"
