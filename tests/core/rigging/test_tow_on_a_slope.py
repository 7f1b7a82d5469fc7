"""A tow up, down and across a slope, and the fleet angle of a winch, from rig to number."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Ground
from coursekit.rigging.solver import Solution, solve
from tests.core.world import (
    BASKET,
    G,
    deg,
    recovery,
    rules,
    single_line,
    situation,
    stuck,
    tow,
    turn,
    winch,
    winch_line,
)
from tests.reference.sources import independent

ROLLING = 0.08
slopes = st.floats(0.0, 25.0)
bearings = st.floats(0.0, 360.0)
offs = st.floats(-25.0, 25.0)


def towed(
    slope: float, downhill: float, off: float = 0.0, mass: float = 2600.0, grip: float = 0.6
) -> Solution:
    """Return a tow toward the east, the line so many degrees off that way."""
    at = (4.0 * math.cos(deg(off)), 4.0 * math.sin(deg(off)))
    return solve(
        situation(
            stuck=stuck(mass=mass),
            recovery=recovery(at=at, held="braked", grip=grip),
            ground=Ground(None, ROLLING, deg(slope), deg(downhill)),
        ),
        tow(),
    )


def along(weight: float, slope: float, downhill: float, way: np.ndarray) -> float:
    """Return what a weight and its wheels hold against a way, from vectors in space."""
    fall = np.array([math.sin(deg(downhill)), math.cos(deg(downhill))])
    tilt = deg(slope)
    down = np.array([*(math.cos(tilt) * fall), -math.sin(tilt)])
    across = np.array([-fall[1], fall[0], 0.0])
    # The plan lies on the slope: its ways are made of the fall line and the contour.
    in_space = (way @ fall) * down + (way @ across[:2]) * across
    gravity = np.array([0.0, 0.0, -weight])
    normal = np.cross(across, down)
    pressed = abs(float(gravity @ normal))
    return -float(gravity @ in_space) + ROLLING * pressed


@independent("forces as vectors in space, on a plane laid through the fall line and its contour")
@given(slope=slopes, downhill=bearings, off=offs)
def test_a_tow_needs_what_vectors_in_space_say(slope: float, downhill: float, off: float) -> None:
    values = towed(slope, downhill, off).values
    held = along(2600.0 * G, slope, downhill, np.array([1.0, 0.0]))
    line = np.array([math.cos(deg(off)), math.sin(deg(off))])
    pull = max(0.0, held) / math.cos(deg(off))
    own = along(3000.0 * G, slope, downhill, line)

    assert values["tow.pull"] == pytest.approx(pull, rel=1e-9, abs=1e-6)
    assert values["tow.need"] == pytest.approx(pull + own, rel=1e-9, abs=1e-6)
    assert values["runaway"] == pytest.approx(max(0.0, -held), rel=1e-9, abs=1e-6)


@given(slope=slopes, downhill=bearings, off=st.floats(0.0, 25.0))
def test_a_tow_never_pulls_with_less_than_holds_and_is_the_same_to_either_side(
    slope: float, downhill: float, off: float
) -> None:
    one = towed(slope, downhill, off).values
    other = towed(slope, 180.0 - downhill, -off).values

    assert one["tow.pull"] >= one["resistance.total"] * (1 - 1e-12)
    assert one["tow.design"] == pytest.approx(2.0 * one["tow.pull"])
    # The mirror of a bearing in the east-west line.
    assert other["tow.need"] == pytest.approx(one["tow.need"], rel=1e-9, abs=1e-6)


@given(slope=slopes, more=st.floats(0.0, 5.0), mass=st.floats(900.0, 6000.0))
def test_a_steeper_way_up_and_a_heavier_vehicle_never_pull_with_less(
    slope: float, more: float, mass: float
) -> None:
    pull = towed(slope, 270.0, mass=mass).values["tow.pull"]

    assert towed(slope + more, 270.0, mass=mass).values["tow.pull"] >= pull * (1 - 1e-12)
    assert towed(slope, 270.0, mass=mass * 1.1).values["tow.pull"] >= pull


def test_down_a_slope_the_tyres_must_hold_their_own_vehicle_back() -> None:
    """On 15 deg: sin 15 - 0.08 cos 15 is 0.182 of the weight, 0.2 cos 15 is 0.193."""
    holds, slides = towed(15.0, 90.0, grip=0.20), towed(15.0, 90.0, grip=0.18)

    assert holds.values["tow.need"] < 0.0
    assert "vehicle-drags" not in rules(holds.findings)
    assert "vehicle-drags" in rules(slides.findings)


def test_the_fleet_angle_is_shown_and_never_judged() -> None:
    wide = situation(recovery=recovery(winch=winch(drum_width=2.0)))
    turned = Rig("winch", (winch_line(turn("oak", "block-1", BASKET, "soft-1")),))
    plain = solve(wide, single_line())

    assert plain.values["fleet_angle"] == pytest.approx(math.atan(1.0 / 20.0))
    # To the oak it is ten metres.
    assert solve(wide, turned).values["fleet_angle"] == pytest.approx(math.atan(1.0 / 10.0))
    assert rules(plain.findings) == rules(solve(situation(), single_line()).findings)
    [slip] = plain.chain.step("fleet_angle").slips
    assert slip.rule(plain.values) == pytest.approx(math.atan(2.0 / 20.0))


def test_without_a_width_there_is_no_fleet_angle() -> None:
    assert "fleet_angle" not in solve(situation(), single_line()).values
