"""What holds the stuck vehicle, against plane vectors and in its limits."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.mechanics.ranges import OutOfRange
from coursekit.mechanics.resistance import (
    bogging_resistance,
    grade_resistance,
    grade_resistance_field_rule,
    rolling_resistance,
    rolling_resistance_field_rule,
    rolls_back,
    runaway_force,
    total_resistance,
    weight,
)
from tests.core.mechanics.parameters import PARAMETERS, mass, numbers, slope, some_force
from tests.reference.sources import independent

bearing = numbers(0.0, 2 * math.pi)
coefficient = numbers(0.0, 0.5)

VECTORS = "weight as a vector in space, resolved on the plane of the ground with numpy"


def _against_exit(load: float, slope: float, off_uphill: float) -> tuple[float, float]:
    """Return the weight's part against the way out, and that which presses on the ground."""
    gravity = np.array([0.0, 0.0, -load])
    uphill = np.array([math.cos(slope), 0.0, math.sin(slope)])
    across = np.array([0.0, 1.0, 0.0])
    normal = np.cross(uphill, across)
    way_out = math.cos(off_uphill) * uphill + math.sin(off_uphill) * across
    return float(-gravity @ way_out), float(-gravity @ normal)


@independent(VECTORS)
@given(load=some_force, slope=slope, off_uphill=bearing)
def test_grade_and_rolling_are_the_parts_of_a_vector(
    load: float, slope: float, off_uphill: float
) -> None:
    against, pressing = _against_exit(load, slope, off_uphill)

    close = pytest.approx(against, abs=1e-9 * load)
    assert grade_resistance(load, slope, off_uphill) == close
    assert rolling_resistance(load, 0.14, slope) == pytest.approx(0.14 * pressing, rel=1e-9)


@independent(VECTORS)
@given(load=some_force, slope=slope, off_uphill=bearing, c=coefficient)
def test_total_and_runaway_force_are_the_two_signs_of_one_balance(
    load: float, slope: float, off_uphill: float, c: float
) -> None:
    against, pressing = _against_exit(load, slope, off_uphill)
    grade = grade_resistance(load, slope, off_uphill)
    rolling = rolling_resistance(load, c, slope)

    balance = against + c * pressing
    apart = total_resistance(grade, rolling, 0.0) - runaway_force(grade, rolling)
    assert apart == pytest.approx(balance, abs=1e-9 * load)
    assert min(total_resistance(grade, rolling, 0.0), runaway_force(grade, rolling)) == 0.0


@independent(VECTORS)
@pytest.mark.parametrize("degrees", range(0, 50, 5))
@pytest.mark.parametrize("off_uphill", [0, 30, 60, 89, 120, 180])
@pytest.mark.parametrize("c", [0.013, 0.14, 0.3])
def test_a_vehicle_rolls_back_where_its_weight_along_the_exit_beats_the_ground(
    degrees: int, off_uphill: int, c: float
) -> None:
    slope, off = math.radians(degrees), math.radians(off_uphill)
    against, pressing = _against_exit(1.0, slope, off)

    assert rolls_back(slope, off, c) is (against > c * pressing)


@independent("Newton's second law on a falling mass: the change of momentum in one second")
@given(mass=mass)
def test_a_weight_is_the_momentum_that_a_fall_of_one_second_gains(mass: float) -> None:
    speeds = np.array([0.0, 9.80665])

    assert weight(mass) == pytest.approx(float(np.diff(mass * speeds)[0]), rel=1e-12)


@given(mass=mass, slope=slope, scale=numbers(0.1, 10.0))
def test_resistance_scales_with_the_mass(mass: float, slope: float, scale: float) -> None:
    def total(mass: float) -> float:
        load = weight(mass)
        return total_resistance(
            grade_resistance(load, slope, 0.0), rolling_resistance(load, 0.1, slope), 0.0
        )

    assert total(scale * mass) == pytest.approx(scale * total(mass), rel=1e-12)


