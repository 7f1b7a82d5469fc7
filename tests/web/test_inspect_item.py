"""A thorough examination, line by line, passed or not."""

from datetime import UTC, datetime

import pytest
from flask import Flask
from freezegun.api import FrozenDateTimeFactory

from coursekit.wear.lists import list_for
from tests.cast import Cast
from tests.web.conftest import signed_in
from tests.web.visitor import Visitor


@pytest.fixture
def bow(cast: Cast) -> str:
    return f"/kit/items/{cast.items['Bow 1']}"


@pytest.fixture
def hook(cast: Cast) -> str:
    return f"/kit/items/{cast.items['Hook 1']}"


def looks(kind: str = "bow-shackle", **others: str) -> dict[str, str]:
    """Return what is marked on a list: every line fine, but for these."""
    fine = {f"seen-{each.key}": "fine" for each in list_for(kind).criteria}
    return fine | {f"seen-{key}": seen for key, seen in others.items()}


def test_an_examination_that_passed_moves_the_next_one_six_months_on(
    app: Flask, clock: FrozenDateTimeFactory, cast: Cast, bow: str
) -> None:
    clock.move_to(datetime(2026, 12, 20, 12, tzinfo=UTC))
    storekeeper = signed_in(app, cast.storekeeper.sign_in_name, cast)

    assert storekeeper.open(bow).heading == "Bow 1: inspect first"
    storekeeper.open(f"{bow}/inspect").send(**looks())

    assert storekeeper.heading == "Bow 1: may go out"
    # LOLER 1998 reg. 9(3)(a): lifting accessories at least every six months.
    assert "inspect by Jun 20, 2027" in storekeeper.html


def test_the_list_is_that_of_the_kind_with_its_sources(storekeeper: Visitor, bow: str) -> None:
    storekeeper.open(f"{bow}/inspect")

    assert "Threads damaged" in storekeeper.html
    assert "ASME B30.26-2010, 26-1.8.4" in storekeeper.html
    assert "Stitches broken" not in storekeeper.html
    assert storekeeper.value("seen-threads") == "not-looked-at"


def test_what_failed_goes_into_quarantine(storekeeper: Visitor, bow: str) -> None:
    storekeeper.open(f"{bow}/inspect").send(
        **looks(shape="found"), findings="bent by a hand's breadth"
    )

    assert storekeeper.heading == "Bow 1: in quarantine"
    assert "did not pass" in storekeeper.html


def test_a_size_beyond_the_limit_fails_what_the_eye_called_fine(
    storekeeper: Visitor, hook: str
) -> None:
    sizes = {"size-throat-as-new": "40 mm", "size-throat-now": "42 mm"}
    storekeeper.open(f"{hook}/inspect").send(**looks("hook"), **sizes, findings="opened")

    # EM 385-1-1, 15.E.07: 5 % of throat opening.
    assert storekeeper.heading == "Hook 1: in quarantine"


def test_what_failed_needs_a_finding(storekeeper: Visitor, bow: str) -> None:
    storekeeper.open(f"{bow}/inspect").send(**looks(shape="found"), findings="")

    assert storekeeper.status == 422
    assert storekeeper.errors == [
        "▲ It fails, and nothing tells what was found. Write what it is and where."
    ]


def test_nothing_passes_unseen(storekeeper: Visitor, bow: str) -> None:
    storekeeper.open(f"{bow}/inspect").send(**looks(pin="not-looked-at"), findings="a scratch")

    assert storekeeper.status == 422
    assert storekeeper.errors == ["▲ It was not looked at. Look at it, or mark what you found."]
    assert '<a href="#seen-pin">1 field is to be mended: go to it</a>' in storekeeper.html
    assert storekeeper.value("seen-threads") == "fine"
    assert "a scratch" in storekeeper.html


@pytest.mark.parametrize("typed", ["", "perhaps"])
def test_a_line_is_marked_with_one_of_its_words(storekeeper: Visitor, bow: str, typed: str) -> None:
    storekeeper.open(f"{bow}/inspect").send(**looks(pin=typed))

    assert storekeeper.status == 422
    assert len(storekeeper.errors) == 1


