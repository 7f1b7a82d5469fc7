"""What will be due: when items retire, what to buy, and what the pulls of a class cost."""

import re
from datetime import date, datetime, timedelta

import pytest

from coursekit.services import forecasting, kit, pulls, register
from coursekit.services.kit import Correction
from coursekit.services.pulls import DeclaredPull
from coursekit.services.register import NewItem
from coursekit.store.unit import Unit
from tests.cast import TODAY, Cast
from tests.web.visitor import Visitor


@pytest.fixture
def rope(unit: Unit, cast: Cast, now: datetime) -> int:
    """A rope that cost 150.00, pulled heavily three times in the week since it came."""
    storekeeper = cast.storekeeper.actor
    type_id = kit.item_life(unit, storekeeper, cast.items["Rope 1"], TODAY).item.type.id
    new = NewItem(type_id, "Rope 2", made=date(2026, 1, 15), cost="150.00")
    week_ago = now - timedelta(days=7)
    item_id = register.register_item(unit, storekeeper, new, week_ago)
    for number in range(3):
        pull = DeclaredPull(
            cast.class_id, item_id, "kinetic", "heavy", "came-free", f"pull-{number}-of-3"
        )
        at = now - timedelta(days=number)
        pulls.record_declared_pull(unit, cast.instructor.actor, pull, at)
    return item_id


def test_an_item_tells_when_it_will_retire_and_how_sure_that_is(
    storekeeper: Visitor, rope: int
) -> None:
    storekeeper.open(f"/kit/items/{rope}")

    # 9 of 30 in three pulls leaves 7; scipy's betaprime(7, 3.5) over 7 days gives
    # 5.06, 14.71 and 49.41 days.
    assert "at 13 pulls a month it retires about Jun 27, 2026" in storekeeper.html
    assert "(9 in 10: Jun 18, 2026 to Aug 1, 2026)" in storekeeper.html


def test_an_item_that_was_never_pulled_has_no_forecast_by_use(
    storekeeper: Visitor, cast: Cast
) -> None:
    storekeeper.open(f"/kit/items/{cast.items['Rope 1']}")

    assert "pulls a month" not in storekeeper.html


def test_numbers_of_a_kind_open_into_the_items_that_make_them(
    storekeeper: Visitor, rope: int
) -> None:
    storekeeper.open("/kit/ahead")
    assert 'href="/kit?kind=kinetic-rope&amp;stands=kept">2</a>' in storekeeper.html
    assert 'href="/kit/ahead?kind=kinetic-rope#items">1.0</a>' in storekeeper.html

    storekeeper.open("/kit/ahead?kind=kinetic-rope")
    # Its chance is 0.99989 (scipy); the other rope was never pulled and is not old yet.
    assert (
        "kinetic rope: the chances of each item to retire in the year ahead add up to 1.0."
        in storekeeper.html
    )
    assert f'href="/kit/items/{rope}?made_by=use#ledger"' in storekeeper.html
    assert "Soft 1" not in storekeeper.html


def test_the_page_tells_what_to_buy(storekeeper: Visitor, rope: int) -> None:
    storekeeper.open("/kit/ahead")

    assert storekeeper.heading == "1 item will retire in the year ahead"
    assert re.search(r"kinetic rope</th>\s*<td[^>]*><a [^>]*>2</a></td>", storekeeper.html)
    # It retires in the year with a chance of 0.99989 (scipy), and cost 150.00.
    assert ">149.98<" in storekeeper.html


def test_the_page_tells_what_the_pulls_of_a_class_used_up(storekeeper: Visitor, rope: int) -> None:
    storekeeper.open("/kit/ahead")

    # Three heavy pulls at 3 of 30 use up 30 % of 150.00.
    assert re.search(r"Saturday group.*?45\.00</td>", storekeeper.html, re.DOTALL)


def test_a_reversed_pull_costs_nothing_and_tells_no_rate(
    unit: Unit, cast: Cast, now: datetime, rope: int
) -> None:
    actor = cast.storekeeper.actor
    wrong = kit.item_life(unit, actor, rope, TODAY).lines[-1].entry_id
    kit.correct(unit, actor, Correction(wrong, "another rope", "correct-1"), now)
    store = forecasting.ahead(unit, actor, TODAY)

    assert store.classes[0].cents == pytest.approx(3_000)
    assert {one.item.mark: one.rate.pulls for one in store.items}["Rope 2"] == 2


def test_the_years_are_drawn_and_told_in_words(storekeeper: Visitor, rope: int) -> None:
    storekeeper.open("/kit/ahead")
    told = re.search(r'<img class="chart" src="([^"]+)" alt="([^"]+)"', storekeeper.html)
    assert told is not None

    assert "kinetic rope 2026: 1" in told[2]
    assert storekeeper.open(told[1]).response.mimetype == "image/svg+xml"


@pytest.mark.parametrize("typed", ["12,345.00", "-3", "a lot", "1.999"])
def test_a_sum_that_is_none_is_told_beside_its_field(
    storekeeper: Visitor, cast: Cast, typed: str
) -> None:
    storekeeper.open("/kit/items/new").send(mark="Rope 3", cost=typed)

    assert storekeeper.status == 422
    assert "is no sum. Write for example 129.50." in storekeeper.errors[0]
