"""A rope's stiffness by its measured peaks, against peaks that another method made."""

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.mechanics.kinetic import peak_tension
from coursekit.rigging.chains.elastic import elastic_line
from coursekit.rigging.gear import Stretch
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import solve
from coursekit.wear.stiffness import LEAST, MOST, MeasuredSnatch, fit_stiffness
from tests.core.world import GEAR, KN, kinetic, near
from tests.reference.integration import CurvedPull, Pull, integrate
from tests.reference.sources import independent, source

INTEGRATED = "equations of motion integrated by scipy's solve_ivp, events located"
STATED = 50_000.0
# moving and stuck mass, closing speed, resistance, drive
PULLS = (
    (2500.0, 3000.0, 2.0, 20_000.0, 0.0),
    (2500.0, 3000.0, 3.0, 20_000.0, 10_000.0),
    (1800.0, 4500.0, 2.0, 15_000.0, 0.0),
    (2500.0, 3000.0, 1.5, 40_000.0, 0.0),
)


def solved(pull: tuple[float, ...], measured: float) -> MeasuredSnatch:
    moving, stuck, speed, resistance, drive = pull
    return MeasuredSnatch(
        measured,
        lambda factor: peak_tension(moving, stuck, speed, factor * STATED, resistance, drive),
    )


def integrated(pull: tuple[float, ...], factor: float) -> float:
    moving, stuck, speed, resistance, drive = pull
    return integrate(Pull(moving, stuck, speed, factor * STATED, resistance, drive)).peak


def squared(site: Situation, speed: float, a: float) -> MeasuredSnatch:
    """Return a pull whose rope has really T = a e^2, integrated."""
    rig = kinetic(speed=speed)
    values, line = solve(site, rig).values, elastic_line(site, rig.pull_line)
    assert line is not None
    motion = CurvedPull(
        values["recovery_mass"],
        values["mass"],
        speed,
        0.0,
        values["pull"],
        values["drive"],
        lambda stretch: a * np.sign(stretch) * np.abs(stretch) ** 2,
    )
    return MeasuredSnatch(
        integrate(motion).peak, lambda factor: line.with_factor("rope-k", factor).peak(values)
    )


@independent(INTEGRATED)
@pytest.mark.parametrize("factor", [0.6, 1.0, 1.35, 2.4])
def test_the_stiffness_of_integrated_peaks_is_found_again(factor: float) -> None:
    fit = fit_stiffness([solved(pull, integrated(pull, factor)) for pull in PULLS])

    assert fit is not None
    assert fit.factor == pytest.approx(factor, rel=1e-4)
    # Single pulls are read off a grid.
    assert fit.lowest == pytest.approx(factor, rel=2e-3)
    assert fit.highest == pytest.approx(factor, rel=2e-3)


@independent(INTEGRATED)
def test_the_stiffness_of_a_rope_that_stiffens_is_found_again() -> None:
    """T = f a e^2 with a = 130 kN / (2.7 m)^2, pulled by the rig of the tests' own site."""
    gear = {item.id: item for item in GEAR}
    gear["rope-k"] = replace(gear["rope-k"], stretch=Stretch(0.30, 1.0, stiffening=2.0))
    site, factor = near(gear=gear), 1.6
    pulls = [squared(site, speed, factor * 130 * KN / 2.7**2) for speed in (1.5, 2.5)]
    fit = fit_stiffness(pulls)

    assert fit is not None
    assert fit.factor == pytest.approx(factor, rel=1e-3)


@source("EN 892 standard fall: 80 kg, 4.6 m, rope 2.6 m; equation of the fall factor")
def test_the_rigidity_of_a_climbing_rope_follows_from_the_force_of_the_standard_fall() -> None:
    """EA = F (F - 2 m g) / (2 m g f), 45.07 kN for 12 kN; the anchor does not move."""
    weight, speed = 80.0 * 9.81, sqrt(2 * 9.81 * 4.6)

    def impact(factor: float) -> float:
        return peak_tension(80.0, 80.0, speed, factor * 40_000.0 / 2.6, 1e9, weight)

    fit = fit_stiffness([MeasuredSnatch(12_000.0, impact)])

    assert fit is not None
    assert fit.factor * 40.0 == pytest.approx(45.07, abs=0.005)


@settings(max_examples=40)
@given(
    st.floats(0.5, 2.0),
    st.lists(st.floats(-0.08, 0.08), min_size=len(PULLS), max_size=len(PULLS)),
)
def test_no_other_factor_comes_nearer(factor: float, errors: list[float]) -> None:
    pulls = []
    for pull, error in zip(PULLS, errors, strict=True):
        exact = solved(pull, 1.0).peak_of(factor)
        pulls.append(solved(pull, exact * (1.0 + error)))
    fit = fit_stiffness(pulls)
    assert fit is not None

    def squares(at: float) -> float:
        return sum((pull.peak_of(at) / pull.measured - 1.0) ** 2 for pull in pulls)

    assert fit.lowest <= fit.factor * 1.002
    assert fit.highest >= fit.factor / 1.002
    for other in np.geomspace(LEAST, MOST, 200):
        assert squares(fit.factor) <= squares(float(other)) + 1e-9


def test_a_pull_without_closing_speed_says_nothing_of_the_stiffness() -> None:
    """From rest the drive alone sets the peak, on any rope: 2 P while the vehicle stays."""
    assert fit_stiffness([solved((2500.0, 3000.0, 0.0, 40_000.0, 10_000.0), 20_000.0)]) is None
    assert fit_stiffness([]) is None


@pytest.mark.parametrize(("measured", "end"), [(500 * KN, MOST), (1 * KN, LEAST)])
def test_a_peak_that_no_stiffness_explains_ends_at_the_last_factor(
    measured: float, end: float
) -> None:
    fit = fit_stiffness([solved(PULLS[0], measured)])

    assert fit is not None
    assert fit.is_at_an_end
    assert fit.factor == pytest.approx(end)
