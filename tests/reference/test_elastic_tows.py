"""Textbook problems of one body that jerks another on an elastic rope."""

import math

import pytest

from coursekit.mechanics.kinetic import force_history, peak_tension
from tests.reference.sources import printed, source

KILOMETRES_PER_HOUR = 1000 / 3600


@source(
    "Dynamics textbook: tug of 19 Mg at 15 km/h, barge of 75 Mg at 10 km/h, rope of 600 kN/m, no "
    "drag; the greatest stretch is 0.221 m (problem restated in two works, answer from memory)"
)
def test_the_tow_rope_of_a_tug_stretches_221_millimetres() -> None:
    stiffness = 600e3
    closing = (15 - 10) * KILOMETRES_PER_HOUR
    peak = peak_tension(19e3, 75e3, closing, stiffness, 0.0, 0.0)

    assert peak / stiffness == printed("0.221")


@source(
    "STEP examination, Cambridge: a truck at constant speed u jerks a trailer of mass m on a rope "
    "of length l and modulus lambda; they collide pi sqrt(l m / lambda) + l/u after it comes taut"
)
def test_a_truck_at_constant_speed_slackens_the_rope_after_half_a_swing() -> None:
    trailer, length, modulus, speed = 1_000.0, 5.0, 20e3, 4.0
    truck = 1e12
    times, _ = force_history(truck, trailer, speed, modulus / length, 0.0, 0.0)

    # From slack to collision the trailer, at 2u, gains on the truck with u over the length l.
    collision = float(times[-1]) + length / speed
    printed_form = math.pi * math.sqrt(length * trailer / modulus) + length / speed
    assert collision == pytest.approx(printed_form, rel=1e-6)
