"""One item's life: the count line by line, the rule, the chart, and corrections."""

import re
from datetime import datetime, timedelta

import pytest

from coursekit.services import pulls
from coursekit.services.pulls import DeclaredPull
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.web.visitor import Visitor


@pytest.fixture
def rope(unit: Unit, cast: Cast, now: datetime) -> str:
    """A kinetic rope after three light pulls and two heavy ones."""
    for number, size in enumerate(["light", "heavy", "light", "heavy", "light"]):
        pull = DeclaredPull(
            cast.class_id, cast.items["Rope 1"], "kinetic", size, "came-free", f"pull-{number}-of-5"
        )
        at = now - timedelta(minutes=10 - number)
        pulls.record_declared_pull(unit, cast.instructor.actor, pull, at)
    return f"/kit/items/{cast.items['Rope 1']}"


def test_the_entries_stand_line_by_line_and_add_up_to_the_count(
    storekeeper: Visitor, rope: str
) -> None:
    storekeeper.open(rope)
    lines = re.findall(r"\+(\d+), makes (\d+)<", storekeeper.html)

    # Common practice, no source: light counts 1, heavy 3; the newest line comes first.
    assert lines == [("1", "9"), ("3", "8"), ("1", "5"), ("3", "4"), ("1", "1")]
    assert "use count 9 of 30" in storekeeper.html


def test_what_is_left_is_told_in_pulls(storekeeper: Visitor, rope: str) -> None:
    # 30 less 9 leaves 21 light ones, or 7 heavy ones at 3 each.
    assert "retire by use after 21 more light or 7 more heavy pulls" in storekeeper.open(rope).html


def test_the_rule_says_where_it_comes_from_and_that_inspection_overrides_it(
    storekeeper: Visitor, rope: str
) -> None:
    storekeeper.open(rope)

    assert "Source: common practice, no source." in storekeeper.html
    assert "No published source gives a retirement count for vehicle snatches." in storekeeper.html
    assert "Inspection always overrides a count." in storekeeper.html


def test_the_life_is_drawn_and_told_in_words(storekeeper: Visitor, rope: str) -> None:
    storekeeper.open(rope)
    told = re.search(r'<img class="chart" src="([^"]+)" alt="([^"]+)"', storekeeper.html)
    assert told is not None

    assert told[2] == "Use of Rope 1: 5 pulls, 1 inspections, use count 9; retires at 30."
    chart = storekeeper.open(told[1])
    assert chart.response.mimetype == "image/svg+xml"
    assert "style=" not in chart.html


def test_an_item_without_a_use_count_has_a_chart_of_its_loads(
    storekeeper: Visitor, cast: Cast
) -> None:
    storekeeper.open(f"/kit/items/{cast.items['Bow 1']}")

    assert 'alt="Use of Bow 1: 0 pulls, 1 inspections."' in storekeeper.html
    assert "no use count: inspection and age decide" in storekeeper.html


def test_an_entry_that_was_wrong_is_reversed_and_both_stay_to_be_seen(
    storekeeper: Visitor, rope: str
) -> None:
    storekeeper.open(rope)
    newest = re.findall(rf'href="({rope}/entries/\d+/correct)"', storekeeper.html)[0]
    storekeeper.open(newest).send(reason="the strap was used, not this rope")

    assert "use count 8 of 30" in storekeeper.html
    assert "(reversed)" in storekeeper.html
    assert "the strap was used, not this rope" in storekeeper.html


def test_what_a_pull_brought_is_reversed_with_the_pull_alone(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    bow = f"/kit/items/{cast.items['Bow 1']}"
    pull = DeclaredPull(
        cast.class_id, cast.items["Bow 1"], "winch", "light", "parted", "pull-parted"
    )
    pulls.record_declared_pull(unit, cast.instructor.actor, pull, now)
    ledger = storekeeper.open(bow).html.partition('id="ledger"')[2]
    # The examination and the pull have a way to reverse them; the quarantine has none.
    ways = re.findall(rf'href="({bow}/entries/\d+/correct)"', ledger)
    assert len(ways) == 2
    storekeeper.open(ways[0]).send(reason="another bow was used")

    assert storekeeper.heading == "Bow 1: may go out"


def test_a_correction_needs_a_reason(storekeeper: Visitor, rope: str) -> None:
    storekeeper.open(rope)
    newest = re.findall(rf'href="({rope}/entries/\d+/correct)"', storekeeper.html)[0]
    storekeeper.open(newest).send(reason=" ")

    assert storekeeper.status == 422
    assert "use count 9 of 30" in storekeeper.open(rope).html


def test_an_entry_of_another_item_is_not_found_here(
    storekeeper: Visitor, cast: Cast, rope: str
) -> None:
    other = f"/kit/items/{cast.items['Bow 1']}"
    storekeeper.open(rope)
    entry = re.findall(r"/entries/(\d+)/correct", storekeeper.html)[0]

    assert storekeeper.open(f"{other}/entries/{entry}/correct").status == 404
