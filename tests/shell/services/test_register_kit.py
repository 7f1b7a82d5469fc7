"""The register: types with ratings as marked, items with their labels."""

from contextlib import nullcontext
from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from coursekit.files.kit_table import TableRow
from coursekit.problems import Problems
from coursekit.services import importing, inspecting, issuing, kit, register
from coursekit.services.errors import NotFound, RoleNeeded
from coursekit.services.issuing import Issue
from coursekit.services.register import NewItem, NewType, SerialTaken
from coursekit.store.queries.kit import ItemRow
from coursekit.store.tables import School
from coursekit.store.unit import Unit
from coursekit.wear.policy import ClassesPolicy, Policy, default_policy
from coursekit.wear.schedule import Bar, Cause
from tests.cast import Cast
from tests.looks import examined

BOW = NewType("Bow shackle 13 mm", "bow-shackle", "steel", "13 mm", "2 t", "12 t")


def _marked(ratings: dict[str, str], means: dict[str, str] | None = None) -> NewType:
    """Return a bow shackle with these ratings alone, and what was answered about them."""
    wll, mbs = ratings.get("wll", ""), ratings.get("mbs", "")
    return NewType("Bow shackle 13 mm", "bow-shackle", wll=wll, mbs=mbs, means=means or {})


def item(unit: Unit, cast: Cast, now: datetime, item_id: int) -> ItemRow:
    return kit.item_life(unit, cast.storekeeper.actor, item_id, now.date()).item


def test_a_rating_is_kept_as_marked_and_read_as_a_force(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    type_id = register.register_type(unit, cast.storekeeper.actor, BOW, now)
    row = next(t for t in register.kit_types(unit, cast.storekeeper.actor) if t.id == type_id)

    # A tonne weighs 9806.65 N under standard gravity (CGPM 1901).
    assert [(rating.name, rating.marked) for rating in row.ratings] == [
        ("wll", "2 t"),
        ("mbs", "12 t"),
    ]
    assert [r.newtons for r in row.ratings] == pytest.approx([19_613.3, 117_679.8])


@pytest.mark.parametrize(("timezone", "holds"), [("Pacific/Auckland", True), ("UTC", False)])
def test_what_lies_ahead_is_what_the_calendar_of_the_school_says(
    unit: Unit, cast: Cast, now: datetime, timezone: str, *, holds: bool
) -> None:
    """Auckland is twelve hours ahead of UTC in winter (IANA time zone database)."""
    with unit.write() as session:
        session.get_one(School, cast.storekeeper.actor.school_id).timezone = timezone
    tobin, evening = cast.storekeeper.actor, now.replace(hour=20)
    type_id = register.kit_types(unit, tobin)[0].id
    new = NewItem(type_id, "New 1", made=evening.date() + timedelta(days=1))
    table = [TableRow(2, {"mark": "New 2", "type": "Strap", "kind": "tow-strap",
                          "made": str(new.made)})]  # fmt: skip

    with nullcontext() if holds else pytest.raises(Problems, match="lies in the future"):
        register.register_item(unit, tobin, new, evening)
    with nullcontext() if holds else pytest.raises(Problems, match="lies in the future"):
        importing.import_kit(unit, tobin, "kit.csv", table, evening)


def test_a_type_without_a_policy_takes_the_default_of_its_kind(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    tobin = cast.storekeeper.actor
    own = Policy(ClassesPolicy(limit=12.0), years_from_made=3)
    rope = NewType("Rope 22 mm", "kinetic-rope")
    register.register_type(unit, tobin, rope, now)
    register.register_type(unit, tobin, replace(rope, name="Rope, our rule", policy=own), now)
    policies = {row.name: row.policy for row in register.kit_types(unit, tobin)}

    assert policies["Rope 22 mm"] == default_policy("kinetic-rope")
    assert policies["Rope, our rule"] == own


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        (replace(BOW, name=""), "name"),
        (replace(BOW, kind="catapult"), "kind"),
        (replace(BOW, wll="2"), "wll"),
        (replace(BOW, wll="2 ton"), "wll"),
        (replace(BOW, wll="2 m"), "wll"),
        (replace(BOW, wll="0 t"), "wll"),
        (replace(BOW, mbs="-3 t"), "mbs"),
        (replace(BOW, wll="13 t"), "wll"),
        (replace(BOW, name="winch-line of Line 1"), "name"),
    ],
)
def test_what_is_wrong_with_a_type_stands_beside_its_field(
    unit: Unit, cast: Cast, now: datetime, wrong: NewType, field: str
) -> None:
    with pytest.raises(Problems) as problems:
        register.register_type(unit, cast.storekeeper.actor, wrong, now)

    assert {problem.where.field for problem in problems.value.items} == {field}


