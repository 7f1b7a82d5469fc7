"""Whether an item has enough left for the pulls that a day plans."""

from itertools import cycle, islice, permutations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.wear.ledger import Size
from coursekit.wear.planning import (
    MOST_PULLS,
    Enough,
    PlannedPulls,
    enough,
    fewest_items,
    pulls_of_each,
    sharing,
    usual_pulls,
)

HEAVY = PlannedPulls(pulls=3, places=1, added=3.0, size=Size.HEAVY)
LIGHT = PlannedPulls(pulls=5, places=1, added=1.0, size=Size.LIGHT)
SIZES = {1.0: Size.LIGHT, 3.0: Size.HEAVY, 30.0: Size.OVERLOAD}
rigs = st.builds(
    lambda pulls, places, added: PlannedPulls(pulls, places, added, SIZES[added]),
    st.integers(0, 8),
    st.integers(1, 3),
    st.sampled_from(sorted(SIZES)),
)
days = st.lists(rigs, max_size=4)
lefts = st.lists(st.one_of(st.none(), st.integers(0, 40).map(float)), min_size=1, max_size=6)


def test_eight_planned_and_six_left_is_not_enough() -> None:
    found = enough([PlannedPulls(8, 1, 1.0, Size.LIGHT)], left=6.0)

    assert found == Enough(planned=8, heavy=0, covered=6, use=8.0, left=6.0, sharing=1)
    assert not found.is_enough


def test_just_as_much_left_as_planned_is_enough() -> None:
    assert enough([HEAVY, LIGHT], left=14.0).is_enough
    assert not enough([HEAVY, LIGHT], left=13.0).is_enough


def test_what_is_not_counted_is_enough_for_anything() -> None:
    found = enough([HEAVY, LIGHT], left=None)

    assert (found.planned, found.covered, found.heavy) == (8, 8, 3)


def test_nothing_planned_is_enough_even_for_what_is_spent() -> None:
    assert enough([], left=0.0) == Enough(0, 0, 0, 0.0, 0.0, 1)


@pytest.mark.parametrize(("items", "each"), [(1, 5), (2, 3), (3, 2), (5, 1), (9, 1)])
def test_a_share_is_rounded_up(items: int, each: int) -> None:
    assert pulls_of_each(LIGHT, items) == each


def test_items_that_only_fill_the_places_of_a_rig_share_nothing() -> None:
    two_places = PlannedPulls(pulls=5, places=2, added=1.0, size=Size.LIGHT)

    assert [pulls_of_each(two_places, items) for items in (1, 2, 3, 4)] == [5, 5, 5, 3]
    assert enough([two_places], 5.0, items=3).sharing == 1
    assert enough([two_places], 3.0, items=4).sharing == 4


@pytest.mark.independent("the pulls dealt out to the items of each place one after the other")
@given(planned=rigs, items=st.integers(1, 9))
def test_no_item_is_in_more_pulls_than_its_share(planned: PlannedPulls, items: int) -> None:
    # Item i belongs to place i modulo the number of places; what is left over rests.
    turns = max(1, items // planned.places)
    dealt = list(islice(cycle(range(turns)), planned.pulls))

    assert pulls_of_each(planned, items) == max((dealt.count(i) for i in range(turns)), default=0)


@pytest.mark.independent("every order in which the pulls of a small day can be made")
@given(heavy=st.integers(0, 2), light=st.integers(0, 3), left=st.integers(0, 12).map(float))
def test_what_is_covered_holds_in_whatever_order_they_are_made(
    heavy: int, light: int, left: float
) -> None:
    def until_spent(order: tuple[float, ...]) -> int:
        return next((n for n in range(len(order)) if sum(order[: n + 1]) > left), len(order))

    day = [PlannedPulls(heavy, 1, 3.0, Size.HEAVY), PlannedPulls(light, 1, 1.0, Size.LIGHT)]
    worst = min(until_spent(order) for order in permutations([3.0] * heavy + [1.0] * light))

    assert enough(day, left).covered == worst


@pytest.mark.independent("all numbers of items that might take turns, tried one by one")
@given(planned=days, left=lefts)
def test_as_many_take_turns_as_can_do_one(planned: list[PlannedPulls], left: list[float]) -> None:
    def hold(items: int) -> bool:
        return sum(enough(planned, one, items).is_enough for one in left) >= items

    assert sharing(planned, left) == max((n for n in range(2, len(left) + 1) if hold(n)), default=1)


@given(planned=days, left=lefts)
def test_the_fewest_items_that_do_can_each_do_their_turn(
    planned: list[PlannedPulls], left: list[float]
) -> None:
    found = fewest_items(planned, left)

    if found is not None:
        assert sum(enough(planned, one, found).is_enough for one in left) >= found


def test_nobody_takes_turns_where_each_place_finds_one_that_does_it_all() -> None:
    one, two = (PlannedPulls(4, places, 1.0, Size.LIGHT) for places in (1, 2))

    assert fewest_items([one, two], [30.0, 30.0, 30.0]) == 1
    assert fewest_items([one, two], [8.0, 7.0, 7.0]) == 2
    assert fewest_items([one, two], [5.0, 5.0, 5.0]) is None


@given(planned=days, left=st.integers(0, 40).map(float), items=st.integers(1, 6))
def test_more_to_take_turns_never_ask_more_of_one(
    planned: list[PlannedPulls], left: float, items: int
) -> None:
    few, more = enough(planned, left, items), enough(planned, left, items + 1)

    assert more.use <= few.use
    assert more.is_enough or not few.is_enough


def test_the_usual_day_shows_a_rig_once_and_lets_each_group_of_four_pull() -> None:
    # Common practice, no source.
    assert [usual_pulls(students) for students in (0, 1, 4, 5, 8, 9)] == [2, 2, 2, 3, 3, 4]
    assert usual_pulls(1_000) == MOST_PULLS
