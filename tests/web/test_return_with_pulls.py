"""What comes back from a class with pulls that nobody logged, and damage told of each."""

from collections import Counter
from datetime import datetime

import pytest

from coursekit.services import issuing, kit, pulls
from coursekit.services.accounting import verify
from coursekit.services.issuing import Issue
from coursekit.services.pulls import DeclaredPull
from coursekit.store.unit import Unit
from tests.cast import TODAY, Cast
from tests.web.visitor import Visitor


@pytest.fixture
def back(unit: Unit, cast: Cast, now: datetime) -> str:
    """The page on which a rope, two shackles and a line come back."""
    out = tuple(cast.items[mark] for mark in ("Rope 1", "Bow 1", "Bow 2", "Line 1"))
    issuing.issue(unit, cast.storekeeper.actor, Issue(cast.class_id, out, "go-out-1"), now)
    return f"/kit/classes/{cast.class_id}/return"


def life_of(unit: Unit, cast: Cast, mark: str) -> kit.ItemLife:
    return kit.item_life(unit, cast.storekeeper.actor, cast.items[mark], TODAY)


def of(cast: Cast, mark: str, **typed: str) -> dict[str, str]:
    """Return what is typed of an item, its controls named by its id."""
    return {f"{name}-{cast.items[mark]}": text for name, text in typed.items()}


def test_pulls_that_nobody_logged_are_counted_as_declared_in_the_same_go(
    storekeeper: Visitor, unit: Unit, cast: Cast, back: str
) -> None:
    """Common practice, no source: light counts 1, heavy 3."""
    rope = of(cast, "Rope 1", light="4", heavy="2")
    storekeeper.open(back).send(others="clean", method="winch", **rope)
    found = life_of(unit, cast, "Rope 1")
    felt = [line.pull for line in found.lines if line.pull]

    assert found.item.use == 4 * 1 + 2 * 3
    assert found.item.status == "in-store"
    assert {pull.origin.value for pull in felt} == {"declared"}
    # A rope that stretches is made for it, whatever the others were pulled with.
    assert {pull.method for pull in felt} == {"kinetic"}
    assert verify(unit, cast.storekeeper.actor).holds


def test_the_form_sent_five_times_counts_once(
    storekeeper: Visitor, unit: Unit, cast: Cast, back: str
) -> None:
    page = storekeeper.open(back).response
    for _time in range(5):
        storekeeper.response = page
        storekeeper.send(others="clean", **of(cast, "Rope 1", heavy="2"))
        assert "Taken back." in storekeeper.html

    assert life_of(unit, cast, "Rope 1").item.counts.heavy == 2
    storekeeper.response = page
    storekeeper.send(others="clean", **of(cast, "Rope 1", heavy="3"))
    assert storekeeper.status == 422
    assert life_of(unit, cast, "Rope 1").item.counts.heavy == 2


def test_a_load_that_nobody_knows_holds_the_item_that_comes_back(
    storekeeper: Visitor, unit: Unit, cast: Cast, back: str
) -> None:
    storekeeper.open(back).send(others="clean", **of(cast, "Bow 1", unknown="1"))
    found = life_of(unit, cast, "Bow 1")

    assert found.item.status == "quarantined"
    assert [line.kind for line in found.lines[-3:]] == ["pull", "quarantined", "returned"]
    assert life_of(unit, cast, "Bow 2").item.status == "in-store"


def test_beside_each_item_stands_what_the_class_logged_with_it(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime, back: str
) -> None:
    for number, size in enumerate(["light", "heavy", "heavy"]):
        told = ("kinetic", size, "came-free", f"pull-{number:04}")
        pull = DeclaredPull(cast.class_id, cast.items["Rope 1"], *told)
        pulls.record_declared_pull(unit, cast.instructor.actor, pull, now)
    html = storekeeper.open(back).html

    assert html.count("Logged with this class: light pull: 1, heavy pull: 2") == 1
    assert html.count("Logged with this class: no pull") == 3


def test_each_damaged_item_has_a_text_of_its_own(
    storekeeper: Visitor, unit: Unit, cast: Cast, back: str
) -> None:
    bent = of(cast, "Bow 1", back="damage", damage="its pin is bent")
    cut = of(cast, "Line 1", back="damage", damage="a strand is cut")
    storekeeper.open(back).send(others="clean", **bent, **cut)

    assert life_of(unit, cast, "Bow 1").lines[-1].reason == "its pin is bent"
    assert life_of(unit, cast, "Line 1").lines[-1].reason == "a strand is cut"


@pytest.mark.parametrize(
    "case",
    [
        ("Bow 1", {"back": "damage"}, "It is empty. Fill it in."),
        ("Bow 1", {"damage": "bent"}, "It tells of damage, and the item is not set to damaged."),
        ("Rope 1", {"back": "out", "light": "2"}, "The item is still out"),
        ("Rope 1", {"light": "51"}, "A whole number up to 50."),
        ("Rope 1", {"light": "-1"}, "A whole number up to 50."),
    ],
)
def test_what_does_not_fit_is_told_beside_its_control_and_nothing_is_written(
    storekeeper: Visitor, unit: Unit, cast: Cast, back: str, case: tuple[str, dict[str, str], str]
) -> None:
    mark, typed, told = case
    storekeeper.open(back).send(others="clean", **of(cast, mark, **typed))

    assert storekeeper.status == 422
    assert [error for error in storekeeper.errors if told in error]
    assert "<details open>" in storekeeper.html
    for name, text in of(cast, mark, **typed).items():
        assert storekeeper.value(name) == text
    assert Counter(line.kind for line in life_of(unit, cast, mark).lines)["returned"] == 0
