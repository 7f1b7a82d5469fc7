"""The tow, by the work that it does."""

import math

import numpy as np
import pytest
from hypothesis import given

from coursekit.mechanics.ranges import OutOfRange
from coursekit.mechanics.tow import tow_pull, towing_need
from tests.core.mechanics.parameters import force, numbers, some_force
from tests.reference.sources import independent


@independent("virtual work: the line shortens while the vehicle moves a millimetre along its way")
@given(resistance=some_force, degrees=numbers(-80.0, 80.0))
def test_the_line_does_the_work_that_the_resistance_takes(
    resistance: float, degrees: float
) -> None:
    beta, far, step = math.radians(degrees), 1e6, 1e-3
    hook = np.array([far * math.cos(beta), far * math.sin(beta)])
    before, after = (np.hypot(*(hook - [way, 0.0])) for way in (-step / 2, step / 2))

    work = tow_pull(resistance, beta) * float(before - after)
    assert work == pytest.approx(resistance * step, rel=1e-4)


@independent("balance of forces along a slope, summed with numpy from each force's vector")
@given(pull=force, load=some_force, slope=numbers(-0.5, 0.5), rolling=force)
def test_the_tyres_push_against_line_slope_and_ground(
    pull: float, load: float, slope: float, rolling: float
) -> None:
    ahead = np.array([math.cos(slope), math.sin(slope)])
    against = np.array([-pull, -pull]) * ahead + [0.0, -load] - rolling * ahead

    grade = load * math.sin(slope)
    needed = towing_need(pull, grade, rolling)
    assert needed == pytest.approx(-float(against @ ahead), abs=1e-9 * (pull + load + rolling))


@given(resistance=some_force, degrees=numbers(0.0, 89.0), more=numbers(0.0, 0.9))
def test_a_line_farther_off_never_pulls_with_less(
    resistance: float, degrees: float, more: float
) -> None:
    closer = tow_pull(resistance, math.radians(degrees))

    assert closer >= resistance
    assert tow_pull(resistance, math.radians(degrees + more)) >= closer
    assert tow_pull(resistance, -math.radians(degrees)) == closer


@pytest.mark.parametrize("bad", [math.nan, math.pi / 2, -math.pi / 2, math.pi])
def test_refuses_a_line_that_does_not_pull_along_the_way_out(bad: float) -> None:
    with pytest.raises(OutOfRange, match="off_line_angle"):
        tow_pull(1.0, bad)


def test_refuses_forces_that_push() -> None:
    with pytest.raises(OutOfRange, match="resistance"):
        tow_pull(-1.0, 0.0)
    with pytest.raises(OutOfRange, match="pull"):
        towing_need(-1.0, 0.0, 0.0)
    with pytest.raises(OutOfRange, match="own_rolling"):
        towing_need(1.0, 0.0, -1.0)
    with pytest.raises(OutOfRange, match="own_grade"):
        towing_need(1.0, math.inf, 0.0)