@given(c=coefficient, share=numbers(0.0, 1.0), step=numbers(0.0, 0.1))
def test_resistance_never_falls_as_the_slope_grows_until_the_ground_lets_go(
    c: float, share: float, step: float
) -> None:
    steepest = math.atan2(1.0, c)
    flatter = share * steepest
    steeper = min(steepest, flatter + step)

    def total(slope: float) -> float:
        return grade_resistance(1e4, slope, 0.0) + rolling_resistance(1e4, c, slope)

    assert total(steeper) >= total(flatter) - 1e-8


@given(degrees=numbers(0.01, 45.0))
def test_degrees_over_sixty_stray_from_the_sine_by_what_the_docstring_says(
    degrees: float,
) -> None:
    slope = math.radians(degrees)
    ratio = grade_resistance_field_rule(1.0, slope, 0.0) / grade_resistance(1.0, slope, 0.0)

    assert 1 - 0.0451 <= ratio <= 1 + 0.061
    assert degrees >= 30 or ratio <= 1 + 1e-12
    assert degrees <= 30 or ratio >= 1 - 1e-12


def test_degrees_over_sixty_meet_the_sine_at_thirty_degrees() -> None:
    slope = math.radians(30)

    assert grade_resistance_field_rule(1e4, slope, 0.0) == pytest.approx(
        grade_resistance(1e4, slope, 0.0), rel=1e-12
    )


@given(load=some_force, c=coefficient, slope=slope)
def test_rolling_by_the_field_rule_is_never_lower(load: float, c: float, slope: float) -> None:
    assert rolling_resistance_field_rule(load, c) >= rolling_resistance(load, c, slope)


@given(grade=numbers(-1e5, 1e5), rolling=numbers(0.0, 1e5), factor=numbers(0.1, 3.0))
def test_a_bog_replaces_rolling_and_takes_nothing_off_for_a_downhill_exit(
    grade: float, rolling: float, factor: float
) -> None:
    bogging = bogging_resistance(2e4, factor)

    total = total_resistance(grade, rolling, bogging)
    assert total == total_resistance(grade, 0.0, bogging)
    assert total >= bogging
    assert total == bogging or grade > 0


@given(data=st.data())
def test_turning_the_exit_round_turns_the_grade_round(data: st.DataObject) -> None:
    load, slope, off = (
        data.draw(PARAMETERS[name]) for name in ("weight", "slope", "angle_between")
    )

    uphill = grade_resistance(load, slope, off)
    assert grade_resistance(load, slope, off - math.pi) == pytest.approx(-uphill, abs=1e-9 * load)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, -1.0, 0.0, 1e16])
def test_refuses_a_mass_that_no_vehicle_has(bad: float) -> None:
    with pytest.raises(OutOfRange, match="mass"):
        weight(bad)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -0.01, math.pi / 2 + 0.01])
def test_refuses_a_slope_below_the_level_or_past_the_vertical(bad: float) -> None:
    with pytest.raises(OutOfRange, match="slope"):
        grade_resistance(1e4, bad, 0.0)
    with pytest.raises(OutOfRange, match="slope"):
        rolling_resistance(1e4, 0.1, bad)
    with pytest.raises(OutOfRange, match="slope"):
        rolls_back(bad, 0.0, 0.1)


def test_refuses_what_a_field_rule_does_not_hold_for() -> None:
    with pytest.raises(OutOfRange, match="slope"):
        grade_resistance_field_rule(1e4, math.radians(46), 0.0)
    with pytest.raises(OutOfRange, match="factor"):
        bogging_resistance(1e4, 3.5)
    with pytest.raises(OutOfRange, match="coefficient"):
        rolling_resistance_field_rule(1e4, 1.5)
    with pytest.raises(OutOfRange, match="grade"):
        total_resistance(math.nan, 0.0, 0.0)
    with pytest.raises(OutOfRange, match="rolling"):
        runaway_force(0.0, -1.0)