@pytest.mark.parametrize(
    ("as_new", "now", "told"),
    [
        ("-3 mm", "2 mm", "Such a size can't be. Write a length above zero."),
        ("nan", "2 mm", '"nan" is not a number and a unit'),
        ("1e999", "2 mm", '"1e999" is not a number and a unit'),
        ("19 kg", "17 mm", "19 kg is a mass, a length is needed"),
        ("19 mm", "", "Fill in both, or neither."),
        ("17 mm", "19 mm", "The two sizes seem to stand the wrong way round"),
        ("19 mm", "1e9 m", "is too large to be meant"),
    ],
)
def test_a_size_that_cannot_be_is_told_beside_it_and_nothing_is_lost(
    storekeeper: Visitor, bow: str, as_new: str, now: str, told: str
) -> None:
    sizes = {"size-worn-as-new": as_new, "size-worn-now": now}
    storekeeper.open(f"{bow}/inspect").send(**looks(), **sizes, findings="looked at by lamp")

    assert storekeeper.status == 422
    assert len(storekeeper.errors) == 1
    assert told in storekeeper.errors[0]
    assert storekeeper.value("size-worn-as-new") == as_new
    assert storekeeper.value("size-worn-now") == now
    assert storekeeper.value("seen-pin") == "fine"
    assert storekeeper.value("findings") == "looked at by lamp"


def test_a_number_alone_is_in_the_unit_that_is_chosen(storekeeper: Visitor, bow: str) -> None:
    storekeeper.open(f"{bow}/inspect")
    sizes = {"size-worn-as-new": "19", "size-worn-now": "18"}
    assert storekeeper.value("size-worn-now-unit") == "mm"
    storekeeper.send(**looks(), **sizes)

    assert storekeeper.heading == "Bow 1: may go out"


@pytest.mark.parametrize("typed", ["2.5", "3 %", "-1", "3 mm", "many"])
def test_strands_are_counted_in_whole_numbers(storekeeper: Visitor, cast: Cast, typed: str) -> None:
    rope = f"/kit/items/{cast.items['Rope 1']}/inspect"
    sizes = {"size-strands-number": typed, "size-strands-of": "32"}
    storekeeper.open(rope).send(**looks("kinetic-rope"), **sizes)

    assert storekeeper.status == 422
    assert len(storekeeper.errors) == 1


def test_a_list_of_another_kind_is_refused_above_the_form(storekeeper: Visitor, bow: str) -> None:
    storekeeper.open(f"{bow}/inspect").send(**looks(), listed="roundsling")

    assert storekeeper.status == 422
    assert "This list is that of another kind of item. Open the form again." in " ".join(
        storekeeper.notices
    )


def test_after_something_out_of_the_ordinary_it_is_told_what(
    storekeeper: Visitor, bow: str
) -> None:
    storekeeper.open(f"{bow}/inspect").send(**looks(), occasion="after", event="")
    assert storekeeper.errors == ["▲ It is empty. Fill it in."]

    storekeeper.send(event="a jerk on the stump")
    assert storekeeper.heading == "Bow 1: may go out"


def test_what_happened_is_not_dropped_where_another_reason_is_chosen(
    storekeeper: Visitor, bow: str
) -> None:
    storekeeper.open(f"{bow}/inspect").send(**looks(), event="fell off the truck")
    assert storekeeper.errors == [
        (
            "▲ It is told only of an item examined after something out of the ordinary. "
            "Choose that reason above, or leave this empty."
        )
    ]
    assert storekeeper.value("event") == "fell off the truck"

    storekeeper.send(occasion="after")
    assert "fell off the truck" in storekeeper.html


def test_the_history_tells_what_was_looked_at(storekeeper: Visitor, hook: str) -> None:
    sizes = {"size-throat-as-new": "40 mm", "size-throat-now": "42 mm"}
    whole = looks("hook") | sizes | {"occasion": "after", "event": "a jerk on the stump"}
    storekeeper.open(f"{hook}/inspect").send(**whole, findings="opened")
    html = storekeeper.html

    assert "after something out of the ordinary: a jerk on the stump" in html
    assert "found: The throat has opened by 5 % or by 6 mm, whichever is less" in html
    assert "<b>found</b>, 40 mm as new, 42 mm now, 5.0 % gained" in html
    assert "Any bend or twist that can be seen: <b>fine</b>" in html
