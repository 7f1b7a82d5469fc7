"""Gear that was in use before it came: its use is registered, and carried along."""

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from coursekit.files.kit_table import COLUMNS, TableRow
from coursekit.problems import Problems
from coursekit.services import accounting, amending, kit, pulls, register
from coursekit.services.amending import ItemChange
from coursekit.services.exporting import export_rows
from coursekit.services.importing import import_kit
from coursekit.services.pulls import DeclaredPull
from coursekit.services.register import NewItem, NewType
from coursekit.services.used import Used
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.policy import ClassesPolicy, Policy, PowerPolicy
from coursekit.wear.schedule import Cause
from tests.cast import TODAY, Cast

MADE, FIRST = date(2022, 4, 1), date(2024, 5, 1)
OWN = Policy(ClassesPolicy(limit=40.0, heavy=4.0), years_from_made=8, years_from_first_use=3)
BY_POWER = Policy(PowerPolicy(39_000.0, 5.0, 20_711.0, 60.0), years_from_made=8, rest_minutes=10)
ROPE = NewType("Rope 24 mm", "kinetic-rope", mbs="130 kN", policy=OWN)


def registered(unit: Unit, cast: Cast, now: datetime, used: Used, new: NewType = ROPE) -> int:
    tobin = cast.storekeeper.actor
    type_id = register.register_type(unit, tobin, new, now)
    return register.register_item(unit, tobin, NewItem(type_id, "Old 1", made=MADE, used=used), now)


def item(unit: Unit, cast: Cast, item_id: int) -> ItemRow:
    return kit.item_life(unit, cast.storekeeper.actor, item_id, TODAY).item


@pytest.mark.parametrize(
    ("typed", "use"),
    [("10 light, 4 heavy", 26.0), ("4 heavy", 16.0), ("10 Light", 10.0), ("7.5", 7.5), ("", 0.0)],
)
def test_a_second_hand_rope_begins_with_what_it_has_been_through(
    unit: Unit, cast: Cast, now: datetime, typed: str, use: float
) -> None:
    row = item(unit, cast, registered(unit, cast, now, Used(FIRST, typed)))

    assert row.use == use
    assert row.due.left.use == 40.0 - use
    # Three years from first use, by its rule.
    assert Cause.CALENDAR in {r.cause for r in row.due.reasons if r.on == date(2027, 5, 1)}
    assert kit.item_life(unit, cast.storekeeper.actor, row.id, TODAY).ages.since_first_use == 773
    assert accounting.verify(unit, cast.storekeeper.actor).holds


@pytest.mark.parametrize(
    ("used", "field"),
    [
        (Used(None, "10 light"), "first_used"),
        (Used(date(2031, 1, 1)), "first_used"),
        (Used(date(2021, 1, 1)), "first_used"),
        (Used(FIRST, "many"), "used_before"),
        (Used(FIRST, "-3"), "used_before"),
        (Used(FIRST, "nan"), "used_before"),
        (Used(FIRST, "1000000 light"), "used_before"),
    ],
)
def test_a_use_that_can_not_be_stands_beside_its_field(
    unit: Unit, cast: Cast, now: datetime, used: Used, field: str
) -> None:
    with pytest.raises(Problems) as raised:
        registered(unit, cast, now, used)

    assert [problem.where.field for problem in raised.value.items] == [field]


def exported(unit: Unit, cast: Cast, mark: str) -> TableRow:
    rows = kit.list_items(unit, cast.storekeeper.actor, TODAY)
    (cells,) = export_rows([row for row in rows if row.mark == mark])
    return TableRow(2, {column: cells[column] for column in COLUMNS})


@pytest.mark.parametrize("rule", [OWN, BY_POWER])
def test_another_school_that_imports_it_counts_the_same_left(
    unit: Unit, cast: Cast, now: datetime, rule: Policy
) -> None:
    new = replace(ROPE, policy=rule)
    item_id = registered(unit, cast, now, Used(FIRST, "3 light 1 heavy"), new)
    for number, size in enumerate(("light", "heavy")):
        pull = DeclaredPull(
            cast.class_id, item_id, "kinetic", size, "came-free", f"pull-{number}-of-it"
        )
        pulls.record_declared_pull(unit, cast.instructor.actor, pull, now + timedelta(minutes=1))
    ours = item(unit, cast, item_id)
    assert ours.use > 0.0

    idris = cast.outsider.actor
    import_kit(unit, idris, "kit.csv", [exported(unit, cast, "Old 1")], now)
    (theirs,) = kit.list_items(unit, idris, TODAY)

    assert theirs.due.left.use == ours.due.left.use
    assert theirs.due.left.pulls == ours.due.left.pulls
    assert theirs.counts.first_used == ours.counts.first_used == FIRST
    assert replace(theirs.type.policy, source="") == replace(ours.type.policy, source="")
    assert accounting.verify(unit, idris).holds


