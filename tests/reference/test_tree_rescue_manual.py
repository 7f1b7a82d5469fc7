"""A vehicle as an anchor on wet grass."""

import math

import pytest

from coursekit.mechanics.anchor import drags, grip_capacity, tyre_force
from coursekit.mechanics.resistance import weight
from tests.reference.sources import radians, source

MANUAL = "Arboriculture Australia, Tree Rescue Manual, 2022, p. 214"
WET_GRASS = 0.35


@source(f'{MANUAL}; "about 10 kN", so half a kilonewton is allowed')
def test_three_tonnes_on_wet_grass_hold_about_ten_kilonewtons() -> None:
    assert grip_capacity(weight(3_000.0), 0.0, WET_GRASS) == pytest.approx(10_000, abs=500)


@source(f'{MANUAL}; "about 10 kN", so half a kilonewton is allowed')
@pytest.mark.parametrize("bearing", [0, 45, 90, 180, 270])
def test_three_tonnes_on_wet_grass_are_dragged_at_about_ten_kilonewtons(bearing: int) -> None:
    east, north = math.sin(radians(bearing)), math.cos(radians(bearing))
    vehicle = (weight(3_000.0), 0.0, 0.0, WET_GRASS)

    assert tyre_force(9_500 * east, 9_500 * north, *vehicle[:3]) == pytest.approx(9_500)
    assert not drags(9_500 * east, 9_500 * north, *vehicle)
    assert drags(10_500 * east, 10_500 * north, *vehicle)
