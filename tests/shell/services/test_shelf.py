"""The database sorts the store as the rules do, item by item."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from itertools import product

import pytest
from sqlalchemy import insert

from coursekit.services import kit, register, shelf
from coursekit.services.errors import RoleNeeded
from coursekit.services.register import NewType
from coursekit.services.shelf import STANDS, Cursor, Sought, Word
from coursekit.store.queries.kit import ItemRow
from coursekit.store.tables import KitCount, KitItem
from coursekit.store.unit import Unit
from coursekit.wear.policy import ClassesPolicy, InspectionOnly, Policy, PowerPolicy
from coursekit.wear.shelf import Shelf
from tests.cast import NOW, Cast

# The end of a February, where whole months before and after are hardest.
TODAY = date(2027, 2, 28)
RULES = (
    Policy(ClassesPolicy(limit=30.0), years_from_made=5, years_from_first_use=2),
    Policy(InspectionOnly(), years_from_made=1, look_over_each_day=True),
    Policy(InspectionOnly(), months_between_inspections=None),
    Policy(PowerPolicy(reference_load=39_000.0, exponent=5.0, life=20_711.0, safety=60.0)),
    Policy(ClassesPolicy(limit=12.0), months_between_inspections=18, years_from_made=None),
)
DAYS = (-1, 0, 1, 30, 31)


def around(*months: int) -> list[date | None]:
    """Return days about so many months ago, among them the ends of that month."""
    days = {
        date(TODAY.year, TODAY.month, 25) - timedelta(days=round(30.44 * one) + shift)
        for one in months
        for shift in (*DAYS, -3, -5, -8, 8)
    }
    return [None, *sorted(days)]


@pytest.fixture
def full(unit: Unit, cast: Cast) -> tuple[ItemRow, ...]:
    """Fill the store with items about every edge of every rule, and return them."""
    tobin = cast.storekeeper.actor
    rated = [(rule, "75 kN") for rule in RULES]
    kinds = [
        NewType(f"Rule {n}", "tow-strap", mbs=mbs, policy=rule)
        for n, (rule, mbs) in enumerate([*rated, (RULES[-1], "")])
    ]
    types = [register.register_type(unit, tobin, new, NOW) for new in kinds]
    made = around(12, 11, 60, 59)
    used = around(24, 23)
    seen = [TODAY, *around(6, 5, 18, 17)]
    uses = (0.0, 9.5, 9.6, 11.9, 12.0, 23.9, 24.0, 30.0, 276.15, 345.2)
    stands = ("in-store", "in-store", "out", "quarantined", "retired", "lost")
    items, counts = list[dict[str, object]](), list[dict[str, object]]()
    for number, (type_id, day) in enumerate(product(types, range(400)), start=1_000):
        common = {"school_id": tobin.school_id}
        items.append(
            {
                **common,
                "id": number,
                "type_id": type_id,
                "mark": f"S {number}",
                "serial": "",
                "batch": "",
                "place": f"bay {number % 3}",
                "made": made[day % len(made)] if number % 2 else date(2026, 12, 1),
                "is_labelled": number % 11 != 0,
                "status": stands[number % 5 if number % 3 else 0],
                "version": 1,
                "created_at": NOW,
            }
        )
        counts.append(
            {
                **common,
                "item_id": number,
                "light": 0,
                "heavy": 0,
                "overload": 0,
                "unknown": 0,
                "use": uses[day % len(uses)] if number % 7 < 3 else 0.0,
                "first_used": used[day % len(used)] if number % 5 < 2 else None,
                "last_inspected": seen[day % len(seen)] if number % 7 > 1 else TODAY,
                "last_looked": (None, TODAY, seen[0])[number % 3],
            }
        )
    with unit.write() as session:
        session.execute(insert(KitItem), items)
        session.execute(insert(KitCount), counts)
    return kit.list_items(unit, tobin, TODAY)


def stands(row: ItemRow, name: str) -> bool:
    """Whether an item stands so, by what is due on it alone."""
    return {
        "kept": row.status not in ("retired", "lost"),
        "held": row.shelf is Shelf.HELD,
        "ready": row.due.may_go_out,
        "due": row.due.is_due and row.status not in ("retired", "lost"),
        "out": row.status == "out",
        "quarantined": row.status == "quarantined",
        "away": row.status in ("retired", "lost"),
    }[name]


def walked(unit: Unit, cast: Cast, sought: Sought) -> list[str]:
    """Return the marks of all pages, one after the other."""
    found, cursor = list[str](), None
    while True:
        page = shelf.look_through(unit, cast.storekeeper.actor, sought, cursor, TODAY).page
        found += [row.mark for row in page.rows]
        if not page.more_after:
            return found
        cursor = Cursor(page.rows[-1].shelf, page.rows[-1].mark)


def test_every_item_stands_on_the_shelf_that_its_rule_puts_it_on(
    unit: Unit, cast: Cast, full: tuple[ItemRow, ...]
) -> None:
    order = list(Shelf)
    by_rule = sorted(full, key=lambda row: (order.index(row.shelf), row.mark))

    assert {row.shelf for row in full} == set(Shelf)
    assert walked(unit, cast, Sought()) == [row.mark for row in by_rule]


@pytest.mark.parametrize("name", STANDS)
def test_the_store_is_narrowed_by_how_items_stand(
    unit: Unit, cast: Cast, full: tuple[ItemRow, ...], name: str
) -> None:
    meant = {row.mark for row in full if stands(row, name)}
    looked = shelf.look_through(unit, cast.storekeeper.actor, Sought(), None, TODAY)

    assert meant
    assert set(walked(unit, cast, Sought(stands=name))) == meant
    assert sum(group.number for group in looked.groups if group.stands(name)) == len(meant)


def test_groups_count_every_item_once_and_tell_those_with_the_words(
    unit: Unit, cast: Cast, full: tuple[ItemRow, ...]
) -> None:
    words = (Word("s"), Word("bay 1"))
    looked = shelf.look_through(unit, cast.storekeeper.actor, Sought(words), None, TODAY)
    places = Counter[str]()
    for group in looked.groups:
        places[group.place] += group.with_words

    assert sum(group.number for group in looked.groups) == len(full)
    assert +places == {"bay 1": sum(row.place == "bay 1" for row in full)}


def test_every_page_is_found_backwards_too(
    unit: Unit, cast: Cast, full: tuple[ItemRow, ...]
) -> None:
    tobin = cast.storekeeper.actor
    last = walked(unit, cast, Sought())[-1]
    cursor = Cursor(Shelf.AWAY, last, is_before=True)
    page = shelf.look_through(unit, tobin, Sought(), cursor, TODAY).page

    assert (len(page.rows), page.more_before, page.more_after) == (60, True, True)
    assert [row.mark for row in page.rows] == walked(unit, cast, Sought())[-61:-1]


def test_a_student_looks_through_no_store(unit: Unit, cast: Cast) -> None:
    with pytest.raises(RoleNeeded):
        shelf.look_through(unit, cast.student.actor, Sought(), None, TODAY)
    with pytest.raises(RoleNeeded):
        shelf.found_items(unit, cast.student.actor, Sought(), TODAY)
