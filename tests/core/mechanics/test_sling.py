"""Hitches of a sling."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from scipy.optimize import brentq
from scipy.spatial import ConvexHull

from coursekit.mechanics.ranges import OutOfRange, UnknownChoice
from coursekit.mechanics.sling import (
    basket_angle,
    basket_length,
    choke_share,
    hitch_factor,
    leg_load,
)
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


def shortest_loop(radius: float, apex: float) -> float:
    """Return the length of a rope pulled tight round a circle and a point outside it."""
    around = np.linspace(0.0, 2 * math.pi, 20_001)[:-1]
    circle = radius * np.column_stack([np.cos(around), np.sin(around)])
    hull = ConvexHull(np.vstack([circle, [apex, 0.0]]))
    # In two dimensions scipy calls the perimeter the area.
    return float(hull.area)


@independent("the perimeter of the convex hull of a circle and the point where the ends meet")
@pytest.mark.parametrize("degrees", [2, 10, 29, 60, 90, 119, 150])
def test_a_basket_is_as_long_as_a_rope_pulled_tight_round_trunk_and_shackle(degrees: int) -> None:
    radius, included = 0.2, math.radians(degrees)
    tight = shortest_loop(radius, radius / math.sin(included / 2))

    assert basket_length(2 * math.pi * radius, included) == pytest.approx(tight, rel=1e-6)
    assert basket_angle(tight, 2 * math.pi * radius) == pytest.approx(included, rel=1e-3)


@independent("scipy's root finder on the same length")
@given(length=numbers(1.0, 20.0), girth=numbers(0.3, 10.0))
def test_the_angle_is_the_one_root_of_the_length(length: float, girth: float) -> None:
    assume(length >= girth * (1 + 1e-6))
    radii = 2 * math.pi * length / girth
    half = brentq(
        lambda a: math.pi + 2 * a + 2 / math.tan(a) - radii, 1e-3, math.pi / 2, xtol=1e-15
    )

    # Where the sling hardly goes round, the length hardly depends on the angle.
    assert basket_angle(length, girth) == pytest.approx(2 * half, abs=1e-5)


@given(girth=numbers(0.3, 10.0), degrees=numbers(1.0, 175.0))
def test_the_length_of_an_angle_gives_the_angle_again(girth: float, degrees: float) -> None:
    included = math.radians(degrees)

    assert basket_angle(basket_length(girth, included), girth) == pytest.approx(included, rel=1e-6)


@given(length=numbers(1.0, 20.0), longer=numbers(1.0, 20.0), girth=numbers(0.3, 10.0))
def test_a_longer_sling_never_opens_wider(length: float, longer: float, girth: float) -> None:
    short, long = sorted((length, longer))
    angle = basket_angle(short, girth)

    assert angle is None or (basket_angle(long, girth) or math.inf) <= angle


@given(girth=numbers(0.3, 10.0))
def test_a_sling_shorter_than_the_girth_does_not_meet(girth: float) -> None:
    assert basket_angle(girth * 0.999999, girth) is None
    assert basket_angle(girth * 1.000001, girth) is not None


@given(choke=numbers(0.0, math.pi), other=numbers(0.0, math.pi))
def test_a_tighter_choke_never_carries_more_and_never_more_than_the_rating(
    choke: float, other: float
) -> None:
    shares = [choke_share(angle) for angle in sorted((choke, other))]

    assert shares == sorted(shares)
    assert 0.49 <= shares[0] <= shares[1] <= 1.0


@pytest.mark.parametrize(("gap", "share"), [(29.5, 0.49), (59.5, 0.62), (89.99, 0.74)])
def test_between_two_printed_bands_the_lower_share_counts(gap: float, share: float) -> None:
    assert choke_share(math.radians(gap)) == share


@independent("the tension of two legs from their equilibrium, solved with numpy")
@given(degrees=numbers(1.0, 165.0), load=numbers(0.0, 1e5))
def test_two_legs_together_carry_the_load(degrees: float, load: float) -> None:
    half = math.radians(degrees) / 2
    legs = np.array([[math.sin(half), -math.sin(half)], [math.cos(half), math.cos(half)]])

    each = np.linalg.solve(legs, [0.0, load])
    assert [leg_load(load, 2 * half)] * 2 == pytest.approx(list(each), rel=1e-9, abs=1e-9)


@given(degrees=numbers(0.0, 120.0), load=numbers(0.0, 1e5))
def test_a_leg_carries_from_half_the_load_to_all_of_it(degrees: float, load: float) -> None:
    assert 0.5 * load <= leg_load(load, math.radians(degrees)) <= load * (1 + 1e-9)
