"""Changing what the register says of items and types: checked, counted anew, and kept."""

from dataclasses import replace
from datetime import date, datetime
from typing import Any

import pytest

from coursekit.problems import Problems
from coursekit.services import accounting, amending, kit, register
from coursekit.services.amending import ItemChange, TypeChange
from coursekit.services.errors import Conflict, NotFound, RoleNeeded
from coursekit.services.pulls import DeclaredPull, record_declared_pull
from coursekit.services.register import NewItem, NewType, SerialTaken
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.policy import ClassesPolicy, Policy, default_policy
from coursekit.wear.schedule import Bar
from tests.cast import TODAY, Cast


def item(unit: Unit, cast: Cast, mark: str) -> ItemRow:
    return kit.item_life(unit, cast.storekeeper.actor, cast.items[mark], TODAY).item


def said_of(row: ItemRow) -> NewItem:
    """Return what the register says of an item, to be changed in part."""
    return NewItem(
        row.type.id, row.mark, row.serial, row.batch, row.made, row.is_labelled, row.place
    )


def changed(
    unit: Unit, cast: Cast, now: datetime, which: str, new: dict[str, Any], reason: str = "misread"
) -> None:
    row = item(unit, cast, which)
    said, key = replace(said_of(row), **new), f"change-{row.id}-{row.version}"
    change = ItemChange(row.id, row.version, said, reason, key)
    amending.change_item(unit, cast.storekeeper.actor, change, now)


def rope_type(unit: Unit, cast: Cast) -> tuple[int, NewType]:
    """Return the rope's type and what the register says of it."""
    row = item(unit, cast, "Rope 1").type
    return row.id, NewType(row.name, row.kind, mbs="125 kN", policy=row.policy)


def type_changed(
    unit: Unit,
    cast: Cast,
    now: datetime,
    *,
    is_marked: bool = False,
    reason: str = "our own rule",
    **new: Any,
) -> None:
    type_id, said = rope_type(unit, cast)
    seen = amending.type_with_past(unit, cast.storekeeper.actor, type_id).version
    change = TypeChange(type_id, seen, replace(said, **new), reason, f"a-change-{seen}", is_marked)
    amending.change_type(unit, cast.storekeeper.actor, change, now)


def fields_of(error: pytest.ExceptionInfo[Problems]) -> set[str]:
    return {problem.where.field for problem in error.value.items}


