"""An item that is lost, found again or repaired: recorded on its page, examined before it goes."""

from datetime import datetime

import pytest

from coursekit.services import issuing
from coursekit.services.issuing import Issue
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.visitor import Visitor


@pytest.fixture
def bow(cast: Cast) -> str:
    return f"/kit/items/{cast.items['Bow 1']}"


def test_a_lost_item_is_found_again_and_waits_for_another_to_look_at_it(
    storekeeper: Visitor, instructor: Visitor, bow: str
) -> None:
    storekeeper.open(f"{bow}/lost").send(reason="last seen on the trailer")
    assert storekeeper.heading == "Bow 1: lost"
    assert f'href="{bow}/found"' in storekeeper.html
    storekeeper.open(f"{bow}/found").send(reason="under the seat")

    assert storekeeper.heading == "Bow 1: in quarantine"
    assert "Put into quarantine by Tobin Hale." in storekeeper.html
    storekeeper.open(f"{bow}/release").send(reason="looks good")
    assert storekeeper.notices[-1].startswith("You put this item into quarantine yourself.")
    instructor.open(f"{bow}/release").send(reason="looks good")
    assert "since it was lost and found again" in instructor.notices[-1]


def test_a_class_gives_back_the_rest_when_something_of_it_was_lost(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime, bow: str
) -> None:
    going = (cast.items["Bow 1"], cast.items["Bow 2"])
    issuing.issue(unit, cast.storekeeper.actor, Issue(cast.class_id, going, "issue-001"), now)
    storekeeper.open(f"{bow}/lost").send(reason="fell into the ford")
    back = f"/kit/classes/{cast.class_id}/return"
    storekeeper.open(back)
    assert f"back-{cast.items['Bow 1']}" not in storekeeper.html
    storekeeper.send(others="clean")

    assert storekeeper.status == 200
    assert storekeeper.open(bow).heading == "Bow 1: lost"
    assert storekeeper.open(f"/kit/items/{going[1]}").heading == "Bow 2: may go out"


def test_each_of_them_asks_for_a_word_and_keeps_what_was_typed(
    storekeeper: Visitor, cast: Cast, bow: str
) -> None:
    line = f"/kit/items/{cast.items['Line 1']}"
    storekeeper.open(f"{line}/quarantine").send(reason="a cut strand")
    for path in (f"{bow}/lost", f"{bow}/found", f"{line}/repair"):
        assert storekeeper.open(path).send(reason=" ").status == 422
    storekeeper.open(f"{line}/repair").send(reason="spliced anew", length="27.5")

    assert storekeeper.status == 422
    assert storekeeper.value("length") == "27.5"
    assert "spliced anew" in storekeeper.html


def test_a_line_that_was_spliced_tells_its_length_and_certificate(
    storekeeper: Visitor, cast: Cast
) -> None:
    line = f"/kit/items/{cast.items['Line 1']}"
    storekeeper.open(f"{line}/quarantine").send(reason="a cut strand")
    assert f'href="{line}/repair"' in storekeeper.html
    storekeeper.open(f"{line}/repair").send(
        reason="spliced anew", length="27.5 m", certificate="FB-77"
    )

    assert storekeeper.heading == "Line 1: in quarantine"
    assert "now 27.5 m, certificate FB-77" in storekeeper.html


@pytest.mark.parametrize("mark", ["Sling 1", "Soft 1", "Rope 1"])
def test_textile_is_never_repaired(storekeeper: Visitor, cast: Cast, mark: str) -> None:
    item = f"/kit/items/{cast.items[mark]}"
    storekeeper.open(f"{item}/quarantine").send(reason="a cut")
    assert f'href="{item}/repair"' not in storekeeper.html
    storekeeper.open(f"{item}/repair").send(reason="sewn")

    assert storekeeper.status == 422
    assert "are never repaired. Retire it." in storekeeper.notices[-1]
