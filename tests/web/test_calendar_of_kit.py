"""The calendar of what is due on the kit, read back by a reader that is not ours."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from freezegun.api import FrozenDateTimeFactory
from icalendar import Calendar, Event

from coursekit.services import kit
from coursekit.services.kit import Retirement
from coursekit.store.unit import Unit
from tests.cast import NOW, TODAY, Cast
from tests.kit_acts import examine
from tests.web.test_calendar_of_classes import PAGE as CLASSES
from tests.web.visitor import Visitor

PAGE = "/kit/calendar"


def new_address(keeper: Visitor) -> str:
    keeper.open(PAGE).send(action=PAGE)
    address = keeper.html.split('readonly value="')[1].split('"')[0]
    return address.removeprefix("http://localhost")


def events(visitor: Visitor, address: str) -> dict[str, Event]:
    visitor.open(address)
    assert visitor.response.mimetype == "text/calendar"
    found = Calendar.from_ical(visitor.response.get_data()).events
    return {str(event["SUMMARY"]): event for event in found}


def examination(visitor: Visitor, address: str, mark: str) -> Event:
    found = events(visitor, address).items()
    return next(event for title, event in found if title.startswith(f"inspect: {mark}, "))


@pytest.fixture
def address(storekeeper: Visitor) -> str:
    """The address that the storekeeper has just made."""
    return new_address(storekeeper)


def test_an_examination_moves_the_entry_of_the_item_and_makes_no_second_one(
    unit: Unit, cast: Cast, address: str, visitor: Visitor
) -> None:
    """LOLER 1998 reg. 9(3)(a): accessories for lifting are examined every six months."""
    before = examination(visitor, address, "Sling 1")
    examine(unit, cast, "Sling 1")
    after = examination(visitor, address, "Sling 1")

    assert after.start == date(2026, 12, 13)
    assert before.start < after.start
    assert before["UID"] == after["UID"]
    assert str(after["URL"]).endswith(f"/kit/items/{cast.items['Sling 1']}")


def test_what_is_due_stands_on_today_until_somebody_sees_to_it(
    unit: Unit, cast: Cast, address: str, visitor: Visitor, clock: FrozenDateTimeFactory
) -> None:
    def due() -> Event | None:
        return next((e for title, e in events(visitor, address).items() if "due" in title), None)

    assert due() is None
    clock.move_to(NOW + timedelta(days=400))
    told = due()

    assert told is not None
    assert told.start == TODAY + timedelta(days=400)
    assert "Sling 1" in str(told["DESCRIPTION"])


def test_what_is_retired_is_due_no_more(
    unit: Unit, cast: Cast, address: str, visitor: Visitor
) -> None:
    item = kit.item_life(unit, cast.storekeeper.actor, cast.items["Sling 1"], TODAY).item
    tobin = cast.storekeeper.actor.person_id
    end = Retirement(item.id, item.version, "cut", "sawn through", tobin, "retired-1")
    kit.retire(unit, cast.storekeeper.actor, end, NOW)

    assert not any("Sling 1" in title for title in events(visitor, address))


def test_a_changed_address_ends_the_one_before_and_no_other_calendar(
    storekeeper: Visitor, instructor: Visitor, visitor: Visitor, address: str
) -> None:
    instructor.open(CLASSES).send(action=CLASSES)
    secret = instructor.html.split("/calendars/")[1].split("/")[0]
    second = new_address(storekeeper)

    assert visitor.open(address).status == 404
    assert visitor.open(second).status == 200
    assert visitor.open(f"/calendars/{secret}/classes.ics").status == 200
    assert visitor.open(f"/kit/calendars/{secret}/kit.ics").status == 404
    storekeeper.open(PAGE).send(action=f"{PAGE}/end")
    assert storekeeper.heading == "The calendar of the kit has no address yet"
    assert visitor.open(second).status == 404


def test_students_make_no_address(student: Visitor) -> None:
    assert student.open(PAGE).status == 403
