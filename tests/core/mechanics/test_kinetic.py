"""Properties of the kinetic pull that hold for every vehicle and rope."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from scipy.integrate import quad

from coursekit.mechanics.kinetic import (
    breaks_out,
    force_history,
    highest_speed,
    linear_stiffness,
    lowest_speed,
    peak_tension,
    series_stiffness,
    stored_energy,
)
from coursekit.mechanics.ranges import OutOfRange
from tests.core.mechanics.parameters import PARAMETERS, arguments_of, length, mass, numbers
from tests.reference.sources import independent

speed = numbers(0.1, 6.0)
stiffness = numbers(5e3, 5e5)
resistance = numbers(0.0, 2e5)
drive = numbers(0.0, 3e4)
HUGE = 1e14
LOOSER = 1 + 1e-9


@given(m1=mass, m2=mass, v=speed, k=stiffness, r=resistance)
def test_a_coasting_pull_peaks_between_the_free_and_the_fixed_end(
    m1: float, m2: float, v: float, k: float, r: float
) -> None:
    free = v * math.sqrt(k * m1 * m2 / (m1 + m2))
    fixed = v * math.sqrt(k * m1)
    carried = r + v * math.sqrt(k * m2)

    peak = peak_tension(m1, m2, v, k, r, 0.0)
    assert free / LOOSER <= peak <= min(fixed, carried) * LOOSER


@given(m1=mass, m2=mass, v=speed, k=stiffness, r=resistance, more=resistance)
def test_a_coasting_peak_never_falls_as_the_resistance_grows(
    m1: float, m2: float, v: float, k: float, r: float, more: float
) -> None:
    peak = peak_tension(m1, m2, v, k, r, 0.0)

    assert peak_tension(m1, m2, v, k, r + more, 0.0) >= peak / LOOSER


@given(m1=mass, m2=mass, v=speed, k=stiffness, p=drive)
def test_the_peak_is_the_same_on_both_sides_of_breaking_out(
    m1: float, m2: float, v: float, k: float, p: float
) -> None:
    fixed = peak_tension(m1, m2, v, k, HUGE, p)

    assert peak_tension(m1, m2, v, k, 2 * fixed, p) == fixed
    # Next to the edge the speed left is the root of what is left of its square.
    assert peak_tension(m1, m2, v, k, fixed * (1 - 1e-12), p) == pytest.approx(fixed, rel=1e-5)


@given(m1=mass, m2=mass, v=speed, k=stiffness, r=resistance)
def test_an_endlessly_heavy_stuck_vehicle_is_a_fixed_end(
    m1: float, m2: float, v: float, k: float, r: float
) -> None:
    heavy = peak_tension(m1, HUGE, v, k, r, 0.0)

    assert heavy == pytest.approx(peak_tension(m1, m2, v, k, HUGE, 0.0), rel=1e-6)


@given(m1=mass, m2=mass, v=speed, k=stiffness, r=resistance)
def test_an_endlessly_heavy_puller_adds_the_resistance_to_the_free_peak(
    m1: float, m2: float, v: float, k: float, r: float
) -> None:
    del m1
    endless = peak_tension(HUGE, m2, v, k, r, 0.0)

    assert endless == pytest.approx(r + v * math.sqrt(k * m2), rel=1e-4)


@given(m1=mass, m2=mass, v=speed, k=stiffness, factor=numbers(0.2, 5.0))
def test_a_free_peak_grows_with_the_speed_and_the_root_of_the_stiffness(
    m1: float, m2: float, v: float, k: float, factor: float
) -> None:
    peak = peak_tension(m1, m2, v, k, 0.0, 0.0)

    assert peak_tension(m1, m2, factor * v, k, 0.0, 0.0) == pytest.approx(factor * peak)
    assert peak_tension(m1, m2, v, factor**2 * k, 0.0, 0.0) == pytest.approx(factor * peak)


@given(m1=mass, m2=mass, v=speed, length=length)
def test_a_quarter_of_the_rope_doubles_a_free_peak(
    m1: float, m2: float, v: float, length: float
) -> None:
    long, short = (linear_stiffness(6e4, 0.2, part * length) for part in (1.0, 0.25))

    peak = peak_tension(m1, m2, v, long, 0.0, 0.0)
    assert peak_tension(m1, m2, v, short, 0.0, 0.0) == pytest.approx(2 * peak)


@given(m1=mass, m2=mass, k=stiffness, p=numbers(1.0, 3e4))
def test_a_force_put_on_at_once_peaks_at_twice_itself(
    m1: float, m2: float, k: float, p: float
) -> None:
    assert peak_tension(m1, m2, 0.0, k, HUGE, p) == pytest.approx(2 * p)
    assert lowest_speed(m1, k, 2 * p, p) == 0.0
    assert breaks_out(m1, m2, 0.0, k, 1.999 * p, p)


@given(limit=numbers(1e3, 5e5), m1=mass, m2=mass, k=stiffness, r=resistance, p=drive)
def test_the_highest_speed_and_the_peak_are_inverse(
    limit: float, m1: float, m2: float, k: float, r: float, p: float
) -> None:
    highest = highest_speed(limit, m1, m2, k, r, p)

    if highest is None:
        assert peak_tension(m1, m2, 0.0, k, r, p) > limit * (1 - 1e-9)
    else:
        assert peak_tension(m1, m2, highest, k, r, p) == pytest.approx(limit, rel=1e-6)


@given(m1=mass, m2=mass, v=speed, k=stiffness, r=resistance, p=drive)
def test_the_peak_and_the_highest_speed_are_inverse(
    m1: float, m2: float, v: float, k: float, r: float, p: float
) -> None:
    peak = peak_tension(m1, m2, v, k, r, p)

    back = highest_speed(peak, m1, m2, k, r, p)
    assert back is None or back == pytest.approx(v, rel=1e-5, abs=1e-4)
    assert back is not None or v < 1e-3 or p > 0


@given(m1=mass, m2=mass, k=stiffness, r=numbers(1e3, 2e5), p=drive)
def test_the_vehicle_moves_above_the_lowest_speed_and_not_below(
    m1: float, m2: float, k: float, r: float, p: float
) -> None:
    lowest = lowest_speed(m1, k, r, p)
    assume(lowest > 0.01)

    assert breaks_out(m1, m2, lowest * 1.0001, k, r, p)
    assert not breaks_out(m1, m2, lowest * 0.9999, k, r, p)


@given(arguments=arguments_of(force_history))
def test_the_highest_of_a_history_is_the_peak(arguments: dict[str, float]) -> None:
    times, tensions = force_history(**arguments)

    peak = peak_tension(**arguments)
    assert float(np.max(tensions)) == pytest.approx(peak, rel=1e-9, abs=1e-9)
    assert float(np.min(tensions)) >= -1e-9 * max(peak, 1.0)
    assert times[0] == tensions[0] == 0.0
    assert np.all(np.diff(times) > 0)


@given(arguments=arguments_of(force_history))
def test_a_history_climbs_to_its_peak_and_falls_from_it(arguments: dict[str, float]) -> None:
    _, tensions = force_history(**arguments)

    peak = int(np.argmax(tensions))
    dust = 1e-9 * float(tensions[peak])
    assert np.all(np.diff(tensions[: peak + 1]) >= -dust)
    assert np.all(np.diff(tensions[peak:]) <= dust)


def test_without_speed_and_drive_nothing_happens() -> None:
    times, tensions = force_history(2500.0, 3000.0, 0.0, 5e4, 2e4, 0.0)

    assert list(times) == list(tensions) == [0.0]


@independent("work on the rope, summed over its stretch by quadrature")
@given(tension=numbers(1.0, 2e5), k=stiffness)
def test_the_energy_is_the_work_done_on_the_rope(tension: float, k: float) -> None:
    work, _ = quad(lambda stretch: k * stretch, 0.0, tension / k)

    assert stored_energy(tension, k) == pytest.approx(work, rel=1e-9)


@independent("equilibrium of the joints of a chain of springs, solved with numpy")
@given(parts=PARAMETERS["stiffnesses"])
def test_parts_in_a_row_stretch_as_the_joints_of_a_chain_of_springs(parts: list[float]) -> None:
    joints = np.diag(parts) + np.diag([*parts[1:], 0.0])
    joints -= np.diag(parts[1:], 1) + np.diag(parts[1:], -1)
    pull = np.zeros(len(parts))
    pull[-1] = 1e4

    stretch = np.linalg.solve(joints, pull)[-1]
    assert series_stiffness(parts) == pytest.approx(1e4 / stretch, rel=1e-9)


@given(parts=PARAMETERS["stiffnesses"], another=stiffness)
def test_another_part_never_stiffens_the_line(parts: list[float], another: float) -> None:
    assert series_stiffness([*parts, another]) <= series_stiffness(parts)


@pytest.mark.parametrize("bad", [math.nan, math.inf, -1.0])
@pytest.mark.parametrize(
    "name", ["moving_mass", "stuck_mass", "speed", "stiffness", "resistance", "drive"]
)
@pytest.mark.parametrize("formula", [peak_tension, breaks_out, force_history])
def test_refuses_a_pull_that_cannot_be(formula: object, name: str, bad: float) -> None:
    inputs = {
        "moving_mass": 2500.0,
        "stuck_mass": 3000.0,
        "speed": 3.0,
        "stiffness": 5e4,
        "resistance": 2e4,
        "drive": 0.0,
    }

    assert callable(formula)
    with pytest.raises(OutOfRange, match=name):
        formula(**inputs | {name: bad})


def test_refuses_a_rope_that_cannot_be() -> None:
    with pytest.raises(OutOfRange, match="strain"):
        linear_stiffness(6e4, 0.0, 9.0)
    with pytest.raises(OutOfRange, match="strain"):
        linear_stiffness(6e4, 1.5, 9.0)
    with pytest.raises(OutOfRange, match="length"):
        linear_stiffness(6e4, 0.2, 0.0)
    with pytest.raises(OutOfRange, match="stiffnesses"):
        series_stiffness([])
    with pytest.raises(OutOfRange, match="stiffness"):
        series_stiffness([5e4, 0.0])
    with pytest.raises(OutOfRange, match="tension"):
        stored_energy(-1.0, 5e4)
    with pytest.raises(OutOfRange, match="limit"):
        highest_speed(0.0, 2500.0, 3000.0, 5e4, 2e4, 0.0)
    with pytest.raises(OutOfRange, match="moving_mass"):
        lowest_speed(0.0, 5e4, 2e4, 0.0)
