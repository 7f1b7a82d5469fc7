"""Planning the pulls of a class, and what the pages of the kit tell of it."""

import re
from datetime import datetime

import pytest

from coursekit.services import kit, teaching
from coursekit.store.unit import Unit
from tests.cast import TODAY, Cast
from tests.kit_acts import LOOKED, hold
from tests.shell.classroom import pulled
from tests.shell.counted import CountedKit
from tests.web.visitor import Visitor


@pytest.fixture
def counter(cast: Cast) -> str:
    return f"/kit/classes/{cast.class_id}"


@pytest.fixture
def control(cast: Cast) -> str:
    return f"pulls-{cast.version_id}"


@pytest.fixture
def worn(unit: Unit, cast: Cast, now: datetime) -> int:
    """A line that has 6 pulls left."""
    return CountedKit(unit, cast, now).with_left("Line 9", 6)


def of_item(page: Visitor, mark: str) -> str:
    """Return the words beside an item."""
    row = re.search(rf"<(label|li)[^>]*>(?:(?!</\1>).)*{mark}.*?</\1>", page.html, re.DOTALL)
    assert row
    return " ".join(re.sub(r"<[^>]+>", " ", row.group(0)).split())


def test_the_plan_begins_with_what_is_usual_and_is_kept(
    storekeeper: Visitor, counter: str, control: str
) -> None:
    storekeeper.open(counter)
    assert "2 pulls planned, 0 made" in storekeeper.html
    assert f'href="{counter}/plan">Plan the pulls<' in storekeeper.html
    storekeeper.open(f"{counter}/plan")
    assert storekeeper.value(control) == "2"
    assert "common practice, no source" in storekeeper.html

    storekeeper.send(**{control: "8"})
    assert storekeeper.path == counter
    assert "8 pulls planned, 0 made" in storekeeper.html


def test_an_item_says_whether_it_has_enough_left_for_the_day(
    storekeeper: Visitor, counter: str, control: str, worn: int
) -> None:
    storekeeper.open(f"{counter}/plan").send(**{control: "8"})

    told = of_item(storekeeper, "Line 9")
    assert "▲ not enough for today" in told
    assert "8 pulls planned, enough left for 6 · use count: 8 needed, 6 left" in told
    assert "○ no use count 8 pulls planned: inspection and age decide" in of_item(
        storekeeper, "Line 1"
    )
    assert '<rect width="75.0" height="4"/><path d="M100 0V4"/>' in storekeeper.html


def test_an_item_with_too_little_left_is_refused_with_what_would_mend_it(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str, control: str, worn: int
) -> None:
    storekeeper.open(f"{counter}/plan").send(**{control: "8"})
    storekeeper.send(action=counter, items=[str(worn)], **LOOKED)

    assert storekeeper.status == 422
    (told,) = storekeeper.notices[:1]
    assert "Line 9 has enough left for 6 of the 8 pulls that are planned for it." in told
    assert "Take Line 1 in its place, plan fewer pulls, or issue another of its type" in told
    assert kit.item_life(unit, cast.storekeeper.actor, worn, TODAY).item.status == "in-store"


def test_the_page_of_one_item_tells_the_same_and_refuses_too(
    storekeeper: Visitor, cast: Cast, counter: str, control: str, worn: int
) -> None:
    storekeeper.open(f"{counter}/plan").send(**{control: "8"})
    storekeeper.open(f"/kit/items/{worn}/issue")
    assert "not enough for today" in of_item(storekeeper, "Saturday group</b>")

    storekeeper.send(class_id=str(cast.class_id), **LOOKED)
    assert storekeeper.status == 422
    assert "enough left for 6 of the 8" in storekeeper.notices[0]


def test_items_that_take_turns_say_so(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime, counter: str, control: str
) -> None:
    lines = CountedKit(unit, cast, now)
    both = [str(lines.with_left(mark, 5)) for mark in ("Line 8", "Line 9")]
    storekeeper.open(f"{counter}/plan").send(**{control: "8"})
    storekeeper.send(action=counter, items=both, **LOOKED)

    told = of_item(storekeeper, "Line 8")
    assert "enough for today 4 pulls planned, enough left for 4" in told
    assert "2 of its type take turns, shares rounded up" in told


def test_what_is_out_with_too_little_left_is_the_title(
    storekeeper: Visitor, counter: str, control: str, worn: int
) -> None:
    storekeeper.open(f"{counter}/plan").send(**{control: "6"})
    storekeeper.send(action=counter, items=[str(worn)], **LOOKED)
    storekeeper.open(f"{counter}/plan").send(**{control: "7"})

    assert storekeeper.heading == "1 item that is out has too little left for today"


@pytest.mark.parametrize("typed", ["", "61", "-1", "many", "2.5"])
def test_what_is_no_number_of_pulls_stays_typed_and_is_told(
    storekeeper: Visitor, counter: str, control: str, typed: str
) -> None:
    storekeeper.open(f"{counter}/plan").send(**{control: typed})

    assert storekeeper.status == 422
    assert len(storekeeper.errors) == 1
    assert storekeeper.value(control) == typed


def test_two_who_plan_at_once_are_told_and_nothing_is_lost(
    storekeeper: Visitor, instructor: Visitor, counter: str, control: str
) -> None:
    storekeeper.open(f"{counter}/plan")
    instructor.open(f"{counter}/plan").send(**{control: "5"})
    storekeeper.send(**{control: "9"})
    assert storekeeper.status == 422
    assert "planned anew" in storekeeper.notices[0]
    assert "Planned by another: 5; 0 made by now" in storekeeper.html
    assert storekeeper.value(control) == "9"

    storekeeper.send(**{control: "9"})
    assert "9 pulls planned" in storekeeper.html


def test_a_class_that_is_over_has_no_form(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str, now: datetime
) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)

    assert storekeeper.open(f"{counter}/plan").forms == []


def test_what_was_scanned_is_chosen_in_place_of_what_is_proposed(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str
) -> None:
    scanned = [cast.items[mark] for mark in ("Rope 1", "Bow 2")]
    storekeeper.open(f"{counter}?item={scanned[0]}&item={scanned[1]}")
    form = next(form for form in storekeeper.forms if form.action == counter)
    assert sorted(int(v) for name, v in form.pairs if name == "items") == sorted(scanned)

    storekeeper.send(action=counter, **LOOKED)
    rope = kit.item_life(unit, cast.storekeeper.actor, scanned[0], TODAY).item
    assert rope.status == "out"


def test_what_was_scanned_and_has_to_stay_is_told(
    storekeeper: Visitor, unit: Unit, cast: Cast, counter: str
) -> None:
    hold(unit, cast, "Rope 1")
    storekeeper.open(f"{counter}?item={cast.items['Rope 1']}")

    assert "<li>Rope 1 has to stay: in quarantine.</li>" in storekeeper.html
    assert re.search(r"Stays in the store.*Rope 1.*in quarantine", storekeeper.html, re.DOTALL)


def test_who_pulls_sees_how_many_of_the_planned_pulls_are_made(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, counter: str, control: str
) -> None:
    choose = f"/classes/{cast.class_id}/pulls/new"
    instructor.open(f"{counter}/plan").send(**{control: "2"})
    pulled(unit, cast, now)
    assert "2 pulls planned, 1 made" in instructor.open(choose).html
    assert "went out for no more" not in instructor.html

    instructor.open(f"{counter}/plan").send(**{control: "1"})
    assert "The kit went out for no more pulls than these." in instructor.open(choose).html
    assert f'href="{counter}/plan">Plan more of them<' in instructor.html