def test_a_rule_that_can_not_be_read_names_its_column(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    whole = {"mark": "R 1", "type": "Rope 24 mm", "kind": "kinetic-rope"}
    for rule in ("thrice", "classes", "classes; use_limit=many", "classes; use_limit=0",
                 "power; reference=39 kN", "none; years_from_made=nan"):  # fmt: skip
        row = TableRow(2, {**whole, "rule": rule})
        with pytest.raises(Problems) as raised:
            import_kit(unit, cast.storekeeper.actor, "kit.csv", [row], now)
        assert {problem.where.field for problem in raised.value.items} == {"rule"}, rule


def test_one_type_has_one_rule_however_it_is_written(unit: Unit, cast: Cast, now: datetime) -> None:
    whole = {"type": "Rope 24 mm", "kind": "kinetic-rope"}
    written = ("classes; use_limit=12", "CLASSES;heavy=3; use_limit=12;light=1.0")
    rows = [
        TableRow(n, {**whole, "mark": f"R {n}", "rule": rule})
        for n, rule in enumerate(written, start=2)
    ]
    import_kit(unit, cast.storekeeper.actor, "kit.csv", rows, now)

    other = TableRow(2, {**whole, "mark": "R 9", "rule": "classes; use_limit=20"})
    with pytest.raises(Problems, match="has another rule than in the register"):
        import_kit(unit, cast.storekeeper.actor, "kit.csv", [other], now)


def amended(unit: Unit, cast: Cast, now: datetime, item_id: int, used: Used) -> None:
    row = item(unit, cast, item_id)
    new = NewItem(row.type.id, row.mark, made=row.made, used=used)
    change = ItemChange(item_id, row.version, new, "The old book came", f"used-{row.version:04}")
    amending.change_item(unit, cast.storekeeper.actor, change, now)


def test_what_is_told_last_of_the_use_before_counts(unit: Unit, cast: Cast, now: datetime) -> None:
    item_id = registered(unit, cast, now, Used())
    amended(unit, cast, now, item_id, Used(FIRST, "10 light"))
    assert item(unit, cast, item_id).use == 10.0
    amended(unit, cast, now, item_id, Used(FIRST, "10 light 4 heavy"))
    life = kit.item_life(unit, cast.storekeeper.actor, item_id, TODAY)

    assert (life.item.use, life.item.counts.light, life.item.counts.heavy) == (26.0, 10, 4)
    assert [line.brought for line in life.lines] == [0.0, 0.0, 26.0]
    assert accounting.verify(unit, cast.storekeeper.actor).holds
    newest, _ = amending.changes_of_item(unit, cast.storekeeper.actor, item_id)
    assert [(f.name, f.before, f.after) for f in newest.fields] == [
        ("used_before", "10 light 0 heavy", "10 light 4 heavy")
    ]

    amended(unit, cast, now, item_id, Used())
    row = item(unit, cast, item_id)
    assert (row.use, row.counts.first_used) == (0.0, None)
    assert accounting.verify(unit, cast.storekeeper.actor).holds


def test_a_change_of_something_else_leaves_the_use_before(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    item_id = registered(unit, cast, now, Used(FIRST, "7.5"))
    row = item(unit, cast, item_id)
    new = NewItem(row.type.id, row.mark, made=row.made, place="Bench", used=Used(FIRST, "7.5"))
    change = ItemChange(item_id, row.version, new, "", "to-the-bench")
    amending.change_item(unit, cast.storekeeper.actor, change, now)

    life = kit.item_life(unit, cast.storekeeper.actor, item_id, TODAY)
    assert (life.item.use, len(life.lines)) == (7.5, 1)
