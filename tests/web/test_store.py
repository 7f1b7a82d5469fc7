"""The store at a glance: what may go out, what is due, and finding an item."""

from datetime import UTC, date, datetime, timedelta

import pytest
from flask import Flask
from freezegun.api import FrozenDateTimeFactory

from coursekit.files.kit_table import TableRow
from coursekit.services import importing, inspecting, kit, register
from coursekit.services.kit import Change
from coursekit.services.register import NewItem
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.looks import examined
from tests.web.conftest import signed_in
from tests.web.visitor import Visitor


def quarantined(unit: Unit, cast: Cast, mark: str, now: datetime) -> None:
    change = Change(cast.items[mark], 2, "a cut", f"quarantine-{cast.items[mark]}")
    kit.quarantine(unit, cast.storekeeper.actor, change, now)


def shelf(page: str, heading: str) -> str:
    """Return the part of the page under a heading of the store."""
    return page.partition(f">{heading} <")[2].partition("</section>")[0]


def test_the_title_says_that_everything_may_go_out(storekeeper: Visitor) -> None:
    assert storekeeper.open("/kit").heading == "Everything in the store may go out today"


def test_the_title_counts_what_cant_go_out(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    quarantined(unit, cast, "Sling 1", now)
    quarantined(unit, cast, "Rope 1", now)
    storekeeper.open("/kit")

    assert storekeeper.heading == "2 of 10 items can't go out today"
    assert "Sling 1" in shelf(storekeeper.html, "Can&#39;t go out")
    assert "in quarantine" in shelf(storekeeper.html, "Can&#39;t go out")


def test_an_item_shows_ratings_as_marked_serial_and_date_of_make(
    storekeeper: Visitor, cast: Cast
) -> None:
    storekeeper.open("/kit")

    assert "WLL 3.25 t · MBS 19.5 t · serial FB-004 · made Jan 2026" in storekeeper.html


def test_the_use_count_stands_against_its_limit(storekeeper: Visitor) -> None:
    storekeeper.open("/kit")

    # Common practice, no source: a kinetic rope retires at a use count of 30.
    assert "use count 0 of 30" in storekeeper.html
    assert "no use count: inspection and age decide" in storekeeper.html


@pytest.mark.parametrize(
    ("later", "told"),
    [
        # LOLER 1998 reg. 9(3)(a): accessories every six months; they were seen on 6 June.
        (date(2026, 12, 5), "inspect by Dec 6, 2026"),
        (date(2026, 12, 6), "inspect first"),
        # Common practice, no source: a soft shackle retires three years after it was made.
        (date(2029, 1, 15), "retire: too old"),
    ],
)
def test_what_is_due_goes_by_the_calendar(
    app: Flask, clock: FrozenDateTimeFactory, cast: Cast, later: date, told: str
) -> None:
    clock.move_to(datetime(later.year, later.month, later.day, 12, tzinfo=UTC))
    storekeeper = signed_in(app, cast.storekeeper.sign_in_name, cast)

    assert told in storekeeper.open(f"/kit/items/{cast.items['Soft 1']}").html


def test_an_item_without_a_legible_rating_never_goes_out(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    type_id = register.kit_types(unit, cast.storekeeper.actor)[0].id
    new = NewItem(type_id, "Bow 9", made=date(2026, 1, 1), is_labelled=False)
    item_id = register.register_item(unit, cast.storekeeper.actor, new, now)
    kind = register.kit_types(unit, cast.storekeeper.actor)[0].kind
    look = examined(kind, item_id, 1, "a-first-look")
    inspecting.inspect(unit, cast.storekeeper.actor, look, now + timedelta(minutes=1))
    storekeeper.open("/kit")

    assert "no legible rating" in shelf(storekeeper.html, "Can&#39;t go out")


@pytest.mark.parametrize("words", ["fb-004", "BOW 1", "bow shackle 1"])
def test_an_item_is_found_by_mark_serial_or_kind(storekeeper: Visitor, words: str) -> None:
    storekeeper.open(f"/kit?words={words}")

    assert "Bow 1" in storekeeper.html
    assert "Sling 1" not in storekeeper.html
    assert storekeeper.value("words") == words


def test_the_search_form_works_without_a_script(storekeeper: Visitor) -> None:
    storekeeper.open("/kit")
    form = next(form for form in storekeeper.forms if form.action == "/kit")

    assert form.method == "get"
    assert ("words", "") in form.pairs


def test_one_kind_can_be_shown_alone(storekeeper: Visitor) -> None:
    storekeeper.open("/kit?kind=bow-shackle")

    assert "Bow 2" in storekeeper.html
    assert "Rope 1" not in storekeeper.html


def test_a_search_that_finds_nothing_says_so_and_leads_back(storekeeper: Visitor) -> None:
    storekeeper.open("/kit?words=anvil")

    assert "No item meets this search." in storekeeper.html
    assert storekeeper.heading == "Everything in the store may go out today"


def test_an_instructor_reads_the_store_and_registers_nothing_without_the_role(
    instructor: Visitor, storekeeper: Visitor
) -> None:
    assert "Register an item" in storekeeper.open("/kit").html
    assert instructor.open("/kit").status == 200


def test_a_shelf_shows_no_more_than_a_phone_can_take(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    actor = cast.storekeeper.actor
    rows = [
        TableRow(line, {"mark": f"T {line:03}", "type": "Tow strap", "kind": "tow-strap"})
        for line in range(2, 72)
    ]
    importing.import_kit(unit, actor, "kit.csv", rows, now)
    storekeeper.open("/kit")

    assert storekeeper.html.count(">T 0") == 60
    assert "10 more: find them by mark, serial, batch or kind." in storekeeper.html
    assert "T 071" in storekeeper.open("/kit?words=071").html
