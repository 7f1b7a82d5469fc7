"""The impact force of climbing ropes is the fixed-end case of the kinetic pull."""

import math

import pytest

from coursekit.mechanics.kinetic import breaks_out, highest_speed, linear_stiffness, peak_tension
from tests.reference.sources import printed, source

EQUATION = (
    "Impact force equation of climbing ropes, F = mg + sqrt((mg)^2 + 2 m g f E A), second-hand"
)
STANDARD_FALL = "EN 892 standard fall: 80 kg, 4.6 m on 2.6 m of rope, 12 kN, second-hand"
GRAVITY = 9.81
CLIMBER = 80.0
ROPE = 2.6
FALL = 4.6
FIXED = 1e9
"""Resistance of an anchor that never moves, N."""


def _rigidity(impact: float) -> float:
    """Return EA of the rope that stops the standard fall with this force."""
    pull = CLIMBER * GRAVITY
    return impact * (impact - 2 * pull) / (2 * pull * FALL / ROPE)


def _impact(rigidity: float, fall_factor: float) -> float:
    stiffness = linear_stiffness(rigidity, 1.0, ROPE)
    speed = math.sqrt(2 * GRAVITY * fall_factor * ROPE)
    return peak_tension(CLIMBER, CLIMBER, speed, stiffness, FIXED, CLIMBER * GRAVITY)


@source(f"{STANDARD_FALL}; {EQUATION}")
def test_the_standard_fall_is_stopped_with_twelve_kilonewtons() -> None:
    rigidity = _rigidity(12_000.0)

    assert rigidity / 1000 == printed("45.07")
    assert _impact(rigidity, FALL / ROPE) / 1000 == printed("12.000")


@source(EQUATION)
@pytest.mark.parametrize("fall_factor", [0.0, 0.5, 1.0, 1.77])
def test_any_fall_is_stopped_with_the_force_of_the_equation(fall_factor: float) -> None:
    rigidity, pull = 45_070.0, CLIMBER * GRAVITY
    equation = pull + math.sqrt(pull**2 + 2 * pull * fall_factor * rigidity)

    assert _impact(rigidity, fall_factor) == pytest.approx(equation, rel=1e-12)


@source(f"{STANDARD_FALL}; {EQUATION}")
def test_the_speed_of_the_standard_fall_is_the_highest_for_its_force() -> None:
    stiffness = _rigidity(12_000.0) / ROPE
    inputs = (CLIMBER, CLIMBER, stiffness, FIXED, CLIMBER * GRAVITY)

    assert highest_speed(12_000.0, *inputs) == printed("9.5")


@source(f"{STANDARD_FALL}: the anchor holds")
def test_the_anchor_of_the_standard_fall_does_not_move() -> None:
    stiffness = _rigidity(12_000.0) / ROPE

    assert not breaks_out(CLIMBER, CLIMBER, 9.5, stiffness, FIXED, CLIMBER * GRAVITY)
