"""When a vehicle that serves as an anchor drags."""

import math

import numpy as np
import pytest
from hypothesis import assume, given

from coursekit.mechanics.anchor import drags, grip_capacity, tyre_force
from coursekit.mechanics.ranges import OutOfRange
from coursekit.mechanics.resistance import weight
from tests.core.mechanics.parameters import numbers, some_force
from tests.reference.sources import independent

bearing = numbers(0.0, 2 * math.pi)
gentle = numbers(0.0, math.radians(30))
grip = numbers(0.1, 0.9)
pull = numbers(-1e5, 1e5)


@independent("balance of forces in space: the friction that is needed over the normal force")
@given(east=pull, north=pull, load=some_force, slope=gentle, downhill=bearing, grip=grip)
def test_a_vehicle_drags_where_the_friction_needed_is_more_than_there_is(
    east: float, north: float, load: float, slope: float, downhill: float, grip: float
) -> None:
    # Axes on the ground: one down the slope, one across it, one out of it.
    turned = np.array(
        [[math.sin(downhill), math.cos(downhill)], [math.cos(downhill), -math.sin(downhill)]]
    )
    along, across = turned @ [east, north]
    rig = np.array([along, across, 0.0])
    gravity = load * np.array([math.sin(slope), 0.0, -math.cos(slope)])
    needed = -(rig + gravity)
    ratio = float(np.hypot(needed[0], needed[1]) / needed[2])
    assume(abs(ratio - grip) > 1e-9)

    assert drags(east, north, load, slope, downhill, grip) is (ratio > grip)
    held = tyre_force(east, north, load, slope, downhill)
    assert held == pytest.approx(float(np.hypot(needed[0], needed[1])), abs=1e-6)


@independent("the normal force by a cross product in space, times the grip")
@given(load=some_force, slope=gentle, downhill=bearing, grip=grip)
def test_the_grip_is_its_share_of_what_presses_on_the_ground(
    load: float, slope: float, downhill: float, grip: float
) -> None:
    level = np.array([math.cos(downhill), -math.sin(downhill), 0.0])
    down = np.array([math.sin(downhill), math.cos(downhill), -math.tan(slope)])
    normal = np.cross(level, down)
    normal /= np.linalg.norm(normal)

    pressing = abs(float(normal @ [0.0, 0.0, -load]))
    assert grip_capacity(load, slope, grip) == pytest.approx(grip * pressing, rel=1e-9)


def test_three_tonnes_across_a_slope_of_15_degrees_hold_6_4_kilonewtons() -> None:
    vehicle = (weight(3000.0), math.radians(15), math.radians(180), 0.35)

    assert not drags(6_350.0, 0.0, *vehicle)
    assert drags(6_450.0, 0.0, *vehicle)


@given(load=some_force, slope=gentle, grip=grip)
def test_a_vehicle_left_alone_drags_where_the_slope_is_steeper_than_its_grip(
    load: float, slope: float, grip: float
) -> None:
    assume(abs(math.tan(slope) - grip) > 1e-9)

    assert drags(0.0, 0.0, load, slope, 0.0, grip) is (math.tan(slope) > grip)


@given(load=some_force, grip=grip, bearing=bearing)
def test_on_the_level_a_vehicle_holds_its_grip_in_every_direction(
    load: float, grip: float, bearing: float
) -> None:
    capacity = grip_capacity(load, 0.0, grip)
    east, north = math.sin(bearing), math.cos(bearing)

    assert not drags(0.999 * capacity * east, 0.999 * capacity * north, load, 0.0, 0.0, grip)
    assert drags(1.001 * capacity * east, 1.001 * capacity * north, load, 0.0, 0.0, grip)


def test_a_force_of_just_the_grip_still_holds() -> None:
    assert not drags(grip_capacity(1e4, 0.0, 0.5), 0.0, 1e4, 0.0, 0.0, 0.5)


def test_refuses_what_no_tyre_gives() -> None:
    with pytest.raises(OutOfRange, match="grip"):
        grip_capacity(1e4, 0.0, 1.6)
    with pytest.raises(OutOfRange, match="grip"):
        drags(0.0, 0.0, 1e4, 0.0, 0.0, -0.1)
    with pytest.raises(OutOfRange, match="force_east"):
        drags(math.nan, 0.0, 1e4, 0.0, 0.0, 0.3)
    with pytest.raises(OutOfRange, match="downhill_bearing"):
        drags(0.0, 0.0, 1e4, 0.0, 7.0, 0.3)
    with pytest.raises(OutOfRange, match="slope"):
        drags(0.0, 0.0, 1e4, 2.0, 0.0, 0.3)
