"""Hitches of a sling."""

import math

import numpy as np
import pytest
from hypothesis import given

from coursekit.mechanics.ranges import OutOfRange, UnknownChoice
from coursekit.mechanics.sling import hitch_factor
from tests.core.mechanics.parameters import numbers
from tests.reference.sources import independent

rated = numbers(0.0, 120.0)


@independent("the tension of two legs from their equilibrium, solved with numpy")
@given(degrees=numbers(1.0, 120.0))
def test_a_basket_loaded_to_its_factor_loads_each_leg_to_the_rating(degrees: float) -> None:
    half = math.radians(degrees) / 2
    factor = hitch_factor("basket", 2 * half) or math.nan
    legs = np.array([[math.sin(half), -math.sin(half)], [math.cos(half), math.cos(half)]])

    tensions = np.linalg.solve(legs, [0.0, factor])
    assert tensions == pytest.approx([1.0, 1.0], rel=1e-9)


@given(degrees=rated)
def test_the_steps_of_en1492_are_never_above_the_cosine(degrees: float) -> None:
    by_steps = hitch_factor("basket", math.radians(degrees), "en1492")
    by_cosine = hitch_factor("basket", math.radians(degrees))

    assert by_steps is not None
    assert by_cosine is not None
    assert by_steps <= by_cosine * (1 + 1e-9)


@given(degrees=rated, wider=rated)
@pytest.mark.parametrize("rule", ["b30.9", "en1492"])
def test_a_wider_basket_never_carries_more(rule: str, degrees: float, wider: float) -> None:
    narrow, wide = sorted((degrees, wider))
    carried = [hitch_factor("basket", math.radians(angle), rule) for angle in (narrow, wide)]

    assert carried == sorted((factor for factor in carried if factor is not None), reverse=True)


@pytest.mark.parametrize("rule", ["b30.9", "en1492"])
def test_the_angle_of_legs_means_nothing_to_a_single_one(rule: str) -> None:
    assert hitch_factor("straight", math.radians(150), rule) == 1.0
    assert hitch_factor("choker", math.radians(150), rule) == 0.8


@pytest.mark.parametrize("rule", ["b30.9", "en1492"])
def test_an_angle_that_only_rounding_put_past_a_bound_is_at_the_bound(rule: str) -> None:
    at_bound = hitch_factor("basket", math.radians(120), rule)
    past = math.nextafter(math.radians(120), 4.0)

    assert hitch_factor("basket", past, rule) == pytest.approx(at_bound)


def test_refuses_what_is_no_hitch() -> None:
    with pytest.raises(UnknownChoice, match=r"hitch: 'noose' is not known\. Give one of: straight"):
        hitch_factor("noose", 0.0)
    with pytest.raises(UnknownChoice, match="rule"):
        hitch_factor("basket", 0.0, "by feel")
    with pytest.raises(OutOfRange, match="included_angle"):
        hitch_factor("basket", math.nan)
    with pytest.raises(OutOfRange, match="included_angle"):
        hitch_factor("basket", -0.1)