@pytest.mark.parametrize("field", ["wll", "mbs"])
@pytest.mark.parametrize("marked", ["8000 kg max", "max. 8000 kg", "Maximum 8000 kg"])
@pytest.mark.parametrize("meant", ["wll", "mbs"])
def test_a_rating_marked_as_a_maximum_is_asked_about_and_kept_as_marked(
    unit: Unit, cast: Cast, now: datetime, field: str, marked: str, meant: str
) -> None:
    tobin = cast.storekeeper.actor
    asked = _marked({field: marked})
    with pytest.raises(Problems, match="Is 8000 kg the least strength at break") as problems:
        register.register_type(unit, tobin, asked, now)
    assert [problem.where.field for problem in problems.value.items] == [field]

    type_id = register.register_type(unit, tobin, _marked({field: marked}, {field: meant}), now)
    row = next(t for t in register.kit_types(unit, tobin) if t.id == type_id)
    assert [(rating.name, rating.marked) for rating in row.ratings] == [(meant, marked)]
    # Standard gravity is 9.80665 m/s^2 (CGPM 1901).
    assert row.rating(meant) == pytest.approx(78_453.2)


@pytest.mark.parametrize(
    ("ratings", "means", "field"),
    [
        # An answer never goes before what the other field says already.
        ({"wll": "2 t", "mbs": "8 t max"}, {"mbs": "wll"}, "mbs"),
        ({"wll": "8 t max", "mbs": "9 t max"}, {"wll": "wll", "mbs": "wll"}, "mbs"),
        ({"wll": "13 t max", "mbs": "12 t"}, {"wll": "wll"}, "wll"),
        ({"wll": "", "mbs": "8 max"}, {"mbs": "mbs"}, "mbs"),
        ({"wll": "", "mbs": "8 t max"}, {"mbs": "both"}, "mbs"),
    ],
)
def test_a_maximum_that_can_not_be_is_told_beside_its_field(
    unit: Unit,
    cast: Cast,
    now: datetime,
    ratings: dict[str, str],
    means: dict[str, str],
    field: str,
) -> None:
    with pytest.raises(Problems) as problems:
        register.register_type(unit, cast.storekeeper.actor, _marked(ratings, means), now)

    assert [problem.where.field for problem in problems.value.items] == [field]


def test_no_two_items_of_a_type_have_one_serial(unit: Unit, cast: Cast, now: datetime) -> None:
    tobin = cast.storekeeper.actor
    type_id = register.register_type(unit, tobin, BOW, now)
    other = register.register_type(unit, tobin, replace(BOW, name="Bow shackle 16 mm"), now)
    first = register.register_item(unit, tobin, NewItem(type_id, "Bow 8", "S-9"), now)
    with pytest.raises(SerialTaken, match="Bow 8 is of the same type") as taken:
        register.register_item(unit, tobin, NewItem(type_id, "Bow 9", " S-9 "), now)

    assert taken.value.item_id == first
    # Makers number each type by itself, and an item may have no serial: common practice, no source.
    register.register_item(unit, tobin, NewItem(other, "Bow 9", "S-9"), now)
    register.register_item(unit, tobin, NewItem(type_id, "Bow 10"), now)
    register.register_item(unit, tobin, NewItem(type_id, "Bow 11"), now)


