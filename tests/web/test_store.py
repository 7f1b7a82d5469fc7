"""The store at a glance: what may go out, what is due, and finding an item."""

import re
from datetime import UTC, date, datetime, timedelta
from html import unescape
from urllib.parse import quote

import pytest
from flask import Flask
from freezegun.api import FrozenDateTimeFactory

from coursekit.files.kit_table import TableRow
from coursekit.services import importing, inspecting, register
from coursekit.services.register import NewItem, NewType
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.kit_acts import hold
from tests.looks import examined
from tests.shell.straps import many
from tests.web.conftest import signed_in
from tests.web.visitor import Visitor


def shelf(page: str, heading: str) -> str:
    """Return the part of the page under a heading of the store."""
    return page.partition(f">{heading} <")[2].partition("</section>")[0]


def test_the_title_says_that_everything_may_go_out(storekeeper: Visitor) -> None:
    assert storekeeper.open("/kit").heading == "Everything in the store may go out today"


def test_the_title_counts_what_cant_go_out(storekeeper: Visitor, unit: Unit, cast: Cast) -> None:
    hold(unit, cast, "Sling 1")
    hold(unit, cast, "Rope 1")
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


def test_an_item_of_a_type_without_any_rating_stays_and_its_pages_say_why(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    type_id = register.register_type(unit, cast.storekeeper.actor, NewType("Bare", "hook"), now)
    new = NewItem(type_id, "Hook 9", made=date(2026, 1, 1))
    item_id = register.register_item(unit, cast.storekeeper.actor, new, now)
    look = examined("hook", item_id, 1, "a-first-look")
    inspecting.inspect(unit, cast.storekeeper.actor, look, now + timedelta(minutes=1))
    storekeeper.open(f"/kit/items/{item_id}")

    assert storekeeper.heading == "Hook 9: no rating in the register"
    assert "no WLL and no MBS known: it may be kept, never issued" in storekeeper.html
    storekeeper.open(f"/kit/items/{item_id}/issue")
    assert "nobody knows what it may carry" in storekeeper.html


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


def marks(page: str) -> list[str]:
    return re.findall(r'"shelf-name"><a [^>]*><b>([^<]+)</b>', page)


def link(page: str, rel: str) -> str:
    """Return where the link to the page before or after leads, nothing where there is none."""
    found = re.search(rf'rel="{rel}" href="([^"]+)"', page)
    return unescape(found[1]) if found else ""


def test_a_large_store_is_gone_through_page_by_page_and_back(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    many(unit, cast, now)
    pages = [storekeeper.open("/kit").html]
    while following := link(pages[-1], "next"):
        pages.append(storekeeper.open(following).html)
    back = [pages[-1]]
    while earlier := link(back[-1], "prev"):
        back.append(storekeeper.open(earlier).html)

    assert [len(marks(page)) for page in pages] == [60, 60, 40]
    straps = [f"T {line:03}" for line in range(1, 151)]
    every = [mark for page in pages for mark in marks(page)]
    assert every[:150] == straps
    assert sorted(every[150:]) == sorted(cast.items)
    assert [marks(page) for page in reversed(back)] == [marks(page) for page in pages]
    assert "Can&#39;t go out <" in pages[1]
    # A heading counts what stands on other pages too.
    assert all('Can&#39;t go out <span class="soft">150<' in page for page in pages)


@pytest.mark.parametrize("bent", ["after=attic:T 1", "after=held", "before=:", "after=held:"])
def test_a_bent_address_of_a_page_shows_the_first(
    storekeeper: Visitor, cast: Cast, bent: str
) -> None:
    first = marks(storekeeper.open("/kit").html)

    assert len(first) == len(cast.items)
    assert marks(storekeeper.open(f"/kit?{bent}").html) == first


def chips(page: str) -> dict[str, int]:
    found = re.findall(r'>([^<>]+)&nbsp;<span class="soft">(\d+)</span></a>', page)
    return {unescape(text): int(number) for text, number in found}


def test_links_narrow_the_store_and_say_how_many_they_leave(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    many(unit, cast, now, 5)
    hold(unit, cast, "Rope 1")
    storekeeper.open("/kit")

    told = chips(storekeeper.html)
    assert told["all"] == 15
    assert told["can't go out"] == 6
    assert (told["in quarantine"], told["due"], told["may go out"]) == (1, 5, 9)
    assert (told["out with a class"], told["retired or lost"]) == (0, 0)
    assert (told["tow strap"], told["bow shackle"]) == (5, 2)
    assert (told["Bay 0"], told["Bay 1"], told["all places"]) == (2, 3, 15)

    storekeeper.open("/kit?stands=due&place=Bay 1")
    assert marks(storekeeper.html) == ["T 001", "T 003", "T 005"]
    assert chips(storekeeper.html)["tow strap"] == 3
    assert 'href="/kit?stands=due&amp;kind=tow-strap&amp;place=Bay+1"' in storekeeper.html
    # What is found of a word keeps to what the store is narrowed to.
    form = next(form for form in storekeeper.forms if form.action == "/kit")
    assert set(form.pairs) == {("words", ""), ("stands", "due"), ("place", "Bay 1")}


@pytest.mark.parametrize("words", ["bay 1", "TOW bay", "t 00 strap"])
def test_an_item_is_found_by_its_type_and_its_place(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime, words: str
) -> None:
    many(unit, cast, now, 3)

    assert "T 001" in marks(storekeeper.open(f"/kit?words={words}").html)
    assert "Bow 1" not in marks(storekeeper.html)


@pytest.mark.parametrize("words", ["ÖSE", "öse", "100%", "a_b"])
def test_a_search_knows_every_letter_and_has_no_wildcards(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime, words: str
) -> None:
    cells = {"type": "Strap", "kind": "tow-strap"}
    rows = [
        TableRow(2, {**cells, "mark": "Öse 100% a_b"}),
        TableRow(3, {**cells, "mark": "O 1001 axb"}),
    ]
    importing.import_kit(unit, cast.storekeeper.actor, "kit.csv", rows, now)

    assert marks(storekeeper.open(f"/kit?words={quote(words)}").html) == ["Öse 100% a_b"]


def test_what_is_found_can_be_asked_for_alone(storekeeper: Visitor) -> None:
    """A script takes in this part of the page while a search is typed."""
    part = storekeeper.open("/kit/found?words=bow").html

    assert part.lstrip().startswith('<div class="stack" data-said="2 items found">')
    assert marks(part) == ["Bow 1", "Bow 2"]
    assert 'href="/kit?words=bow&amp;kind=bow-shackle"' in part
    assert "<html" not in part


@pytest.mark.parametrize("sheet", ["register.pdf", "labels"])
def test_what_is_printed_follows_the_search_while_it_is_typed(
    storekeeper: Visitor, sheet: str
) -> None:
    link = f'href="/kit/{sheet}?words=bow"'

    assert link in storekeeper.open("/kit/found?words=bow").html
    assert storekeeper.open("/kit?words=bow").html.count(link) == 1
