"""Registering types of kit with the school's rule for them, and items."""

from datetime import date

import pytest

from coursekit.services import kit, register
from coursekit.store.unit import Unit
from coursekit.wear.policy import COMMON_PRACTICE, ClassesPolicy
from tests.cast import TODAY, Cast
from tests.web.visitor import Visitor

ROPE = "/kit/types/new?kind=kinetic-rope"


def test_a_type_asks_for_its_kind_first(storekeeper: Visitor) -> None:
    storekeeper.open("/kit/types/new")

    assert storekeeper.heading == "Of which kind is the new type?"
    assert f'href="{ROPE}"' in storekeeper.html


def test_the_usual_rule_of_the_kind_is_filled_in_with_its_source(storekeeper: Visitor) -> None:
    storekeeper.open(ROPE)

    # Common practice, no source: kinetic rope 30, 2 years from first use, 5 from made.
    assert storekeeper.value("use_limit") == "30"
    assert storekeeper.value("years_from_first_use") == "2"
    assert storekeeper.value("years_from_made") == "5"
    assert storekeeper.value("months_between_inspections") == "6"
    assert "Source: common practice, no source." in storekeeper.html
    assert "No published source gives a retirement count for vehicle snatches." in storekeeper.html


def test_published_times_between_examinations_stand_beside_the_rule(
    storekeeper: Visitor,
) -> None:
    storekeeper.open(ROPE)

    assert "Accessories for lifting: every 6 months (LOLER 1998 reg. 9(3)(a))" in storekeeper.html
    assert "Web slings in severe service: every quarter" in storekeeper.html


def test_a_rule_that_examines_more_seldom_than_is_published_says_so(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    storekeeper.open(ROPE).send(action=ROPE, name="Rope 24", months_between_inspections="9")
    type_id = str(_type(unit, cast, "Rope 24").id)
    storekeeper.open("/kit/items/new").send(type_id=type_id, mark="Rope 9", made="2026-02-01")

    assert "Thorough examination every 9 months." in storekeeper.html
    assert (
        "Longer between examinations than is published: Accessories for lifting: every 6 months "
        "(LOLER 1998 reg. 9(3)(a))."
    ) in storekeeper.html


def test_a_type_keeps_its_ratings_as_marked_and_the_usual_rule(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    storekeeper.open(ROPE).send(action=ROPE, name="Rope 22", mbs="28100 lbf", size="22 mm")
    found = _type(unit, cast, "Rope 22")

    assert [(rating.name, rating.marked) for rating in found.ratings] == [("mbs", "28100 lbf")]
    # One pound-force is exactly 4.4482216152605 N (NIST SP 811, B.8).
    assert found.rating("mbs") == pytest.approx(28_100 * 4.4482216152605)
    assert found.policy.source == COMMON_PRACTICE


def test_a_school_may_set_its_own_rule_and_it_says_so(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    storekeeper.open(ROPE).send(action=ROPE, name="Rope 24", mbs="150 kN", use_limit="20")
    found = _type(unit, cast, "Rope 24")

    assert found.policy.counting == ClassesPolicy(limit=20.0)
    assert found.policy.source == "the school's own rule"


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"mbs": "125"}, "unit"),
        ({"mbs": "3 ton"}, "ton"),
        ({"mbs": "-5 kN"}, "rating"),
        ({"mbs": "10 kN", "wll": "20 kN"}, "above the breaking strength"),
        ({"use_limit": "0"}, "whole number from 1"),
        ({"use_limit": "many"}, "Not a valid integer value"),
        ({"name": ""}, "Fill this in."),
    ],
)
def test_bad_values_are_told_beside_their_field_and_the_rest_is_kept(
    storekeeper: Visitor, typed: dict[str, str], told: str
) -> None:
    whole = {"name": "Rope 22", "size": "22 mm", "mbs": "125 kN"} | typed
    storekeeper.open(ROPE).send(action=ROPE, **whole)

    assert storekeeper.status == 422
    assert told in " ".join(storekeeper.errors)
    assert storekeeper.value("size") == "22 mm"


@pytest.mark.parametrize("meant", ["wll", "mbs"])
def test_a_maximum_is_asked_about_and_what_was_typed_stays(
    storekeeper: Visitor, unit: Unit, cast: Cast, meant: str
) -> None:
    assert "by its maximum?" not in storekeeper.open(ROPE).html
    storekeeper.send(action=ROPE, name="Rope 22", mbs="8000 kg max")

    assert storekeeper.status == 422
    assert " ".join(storekeeper.errors) == (
        "▲ Is 8000 kg the least strength at break (MBS), or the most that may hang on it (WLL)? "
        "Look at the label, or ask whoever made it; write it as the one that it is, without max."
    )
    assert "What does the label mean by its maximum?" in storekeeper.html
    assert storekeeper.value("mbs") == "8000 kg max"
    storekeeper.send(action=ROPE, mbs_means=meant)
    found = _type(unit, cast, "Rope 22")
    assert [(rating.name, rating.marked) for rating in found.ratings] == [(meant, "8000 kg max")]


