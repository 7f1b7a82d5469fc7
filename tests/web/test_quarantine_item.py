"""Holding an item back, and releasing it again by somebody else."""

from datetime import datetime

import pytest

from coursekit.services import kit
from coursekit.services.kit import Change
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.kit_acts import status
from tests.web.visitor import Visitor


@pytest.fixture
def sling(cast: Cast) -> str:
    return f"/kit/items/{cast.items['Sling 1']}"


def held(visitor: Visitor, sling: str) -> Visitor:
    return visitor.open(f"{sling}/quarantine").send(reason="a cut of 20 mm")


@pytest.mark.parametrize("who", ["instructor", "storekeeper"])
def test_anyone_of_the_staff_may_hold_an_item_back(
    request: pytest.FixtureRequest, unit: Unit, cast: Cast, sling: str, who: str
) -> None:
    visitor: Visitor = request.getfixturevalue(who)
    held(visitor, sling)

    assert visitor.heading == "Sling 1: in quarantine"
    assert "a cut of 20 mm" in visitor.html
    assert status(unit, cast, "Sling 1") == "quarantined"


def test_a_reason_is_asked_for(storekeeper: Visitor, unit: Unit, cast: Cast, sling: str) -> None:
    storekeeper.open(f"{sling}/quarantine").send(reason="")

    assert storekeeper.status == 422
    assert storekeeper.errors == ["▲ Fill this in."]
    assert status(unit, cast, "Sling 1") == "in-store"


def test_whoever_held_it_back_is_refused_its_release_and_told_why(
    storekeeper: Visitor, unit: Unit, cast: Cast, sling: str
) -> None:
    held(storekeeper, sling)
    storekeeper.open(f"{sling}/release").send(reason="looks good after all")

    assert storekeeper.status == 422
    assert storekeeper.notices[-1].startswith("You put this item into quarantine yourself.")
    assert "looks good after all" in storekeeper.html
    assert status(unit, cast, "Sling 1") == "quarantined"


def test_another_competent_person_releases_it(
    storekeeper: Visitor, instructor: Visitor, unit: Unit, cast: Cast, sling: str
) -> None:
    held(storekeeper, sling)
    instructor.open(f"{sling}/release")
    assert "Put into quarantine by Tobin Hale." in instructor.html
    instructor.send(reason="cover only, no core strand cut")

    assert instructor.heading == "Sling 1: may go out"
    assert status(unit, cast, "Sling 1") == "in-store"


def test_a_form_made_from_an_older_state_is_shown_again_with_what_was_typed(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, sling: str
) -> None:
    instructor.open(f"{sling}/quarantine")
    change = Change(cast.items["Sling 1"], 2, "frayed eye", "another-device")
    kit.quarantine(unit, cast.storekeeper.actor, change, now)
    instructor.send(reason="a cut of 20 mm")

    assert instructor.status == 422
    assert instructor.notices[-1].startswith("The item has changed since this form was opened.")
    assert "a cut of 20 mm" in instructor.html
    # What is there now stands on the page, and sending again is a decision.
    assert "in quarantine" in instructor.html
    assert instructor.send(reason="a cut of 20 mm").heading == "Sling 1: in quarantine"


def test_the_same_form_sent_twice_makes_one_entry(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime, sling: str
) -> None:
    storekeeper.open(f"{sling}/quarantine")
    page = storekeeper.response
    storekeeper.send(reason="a cut of 20 mm")
    storekeeper.response = page
    storekeeper.send(reason="a cut of 20 mm")

    life = kit.item_life(unit, cast.storekeeper.actor, cast.items["Sling 1"], now.date())
    assert [line.kind for line in life.lines].count("quarantined") == 1
