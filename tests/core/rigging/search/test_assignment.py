"""Gear for slots, held against scipy's assignment solver and a count of all permutations."""

import itertools
import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from coursekit.rigging.search.assignment import first_choice, smallest_worst_use, ways

ITEMS = ("a", "b", "c", "d", "e")
SLOTS = st.lists(
    st.dictionaries(st.sampled_from(ITEMS), st.floats(0.0, 1.0), max_size=len(ITEMS)), max_size=4
)
ALLOWED = st.lists(st.frozensets(st.sampled_from(ITEMS)), max_size=4)
AT_HAND = st.fixed_dictionaries({item: st.integers(0, 2) for item in ITEMS})


def _fits_all(slots: list[dict[str, float]], level: float) -> bool:
    """Whether scipy fills every slot with uses up to a level."""
    costs = np.ones((len(slots), len(ITEMS)))
    for row, slot in enumerate(slots):
        for item, use in slot.items():
            costs[row, ITEMS.index(item)] = float(use > level)
    rows, columns = linear_sum_assignment(costs)
    return len(rows) == len(slots) and not costs[rows, columns].any()


@pytest.mark.independent("scipy.optimize.linear_sum_assignment, level by level")
@given(SLOTS)
def test_the_smallest_worst_use_is_the_first_level_at_which_scipy_fills_all(
    slots: list[dict[str, float]],
) -> None:
    levels = sorted({use for slot in slots for use in slot.values()})
    expected = next((level for level in [0.0, *levels] if _fits_all(slots, level)), None)

    assert smallest_worst_use(slots) == expected


@pytest.mark.independent("every permutation tried, the first in the order of preference taken")
@given(st.lists(st.permutations(ITEMS).flatmap(lambda p: st.integers(0, 5).map(lambda n: p[:n])),
                max_size=4))  # fmt: skip
def test_the_first_choice_is_the_first_way_of_all_in_order(slots: list[list[str]]) -> None:
    every = itertools.product(*slots)
    expected = next((way for way in every if len(set(way)) == len(way)), None)

    assert first_choice(slots) == expected


@pytest.mark.independent("every way counted one by one")
@given(ALLOWED, AT_HAND)
def test_ways_are_counted_as_if_each_were_tried(
    slots: list[frozenset[str]], at_hand: dict[str, int]
) -> None:
    single = [[(k, n) for k in slot for n in range(at_hand[k])] for slot in slots]
    counted = sum(len(set(way)) == len(way) for way in itertools.product(*single))

    assert ways(slots, at_hand) == counted


def test_many_alike_items_are_counted_without_trying_them() -> None:
    slots = [frozenset("ab"), frozenset("ab"), frozenset("bc"), frozenset("c")]

    assert ways([frozenset("a")] * 6, {"a": 200}) == math.perm(200, 6)
    assert ways(slots, {"a": 100, "b": 100, "c": 100}) > 10**7