def test_a_serial_that_is_taken_leads_to_the_item_that_has_it(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    type_id = kit.item_life(unit, cast.storekeeper.actor, cast.items["Bow 1"], TODAY).item.type.id
    storekeeper.open("/kit/items/new")
    storekeeper.send(type_id=str(type_id), mark="Bow 9", serial="FB-004")

    assert storekeeper.status == 422
    assert storekeeper.errors == [
        "▲ Bow 1 is of the same type and has this serial. Look at both labels again."
    ]
    assert f'href="/kit/items/{cast.items["Bow 1"]}"' in storekeeper.html
    assert storekeeper.value("mark") == "Bow 9"


def test_an_item_is_registered_and_waits_for_its_first_examination(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    type_id = register.kit_types(unit, cast.storekeeper.actor)[0].id
    storekeeper.open("/kit/items/new")
    storekeeper.send(type_id=str(type_id), mark="Bow 9", serial="FB-900", made="2026-02-01")
    item_id = int(storekeeper.path.rpartition("/")[2])
    found = kit.item_life(unit, cast.storekeeper.actor, item_id, TODAY).item

    assert (found.mark, found.serial, found.made) == ("Bow 9", "FB-900", date(2026, 2, 1))
    assert storekeeper.heading == "Bow 9: inspect first"


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"mark": "Bow 1"}, "Another has it already"),
        ({"made": "2031-01-01"}, "It lies in the future"),
        ({"made": "last May"}, "Not a valid date value"),
    ],
)
def test_an_item_that_cant_be_is_told_beside_its_field(
    storekeeper: Visitor, typed: dict[str, str], told: str
) -> None:
    storekeeper.open("/kit/items/new")
    storekeeper.send(**({"mark": "Bow 9", "serial": "FB-900"} | typed))

    assert storekeeper.status == 422
    assert told in " ".join(storekeeper.errors)
    assert storekeeper.value("serial") == "FB-900"


def _type(unit: Unit, cast: Cast, name: str) -> register.TypeRow:
    types = register.kit_types(unit, cast.storekeeper.actor)
    return next(found for found in types if found.name == name)


def test_gear_that_was_in_use_before_begins_with_its_pulls(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    type_id = kit.item_life(unit, cast.storekeeper.actor, cast.items["Rope 1"], TODAY).item.type.id
    storekeeper.open("/kit/items/new").send(
        type_id=str(type_id), mark="Rope 8", made="2022-04-01", used_before="10 light 4 heavy"
    )
    assert " ".join(storekeeper.errors) == (
        "▲ It was used, and nobody says since when. "
        "Give the day, the earliest that may be: the date of make if nobody knows."
    )
    assert storekeeper.value("used_before") == "10 light 4 heavy"
    storekeeper.send(first_used="2024-05-01")
    item_id = max(row.id for row in kit.list_items(unit, cast.storekeeper.actor, TODAY))

    page = storekeeper.open(f"/kit/items/{item_id}?made_by=use")
    # Light 1 and heavy 3: common practice, no source.
    assert "use count 22 of 30. It came with 22 of it." in page.html
    assert "10 light and 4 heavy pulls before it came here" in page.html
    assert "in use since May 1, 2024" in page.html
    page.open(f"/kit/items/{item_id}?made_by=calendar")
    assert "Its time in use runs from May 1, 2024, before it came here." in page.html
    assert "use count 22; retires at 30" in page.html


def test_what_stays_on_a_vehicle_is_registered_and_examined(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    storekeeper.open("/kit/types/new")
    for kind in ("winch", "fairlead", "pin", "recovery-point"):
        assert f'href="/kit/types/new?kind={kind}"' in storekeeper.html
    path = "/kit/types/new?kind=winch"
    storekeeper.open(path).send(action=path, name="Wagon winch", wll="4300 kgf")
    type_id = str(_type(unit, cast, "Wagon winch").id)
    storekeeper.open("/kit/items/new").send(type_id=type_id, mark="Winch 1", made="2024-02-01")
    item_id = max(row.id for row in kit.list_items(unit, cast.storekeeper.actor, TODAY))

    storekeeper.open(f"/kit/items/{item_id}/inspect")
    assert "The brake lets the load run back, or slips" in storekeeper.html
    assert "SAE J706, second-hand" in storekeeper.html
    assert "Winch 1" not in storekeeper.open(f"/kit/classes/{cast.class_id}").html
