"""The kinetic pull against its equations of motion, integrated step by step.

Derived here: no publication that prints a worked snatch of a vehicle was found.
"""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.mechanics.kinetic import (
    breaks_out,
    force_history,
    highest_speed,
    linear_stiffness,
    lowest_speed,
    peak_tension,
    stored_energy,
)
from tests.reference.integration import Pull, integrate
from tests.reference.sources import independent, printed

METHOD = "equations of motion integrated by scipy's solve_ivp, events located"
CLOSE = 1e-6
FIXED = 1e6
"""A resistance that none of these pulls overcomes, kN."""


def _pull(masses: tuple[float, float], speed: float, *kilonewtons: float) -> Pull:
    stiffness, resistance, drive = (1000 * value for value in kilonewtons)
    return Pull(*masses, speed, stiffness, resistance, drive)


# Masses kg, speed m/s; stiffness kN/m, resistance kN, drive kN; peak kN.
CASES = {
    "fixed end": (_pull((2500, 3000), 3, 50, FIXED, 0), 33.5410),
    "fixed end, driven": (_pull((2500, 3000), 3, 50, FIXED, 10), 45.0000),
    "free": (_pull((2500, 3000), 3, 50, 0, 0), 24.7717),
    "held by 20 kN": (_pull((2500, 3000), 3, 50, 20, 0), 31.7727),
    "held by 20 kN, driven": (_pull((2500, 3000), 3, 50, 20, 10), 39.9106),
    "held by 40 kN, stays stuck": (_pull((2500, 3000), 3, 50, 40, 0), 33.5410),
    "light pulls heavy": (_pull((1800, 4500), 2, 60, 15, 0), 20.4923),
    "heavy pulls light, driven": (_pull((3500, 2000), 4, 40, 30, 12), 51.5959),
    "heavy drags light on": (_pull((3000, 300), 1, 10, 3, 0), 4.1356),
    "driven from a standing start": (_pull((2500, 3000), 0, 50, 15, 10), 19.2259),
}
pulls = pytest.mark.parametrize("pull", [pull for pull, _ in CASES.values()], ids=CASES)


@independent(METHOD)
@pytest.mark.parametrize(("pull", "peak"), CASES.values(), ids=CASES)
def test_the_peak_is_that_of_the_integrated_motion(pull: Pull, peak: float) -> None:
    integrated = integrate(pull)

    assert peak_tension(*pull.inputs) == pytest.approx(integrated.peak, rel=CLOSE)
    assert peak_tension(*pull.inputs) / 1000 == printed(f"{peak:.4f}")


@independent(METHOD)
@pulls
def test_the_vehicle_breaks_out_where_the_integrated_one_moves(pull: Pull) -> None:
    assert breaks_out(*pull.inputs) is integrate(pull).has_moved


@independent(METHOD)
@pulls
def test_the_history_follows_the_integrated_motion(pull: Pull) -> None:
    times, tensions = force_history(*pull.inputs)
    integrated = integrate(pull)

    expected = integrated.tensions_at(times)
    assert tensions == pytest.approx(expected, abs=CLOSE * integrated.peak)
    assert float(times[-1]) == pytest.approx(integrated.end, rel=CLOSE)
    assert np.all(np.diff(times) > 0)


@independent(METHOD)
@settings(max_examples=30)
@given(
    masses=st.tuples(st.floats(800, 9000), st.floats(800, 9000)),
    speed=st.floats(0.5, 5),
    kilonewtons=st.tuples(st.floats(10, 200), st.floats(0, 80), st.floats(0, 15)),
)
def test_any_pull_peaks_as_the_integrated_motion_does(
    masses: tuple[float, float], speed: float, kilonewtons: tuple[float, float, float]
) -> None:
    pull = _pull(masses, speed, *kilonewtons)

    assert peak_tension(*pull.inputs) == pytest.approx(integrate(pull).peak, rel=CLOSE)


def test_the_cases_end_in_each_of_the_ways_a_pull_can_end() -> None:
    endings = {integrate(pull).story for pull, _ in CASES.values()}

    assert endings >= {
        ("slack",),
        ("breaks out", "slack"),
        ("breaks out", "trough"),
        ("breaks out", "stops", "slack"),
        ("breaks out", "stops", "trough"),
    }


@independent("the limit of a puller that nothing slows, T = R + v sqrt(k m2)")
def test_an_endlessly_heavy_puller_adds_the_resistance_to_the_free_peak() -> None:
    pull = _pull((1e12, 3000), 3, 50, 20, 0)

    assert peak_tension(*pull.inputs) / 1000 == printed("56.7423")


@independent(METHOD)
@pytest.mark.parametrize(("drive", "speed"), [(0.0, "3.577709"), (10_000.0, "2.529822")])
def test_the_lowest_speed_brings_the_integrated_tension_to_the_resistance(
    drive: float, speed: str
) -> None:
    lowest = lowest_speed(2500.0, 50_000.0, 40_000.0, drive)

    assert lowest == printed(speed)
    end_that_holds = Pull(2500.0, 3000.0, lowest, 50_000.0, 1000 * FIXED, drive)
    assert integrate(end_that_holds).peak == pytest.approx(40_000.0, rel=CLOSE)


@independent(METHOD)
@pytest.mark.parametrize(
    ("limit", "resistance", "drive", "speed"),
    [
        (40.0, 20.0, 0.0, "3.932768"),
        (40.0, 20.0, 10.0, "3.011091"),
        (15.0, 20.0, 0.0, "1.341641"),
        (60.0, 30.0, 5.0, "5.477226"),
    ],
)
def test_the_highest_speed_brings_the_integrated_peak_to_the_limit(
    limit: float, resistance: float, drive: float, speed: str
) -> None:
    forces = (50_000.0, resistance * 1000, drive * 1000)
    highest = highest_speed(limit * 1000, 2500.0, 3000.0, *forces)

    assert highest == printed(speed)
    assert highest is not None
    integrated = integrate(Pull(2500.0, 3000.0, highest, *forces))
    assert integrated.peak == pytest.approx(limit * 1000, rel=CLOSE)


@independent("conservation of energy: all that the moving vehicle had is in the rope")
def test_a_fixed_end_takes_up_the_energy_of_the_moving_vehicle() -> None:
    stiffness = linear_stiffness(60_000.0, 0.20, 9.0)
    peak = peak_tension(3000.0, 2500.0, 2.5, stiffness, FIXED * 1000, 0.0)

    assert stored_energy(peak, stiffness) == pytest.approx(9_375.0, rel=1e-12)
    assert peak / 1000 == printed("25.00")
    assert peak / stiffness == printed("0.750")


@independent("two free bodies: the energy that their common speed leaves is in the rope")
def test_a_free_vehicle_is_pulled_with_less() -> None:
    stiffness = linear_stiffness(60_000.0, 0.20, 9.0)
    peak = peak_tension(3000.0, 2500.0, 2.5, stiffness, 0.0, 0.0)

    common = 3000.0 * 2.5 / 5500.0
    assert stored_energy(peak, stiffness) == pytest.approx(9_375.0 - 0.5 * 5500.0 * common**2)
    assert peak / 1000 == printed("16.85")