def test_a_new_item_is_in_the_store_and_examined_before_it_goes_out(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    tobin = cast.storekeeper.actor
    type_id = register.register_type(unit, tobin, BOW, now)
    new = NewItem(type_id, "Bow 9", "S-9", "B-1", date(2026, 5, 1), place="shelf 2")
    row = item(unit, cast, now, register.register_item(unit, tobin, new, now))

    assert (row.mark, row.serial, row.batch, row.made, row.place) == (
        "Bow 9",
        "S-9",
        "B-1",
        date(2026, 5, 1),
        "shelf 2",
    )
    assert row.status == "in-store"
    assert [reason.cause for reason in row.due.now] == [Cause.INSPECTION]


@pytest.mark.parametrize(
    ("new", "bar"),
    [
        (NewItem(0, "Bow 9", made=None), Bar.UNDATED),
        (NewItem(0, "Bow 9", made=date(2026, 1, 1), is_labelled=False), Bar.UNLABELLED),
    ],
)
def test_an_item_without_a_date_or_a_label_is_kept_and_never_goes_out(
    unit: Unit, cast: Cast, now: datetime, new: NewItem, bar: Bar
) -> None:
    tobin = cast.storekeeper.actor
    of_type = replace(new, type_id=register.register_type(unit, tobin, BOW, now))
    row = item(unit, cast, now, register.register_item(unit, tobin, of_type, now))

    assert row.due.bars == (bar,)
    assert not row.due.may_go_out


@pytest.mark.parametrize("kind", ["tow-strap", "bow-shackle", "hook"])
def test_what_carries_load_and_has_no_rating_is_kept_and_never_goes_out(
    unit: Unit, cast: Cast, now: datetime, kind: str
) -> None:
    tobin = cast.storekeeper.actor
    bare = register.register_type(unit, tobin, NewType("Bare", kind), now)
    new = NewItem(bare, "Bare 1", made=date(2026, 1, 1))
    item_id = register.register_item(unit, tobin, new, now)
    inspecting.inspect(unit, tobin, examined(kind, item_id, 1, "first-look-bare"), now)

    assert item(unit, cast, now, item_id).due.bars == (Bar.UNRATED,)
    assert not item(unit, cast, now, item_id).due.may_go_out
    with pytest.raises(Problems, match="Bare 1 can't go out: its type has no rating"):
        issuing.issue(unit, tobin, Issue(cast.class_id, (item_id,), "issue-bare"), now)


def test_a_line_damper_carries_no_load_and_needs_no_rating(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    assert item(unit, cast, now, cast.items["Damper 1"]).due.may_go_out


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        (NewItem(1, ""), "mark"),
        (NewItem(1, "Line 1"), "mark"),
        (NewItem(1, "Line 9", made=date(2026, 6, 14)), "made"),
    ],
)
def test_what_is_wrong_with_an_item_stands_beside_its_field(
    unit: Unit, cast: Cast, now: datetime, wrong: NewItem, field: str
) -> None:
    with pytest.raises(Problems) as problems:
        register.register_item(unit, cast.storekeeper.actor, wrong, now)

    assert [problem.where.field for problem in problems.value.items] == [field]


def test_an_item_has_a_type_of_its_school(unit: Unit, cast: Cast, now: datetime) -> None:
    with pytest.raises(NotFound):
        register.register_item(unit, cast.storekeeper.actor, NewItem(999, "x"), now)


def test_only_a_storekeeper_registers(unit: Unit, cast: Cast, now: datetime) -> None:
    with pytest.raises(RoleNeeded):
        register.register_type(unit, cast.student.actor, BOW, now)
    with pytest.raises(RoleNeeded):
        register.register_item(unit, cast.student.actor, NewItem(1, "x"), now)


def test_the_list_says_what_is_due_as_time_goes_by(unit: Unit, cast: Cast, now: datetime) -> None:
    tobin = cast.storekeeper.actor
    today = kit.list_items(unit, tobin, now.date())
    in_spring = kit.list_items(unit, tobin, (now + timedelta(days=300)).date())

    assert [row.mark for row in today] == sorted(cast.items)
    assert all(row.due.may_go_out for row in today)
    assert all(Cause.INSPECTION in [r.cause for r in row.due.now] for row in in_spring)
