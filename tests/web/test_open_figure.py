"""Every figure of what is due opens into the entries of the ledger that made it."""

import re
from datetime import UTC, datetime, timedelta

import pytest
from flask import Flask
from freezegun.api import FrozenDateTimeFactory

from coursekit.services import kit, pulls
from coursekit.services.kit import Correction
from coursekit.services.pulls import DeclaredPull
from coursekit.store.unit import Unit
from coursekit.wear.schedule import Cause
from coursekit.web.standing import DUE_WORDS
from tests.cast import TODAY, Cast
from tests.kit_acts import hold
from tests.web.conftest import signed_in
from tests.web.visitor import Visitor


@pytest.fixture
def rope(unit: Unit, cast: Cast, now: datetime) -> str:
    """A rope with a light and two heavy pulls that count, and a heavy one that was reversed."""
    item_id, mara = cast.items["Rope 1"], cast.instructor.actor
    for number, size in enumerate(("light", "heavy", "heavy", "heavy")):
        pull = DeclaredPull(
            cast.class_id, item_id, "kinetic", size, "came-free", f"pull-{number}-of-4"
        )
        pulls.record_declared_pull(unit, mara, pull, now + timedelta(hours=number))
    last = kit.item_life(unit, mara, item_id, TODAY).lines[-1].entry_id
    wrong = Correction(last, "it was another rope", "correct-1")
    kit.correct(unit, mara, wrong, now + timedelta(hours=5))
    return f"/kit/items/{item_id}"


def entries(page: Visitor) -> list[str]:
    """Return what each entry of the ledger that is shown records."""
    return re.findall(r'<td class="what"><b>([^<]+)</b>', page.html)


def said(page: Visitor) -> str:
    """Return what is told of the figure that is open."""
    found = re.search(r'<p class="notice">(.*?) <a [^>]*>Show the whole ledger', page.html)
    return found[1] if found else ""


def test_the_use_count_opens_into_the_pulls_that_counted(storekeeper: Visitor, rope: str) -> None:
    assert (
        f'href="{rope}?made_by=use#ledger">use count 7 of 30</a>' in storekeeper.open("/kit").html
    )
    storekeeper.open(f"{rope}?made_by=use")

    # Common practice, no source: a light pull counts 1, a heavy one 3.
    assert said(storekeeper) == "3 pulls make it: use count 7 of 30."
    assert entries(storekeeper) == ["pull"] * 3
    assert re.findall(r"\+(\d), makes (\d)", storekeeper.html) == [
        ("3", "7"),
        ("3", "4"),
        ("1", "1"),
    ]
    assert len(entries(storekeeper.open(rope))) == 7


def test_the_inspection_opens_into_the_examination_that_it_counts_from(
    storekeeper: Visitor, rope: str
) -> None:
    storekeeper.open(rope)
    assert f'href="{rope}?made_by=inspection#ledger">inspect by Dec 6, 2026</a>' in storekeeper.html
    storekeeper.open(f"{rope}?made_by=inspection")

    # LOLER 1998 reg. 9(3)(a): accessories every six months.
    assert said(storekeeper) == (
        "It passed its last thorough examination on Jun 6, 2026. The next is due 6 months later."
    )
    assert entries(storekeeper) == ["inspected"]


def test_age_and_time_in_use_open_into_what_they_run_from(storekeeper: Visitor, rope: str) -> None:
    # Common practice, no source: a rope retires 5 years from made, 2 from its first use.
    storekeeper.open(f"{rope}?made_by=age")
    assert said(storekeeper) == (
        "No entry makes its age: its label does (made Jan 2026). Its type retires after 5 years."
    )
    assert entries(storekeeper) == ["received"]

    storekeeper.open(f"{rope}?made_by=calendar")
    assert said(storekeeper) == (
        "Its time in use runs from its first pull, on Jun 13, 2026. Its type retires after 2 years."
    )
    assert entries(storekeeper) == ["pull"] * 3


def test_what_was_never_used_or_examined_says_so(storekeeper: Visitor, cast: Cast) -> None:
    bow = f"/kit/items/{cast.items['Bow 1']}"
    assert said(storekeeper.open(f"{bow}?made_by=calendar")).startswith("It was never pulled")
    assert entries(storekeeper) == []
    storekeeper.open("/kit/items/new").send(mark="Bow 9", made="2026-01-01")
    storekeeper.open(f"{storekeeper.path}?made_by=inspection")

    assert "so it is due at once" in said(storekeeper)


def test_where_an_item_stands_opens_into_its_moves(
    storekeeper: Visitor, unit: Unit, cast: Cast, rope: str, now: datetime
) -> None:
    hold(unit, cast, "Rope 1", now + timedelta(hours=6))
    assert f'href="{rope}?made_by=standing#ledger"' in storekeeper.open("/kit").html

    assert entries(storekeeper.open(f"{rope}?made_by=standing")) == ["into quarantine", "received"]


def test_what_is_due_now_opens_from_the_list(
    app: Flask, clock: FrozenDateTimeFactory, cast: Cast, rope: str
) -> None:
    clock.move_to(datetime(2028, 6, 13, 12, tzinfo=UTC))
    storekeeper = signed_in(app, cast.storekeeper.sign_in_name, cast).open("/kit?stands=due")

    assert f'href="{rope}?made_by=calendar#ledger"' in storekeeper.html
    assert f'href="{rope}?made_by=inspection#ledger">inspect first</a>' in storekeeper.html
    assert "no use count: inspection and age decide</a>" not in storekeeper.html


def test_a_standing_opens_its_own_cause_where_a_language_has_one_word_for_two(
    app: Flask,
    clock: FrozenDateTimeFactory,
    cast: Cast,
    rope: str,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Due by inspection since 2026 and by its time in use since today: the second stands first."""
    monkeypatch.setitem(DUE_WORDS, Cause.INSPECTION, DUE_WORDS[Cause.CALENDAR])
    clock.move_to(datetime(2028, 6, 13, 12, tzinfo=UTC))
    storekeeper = signed_in(app, cast.storekeeper.sign_in_name, cast).open("/kit?stands=due")
    word = DUE_WORDS[Cause.CALENDAR]

    links = re.findall(rf'href="{rope}\?made_by=(\w+)#ledger"', storekeeper.html)
    assert links[0] == "calendar"
    assert f'href="{rope}?made_by=inspection#ledger">{word}</a>' in storekeeper.html


@pytest.mark.parametrize("figure", ["", "weight", "use%00"])
def test_a_figure_that_there_is_not_shows_the_whole_ledger(
    storekeeper: Visitor, rope: str, figure: str
) -> None:
    assert len(entries(storekeeper.open(f"{rope}?made_by={figure}"))) == 7
    assert said(storekeeper) == ""
