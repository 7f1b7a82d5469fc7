"""The calendar of classes behind a secret address, read back by a reader that is not ours."""

from datetime import date

import pytest
from freezegun.api import FrozenDateTimeFactory
from icalendar import Calendar

from coursekit.services import recording, teaching
from coursekit.services.recording import Circumstances
from coursekit.store.unit import Unit
from tests.cast import NOW, TODAY, Cast
from tests.shell.classroom import COMPETENT, handed_in
from tests.web.visitor import Visitor

PAGE = "/records/calendar"


def new_address(instructor: Visitor) -> str:
    """Make an address as staff and return its path."""
    instructor.open(PAGE).send(action=PAGE)
    address = instructor.html.split('readonly value="')[1].split('"')[0]
    return address.removeprefix("http://localhost")


def entries(visitor: Visitor, address: str) -> dict[str, date]:
    """Return what a calendar program shows: title and day."""
    visitor.open(address)
    assert visitor.response.mimetype == "text/calendar"
    events = Calendar.from_ical(visitor.response.get_data()).events
    return {str(event["SUMMARY"]): event.start for event in events}


def test_whoever_has_the_address_reads_the_classes_without_signing_in(
    instructor: Visitor, visitor: Visitor
) -> None:
    assert entries(visitor, new_address(instructor)) == {"Winch basics: Saturday group": TODAY}


def test_the_days_on_which_certificates_end_stand_in_it_without_a_name(
    unit: Unit, cast: Cast, instructor: Visitor, visitor: Visitor, clock: FrozenDateTimeFactory
) -> None:
    """Three years by the usual rules, the same day: RFC 5545 has no say in that, the school has."""
    handed_in(unit, cast, NOW, **COMPETENT)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, NOW)
    yard = Circumstances("North yard", "dry", "")
    recording.issue(unit, cast.instructor.actor, cast.class_id, yard, NOW)
    address = new_address(instructor)
    clock.move_to(NOW.replace(year=2028))
    found = entries(visitor, address)

    assert found["1 certificate ends"] == date(2029, 6, 13)
    assert cast.student.name not in visitor.html


def test_a_changed_address_ends_the_one_before(instructor: Visitor, visitor: Visitor) -> None:
    first = new_address(instructor)
    second = new_address(instructor)

    assert first != second
    assert visitor.open(first).status == 404
    assert visitor.open(second).status == 200


def test_an_address_is_shown_once_and_may_be_ended(instructor: Visitor, visitor: Visitor) -> None:
    address = new_address(instructor)
    assert address not in instructor.open(PAGE).html
    assert "in use" in instructor.html
    instructor.send(action=f"{PAGE}/end")

    assert instructor.heading == "The calendar of classes has no address yet"
    assert visitor.open(address).status == 404


@pytest.mark.parametrize("secret", ["x", "0" * 43, "x" * 5000])
def test_a_guessed_address_opens_nothing(
    visitor: Visitor, instructor: Visitor, secret: str
) -> None:
    new_address(instructor)

    assert visitor.open(f"/calendars/{secret}/classes.ics").status == 404


def test_another_school_and_students_make_no_address(
    student: Visitor, storekeeper: Visitor
) -> None:
    assert student.open(PAGE).status == 403
    assert storekeeper.open(PAGE).status == 403
