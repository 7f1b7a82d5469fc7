"""The code of a label on a student's phone: what to look at, and a doubt that holds it back."""

from datetime import datetime

import pytest

from coursekit.services import kit
from coursekit.services.kit import ItemLife
from coursekit.store.unit import Unit
from coursekit.wear.lists import list_for
from tests.cast import Cast
from tests.web.visitor import Visitor


@pytest.fixture
def bow(cast: Cast) -> str:
    return f"/kit/items/{cast.items['Bow 1']}"


def life(unit: Unit, cast: Cast, now: datetime) -> ItemLife:
    return kit.item_life(unit, cast.storekeeper.actor, cast.items["Bow 1"], now.date())


def test_a_label_leads_a_student_to_the_list_of_that_item(student: Visitor, bow: str) -> None:
    student.open(bow)

    assert student.path == f"{bow}/look"
    assert student.heading == "Look at Bow 1 before you use it"
    lines = list_for("bow-shackle").each_use
    assert lines
    assert student.html.count("<li>") >= len(lines)


def test_nothing_else_of_the_store_is_told_there(student: Visitor, bow: str) -> None:
    student.open(bow)

    # Its serial, its rating, who works there, another item, and the way to any of them.
    for word in ("FB-0", "3.25 t", "Tobin Hale", "Bow 2", "entries", 'href="/kit'):
        assert word not in student.html
    for path in ("/kit", f"{bow}/release", f"{bow}/quarantine", f"{bow}.pdf", f"{bow}/code.svg"):
        assert student.open(path).status == 403


def test_a_student_holds_it_back_with_a_reason(
    student: Visitor, instructor: Visitor, unit: Unit, cast: Cast, now: datetime, bow: str
) -> None:
    student.open(f"{bow}/look").send(reason=" ")
    assert student.status == 422
    assert life(unit, cast, now).item.status == "in-store"
    student.send(reason="the pin does not turn")

    assert student.heading == "Do not use Bow 1"
    found = life(unit, cast, now)
    assert (found.item.status, found.lines[-1].by) == ("quarantined", "Ana Lim")
    assert "the pin does not turn" in instructor.open(bow).html
    assert instructor.open(f"{bow}/release").send(reason="cleaned").heading == "Bow 1: may go out"


def test_a_doubt_sent_twice_counts_once(
    student: Visitor, unit: Unit, cast: Cast, now: datetime, bow: str
) -> None:
    page = student.open(f"{bow}/look").response
    for _ in "12":
        student.response = page
        student.send(reason="the pin does not turn")

    assert [line.kind for line in life(unit, cast, now).lines].count("quarantined") == 1


def test_what_is_retired_takes_no_doubt_any_more(
    student: Visitor, unit: Unit, cast: Cast, now: datetime, bow: str
) -> None:
    student.open(f"{bow}/look")
    mara, item = cast.instructor.actor.person_id, life(unit, cast, now).item
    end = kit.Retirement(item.id, item.version, "bent", "sawn in two", mara, "retire-01")
    kit.retire(unit, cast.storekeeper.actor, end, now)
    student.send(reason="the pin does not turn")

    assert student.status == 422
    assert student.heading == "Do not use Bow 1"


def test_staff_come_from_a_label_to_the_items_page(storekeeper: Visitor, bow: str) -> None:
    assert storekeeper.open(bow).heading == "Bow 1: may go out"
    assert f'href="{bow}"' in storekeeper.open(f"{bow}/look").html