def test_an_item_without_a_date_is_dated_later_and_may_go_out(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    changed(unit, cast, now, "Bow 1", {"made": None})
    assert item(unit, cast, "Bow 1").due.bars == (Bar.UNDATED,)

    row = item(unit, cast, "Bow 1")
    dated = replace(said_of(row), made=date(2026, 1, 1), place="North shed", cost="12.5")
    change = ItemChange(row.id, row.version, dated, "The maker's paper came", "a-change-2")
    amending.change_item(unit, cast.storekeeper.actor, change, now)

    row = item(unit, cast, "Bow 1")
    assert (row.made, row.place, row.cost_cents) == (date(2026, 1, 1), "North shed", 1250)
    assert row.due.may_go_out
    newest, first = amending.changes_of_item(unit, cast.storekeeper.actor, row.id)
    assert (newest.by, newest.reason, newest.at) == ("Tobin Hale", "The maker's paper came", now)
    assert {(f.name, f.before, f.after) for f in newest.fields} == {
        ("made", None, "2026-01-01"),
        ("place", "", "North shed"),
        ("cost_cents", None, 1250),
    }
    assert first.fields[0].before == "2026-01-15"


def test_a_place_changes_without_a_reason_and_a_label_does_not(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    changed(unit, cast, now, "Bow 1", {"place": "North shed"}, reason="")
    with pytest.raises(Problems) as raised:
        changed(unit, cast, now, "Bow 2", {"is_labelled": False}, reason=" ")

    assert fields_of(raised) == {"reason"}
    assert item(unit, cast, "Bow 2").is_labelled


def test_what_is_sent_twice_is_changed_once(unit: Unit, cast: Cast, now: datetime) -> None:
    row = item(unit, cast, "Bow 1")
    new = replace(said_of(row), place="North shed")
    change = ItemChange(row.id, row.version, new, "", "a-change-1")
    for _ in range(2):
        amending.change_item(unit, cast.storekeeper.actor, change, now)

    assert len(amending.changes_of_item(unit, cast.storekeeper.actor, row.id)) == 1
    with pytest.raises(Conflict):
        amending.change_item(unit, cast.storekeeper.actor, replace(change, key="another-1"), now)
    other = replace(change, item_id=cast.items["Bow 2"])
    with pytest.raises(Conflict, match="sent before"):
        amending.change_item(unit, cast.storekeeper.actor, other, now)


@pytest.mark.parametrize(
    ("new", "field"),
    [
        ({}, "unchanged"),
        ({"mark": ""}, "mark"),
        ({"mark": "bow 2"}, "mark"),
        ({"made": date(2031, 1, 1)}, "made"),
        ({"made": date(1899, 1, 1)}, "made"),
        ({"cost": "much"}, "cost"),
    ],
)
def test_a_change_passes_the_checks_of_registering(
    unit: Unit, cast: Cast, now: datetime, new: dict[str, Any], field: str
) -> None:
    with pytest.raises(Problems) as raised:
        changed(unit, cast, now, "Bow 1", new)

    assert fields_of(raised) == {field}
    assert amending.changes_of_item(unit, cast.storekeeper.actor, cast.items["Bow 1"]) == ()


def test_marks_and_serials_are_one_in_capitals_or_not(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    tobin, type_id = cast.storekeeper.actor, item(unit, cast, "Bow 1").type.id
    with pytest.raises(Problems, match="Bow 1 differs from it in capitals alone"):
        register.register_item(unit, tobin, NewItem(type_id, "BOW 1"), now)
    with pytest.raises(SerialTaken, match="Bow 1 is of the same type"):
        register.register_item(unit, tobin, NewItem(type_id, "Bow 9", "fb-004"), now)
    # Its own mark in other letters is no other item's; databases fold ß and É differently.
    changed(unit, cast, now, "Bow 1", {"mark": "BOW É"})
    with pytest.raises(Problems, match="in capitals alone"):
        register.register_item(unit, tobin, NewItem(type_id, "bow é"), now)


def test_a_date_of_make_long_ago_is_asked_about(unit: Unit, cast: Cast, now: datetime) -> None:
    tobin, type_id = cast.storekeeper.actor, item(unit, cast, "Bow 1").type.id
    old = NewItem(type_id, "Bow 9", made=date(1949, 12, 31))
    with pytest.raises(Problems, match="Was it really made in 1949"):
        register.register_item(unit, tobin, old, now)

    item_id = register.register_item(unit, tobin, replace(old, is_so_old=True), now)
    assert kit.item_life(unit, tobin, item_id, TODAY).item.made == date(1949, 12, 31)


def test_a_changed_rule_counts_the_items_anew(unit: Unit, cast: Cast, now: datetime) -> None:
    pull = DeclaredPull(
        cast.class_id, cast.items["Rope 1"], "kinetic", "heavy", "came-free", "pull-1-of-rope"
    )
    record_declared_pull(unit, cast.instructor.actor, pull, now)
    assert item(unit, cast, "Rope 1").use == 3.0

    own = Policy(ClassesPolicy(limit=12.0, heavy=5.0), years_from_made=3)
    type_changed(unit, cast, now, policy=own)

    row = item(unit, cast, "Rope 1")
    assert (row.use, row.use_limit) == (5.0, 12.0)
    assert accounting.verify(unit, cast.storekeeper.actor).holds
    (change,) = amending.type_with_past(unit, cast.storekeeper.actor, row.type.id).changes
    assert [(f.name, f.before, f.after) for f in change.fields] == [
        ("policy", default_policy("kinetic-rope"), own)
    ]


def test_a_rating_is_raised_only_where_the_maker_marks_it(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    with pytest.raises(Problems, match="from 125 kN to 150 kN, and the maker's rating") as raised:
        type_changed(unit, cast, now, mbs="150 kN")
    assert fields_of(raised) == {"mbs"}
    with pytest.raises(Problems) as raised:
        type_changed(unit, cast, now, mbs="150 kN", reason="", is_marked=True)
    assert fields_of(raised) == {"reason"}

    type_changed(unit, cast, now, mbs="150 kN", is_marked=True, reason="Second line of the label")
    type_changed(unit, cast, now, mbs="120 kN", reason="Misread")
    assert item(unit, cast, "Rope 1").type.rating("mbs") == pytest.approx(120_000.0)


@pytest.mark.parametrize(
    ("new", "field"),
    [
        ({"name": "hook of Hook 1"}, "name"),
        ({"mbs": "125"}, "mbs"),
        ({"length": "9"}, "length"),
        ({"choker": "3"}, "choker"),
        ({"hottest": "82"}, "hottest"),
        ({"coldest": "90 °C", "hottest": "180 °F"}, "coldest"),
        ({"policy": Policy(ClassesPolicy(limit=0.0))}, "use_limit"),
        ({"policy": Policy(ClassesPolicy(limit=12.0, light=4.0))}, "heavy"),
    ],
)
def test_a_type_can_not_be_changed_to_what_could_not_be_registered(
    unit: Unit, cast: Cast, now: datetime, new: dict[str, Any], field: str
) -> None:
    with pytest.raises(Problems) as raised:
        type_changed(unit, cast, now, **new)

    assert fields_of(raised) == {field}


def test_a_type_that_has_changed_since_is_not_overwritten(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    type_id, said = rope_type(unit, cast)
    type_changed(unit, cast, now, size="24 mm")
    stale = TypeChange(type_id, 0, replace(said, size="22 mm"), "Misread", "a-change-9")

    with pytest.raises(Conflict, match="The type has changed"):
        amending.change_type(unit, cast.storekeeper.actor, stale, now)


def test_only_a_storekeeper_of_the_school_changes_it(unit: Unit, cast: Cast, now: datetime) -> None:
    row, (type_id, said) = item(unit, cast, "Bow 1"), rope_type(unit, cast)
    of_item = ItemChange(row.id, row.version, replace(said_of(row), place="x"), "", "a-change-1")
    of_type = TypeChange(type_id, 0, replace(said, size="22 mm"), "Misread", "a-change-2")
    ana, idris = cast.student.actor, cast.outsider.actor

    with pytest.raises(RoleNeeded):
        amending.change_item(unit, ana, of_item, now)
    with pytest.raises(RoleNeeded):
        amending.change_type(unit, ana, of_type, now)
    with pytest.raises(NotFound):
        amending.change_item(unit, idris, of_item, now)
    with pytest.raises(NotFound):
        amending.change_type(unit, idris, of_type, now)


# Vertical 2 t, choker 80 % of it and basket twice: the usual columns of a sling's label
# (hitch factors of ASME B30.9, second-hand).
SLING = NewType("Round sling 2 t", "roundsling", wll="2 t", choker="1.6 t", basket="4 t")


def test_a_sling_keeps_its_rating_in_each_hitch(unit: Unit, cast: Cast, now: datetime) -> None:
    tobin = cast.storekeeper.actor
    limits = replace(SLING, length="3 m", coldest="-40 °C", hottest="100 °C")
    type_id = register.register_type(unit, tobin, limits, now)
    row = amending.type_with_past(unit, tobin, type_id).row

    assert [(one.name, one.marked) for one in row.hitches] == [
        ("choker", "1.6 t"),
        ("basket", "4 t"),
    ]
    assert (row.length, row.metres, row.coldest, row.hottest) == ("3 m", 3.0, "-40 °C", "100 °C")


@pytest.mark.parametrize(("hitch", "marked"), [("choker", "2.1 t"), ("basket", "4.2 t")])
def test_a_hitch_can_not_bear_more_than_its_legs(
    unit: Unit, cast: Cast, now: datetime, hitch: str, marked: str
) -> None:
    new: dict[str, Any] = {hitch: marked}
    wrong = replace(SLING, **new)
    with pytest.raises(Problems, match="the WLL of 2 t") as raised:
        register.register_type(unit, cast.storekeeper.actor, wrong, now)

    assert fields_of(raised) == {hitch}
