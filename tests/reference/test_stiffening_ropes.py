"""Ropes that stiffen, held to the integrated equations of motion and to quadrature.

Derived here: no publication that prints a worked snatch on such a rope was found.
"""

from collections.abc import Callable
from dataclasses import astuple, dataclass
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import brentq

from coursekit.mechanics.rope import (
    InSeries,
    Law,
    PowerLaw,
    Tabulated,
    power_law_energy,
    power_law_stretch,
    tabulated_energy,
    tabulated_stretch,
)
from coursekit.mechanics.stiff_snatch import StiffSnatch
from tests.reference.integration import CurvedPull, integrate
from tests.reference.sources import independent, printed

METHOD = "equations of motion integrated by scipy's solve_ivp, events located"
CLOSE = 1e-6
BY_TABLE = 1e-4
BREAKS, AT = 130_000.0, 0.30
LENGTH = 9.0
CURVE = ((0.05, 0.03), (0.10, 0.09), (0.15, 0.20), (0.20, 0.38), (0.25, 0.66), (0.30, 1.00))
FIXED = 1e9


@dataclass(frozen=True)
class Case:
    """A pull without its rope: masses in kg, speed in m/s, forces in N."""

    moving: float = 2500.0
    stuck: float = 3000.0
    speed: float = 3.0
    resistance: float = 20_000.0
    drive: float = 0.0

    def on(self, law: Law) -> StiffSnatch:
        """Return the pull by the balance of energy."""
        return StiffSnatch(self.moving, self.stuck, self.speed, law, self.resistance, self.drive)

    def integrated(self, curve: Callable[[Any], Any]) -> Any:
        """Return the pull by its equations of motion."""
        moving, stuck, speed, resistance, drive = astuple(self)
        return integrate(CurvedPull(moving, stuck, speed, 0.0, resistance, drive, curve))


def power(exponent: float) -> PowerLaw:
    return PowerLaw(BREAKS, AT, LENGTH, exponent)


def power_curve(exponent: float) -> Callable[[Any], Any]:
    """Return T = a e^n, a from the point that the law is given by."""
    a = BREAKS / (AT * LENGTH) ** exponent
    return lambda e: a * np.sign(e) * np.abs(e) ** exponent


def table(points: tuple[tuple[float, float], ...] = CURVE) -> Tabulated:
    strains, shares = zip(*points, strict=True)
    return Tabulated(tuple(BREAKS * share for share in shares), strains, LENGTH)


def table_curve(points: tuple[tuple[float, float], ...] = CURVE) -> Callable[[Any], Any]:
    """Return the tension between the points, and along the last part past them."""
    stretches = np.array([0.0, *(LENGTH * strain for strain, _ in points)])
    loads = np.array([0.0, *(BREAKS * share for _, share in points)])
    slopes = np.diff(loads) / np.diff(stretches)

    def tension(e: Any) -> Any:
        part = np.clip(np.searchsorted(stretches, e) - 1, 0, len(slopes) - 1)
        return loads[part] + slopes[part] * (e - stretches[part])

    return tension


HELD = Case(resistance=FIXED)
# Exponent and case; peak in kN.
PEAKS = [
    (1.5, HELD, "28.5900"),
    (2.0, HELD, "27.2848"),
    (3.0, HELD, "27.8530"),
    (1.5, Case(resistance=0.0), "19.8733"),
    (2.0, Case(resistance=0.0), "18.2149"),
    (3.0, Case(resistance=0.0), "17.6783"),
    (1.5, Case(), "27.6815"),
    (2.0, Case(), "26.5798"),
    (3.0, Case(), "27.0430"),
    (1.5, Case(drive=10_000.0), "40.2252"),
    (2.0, Case(drive=10_000.0), "43.0922"),
    (3.0, Case(drive=10_000.0), "50.6188"),
]


@independent(METHOD)
@pytest.mark.parametrize(("exponent", "case", "peak"), PEAKS)
def test_the_peak_on_a_stiffening_rope_is_that_of_the_integrated_motion(
    exponent: float, case: Case, peak: str
) -> None:
    found = case.on(power(exponent)).peak

    assert found == pytest.approx(case.integrated(power_curve(exponent)).peak, rel=CLOSE)
    assert found / 1000 == printed(peak)


cases = st.builds(
    Case,
    st.floats(800, 9000),
    st.floats(800, 9000),
    st.floats(0.5, 4),
    st.floats(0, 60_000),
    st.floats(0, 12_000),
)


@independent(METHOD)
@settings(max_examples=25)
@given(case=cases, exponent=st.floats(1.0, 4.0))
def test_any_pull_on_a_stiffening_rope_peaks_as_the_integrated_motion_does(
    case: Case, exponent: float
) -> None:
    integrated = case.integrated(power_curve(exponent))

    assert case.on(power(exponent)).peak == pytest.approx(integrated.peak, rel=CLOSE)
    assert case.on(power(exponent)).breaks_out is integrated.has_moved


@independent(METHOD)
@pytest.mark.parametrize(("case", "peak"), [(Case(), "23.699"), (HELD, "23.938")])
def test_the_peak_on_a_tabulated_rope_is_that_of_the_integrated_motion(
    case: Case, peak: str
) -> None:
    found = case.on(table()).peak

    assert found == pytest.approx(case.integrated(table_curve()).peak, rel=BY_TABLE)
    assert found / 1000 == printed(peak)


@st.composite
def curves(draw: st.DrawFn) -> tuple[tuple[float, float], ...]:
    """Draw three to six points, of strain and share of the strength, that rise from above 0."""
    number = draw(st.integers(3, 6))
    steps = [
        np.cumsum(draw(st.lists(st.floats(0.2, 1.0), min_size=number, max_size=number)))
        for _ in range(2)
    ]
    strains, shares = (AT * steps[0] / steps[0][-1], steps[1] / steps[1][-1])
    return tuple(zip(map(float, strains), map(float, shares), strict=True))


@independent(METHOD)
@settings(max_examples=25)
@given(case=cases, points=curves())
def test_any_pull_on_a_tabulated_rope_peaks_as_the_integrated_motion_does(
    case: Case, points: tuple[tuple[float, float], ...]
) -> None:
    integrated = case.integrated(table_curve(points))

    assert case.on(table(points)).peak == pytest.approx(integrated.peak, rel=BY_TABLE)


LAWS: list[tuple[Law, Callable[[Any], Any]]] = [
    (power(1.0), power_curve(1.0)),
    (power(2.0), power_curve(2.0)),
    (table(), table_curve()),
]
laws = pytest.mark.parametrize(("law", "curve"), LAWS, ids=["linear", "power", "table"])


@independent(METHOD)
@laws
@pytest.mark.parametrize("drive", [0.0, 5_000.0])
def test_the_lowest_speed_brings_the_integrated_tension_to_the_resistance(
    law: Law, curve: Callable[[Any], Any], drive: float
) -> None:
    lowest = Case(drive=drive).on(law).lowest_speed

    integrated = Case(speed=lowest, resistance=FIXED, drive=drive).integrated(curve)
    assert integrated.peak == pytest.approx(20_000.0, rel=BY_TABLE)


@independent(METHOD)
@laws
@pytest.mark.parametrize("limit", [15_000.0, 40_000.0])
def test_the_highest_speed_brings_the_integrated_peak_to_the_limit(
    law: Law, curve: Callable[[Any], Any], limit: float
) -> None:
    highest = Case().on(law).highest_speed(limit)

    assert highest is not None
    assert Case(speed=highest).integrated(curve).peak == pytest.approx(limit, rel=BY_TABLE)


ENDINGS = {
    "stays stuck": Case(resistance=FIXED),
    "stays stuck, driven": Case(resistance=FIXED, drive=10_000.0),
    "slack": Case(drive=10_000.0),
    "stops, slack": Case(2500.0, 3000.0, 3.0, 24_000.0),
    "driven from a standing start": Case(speed=0.0, resistance=15_000.0, drive=10_000.0),
    "heavy drags light on": Case(3000.0, 300.0, 1.0, 3000.0),
}


@independent(METHOD)
@laws
@pytest.mark.parametrize("case", ENDINGS.values(), ids=ENDINGS)
def test_the_history_on_a_curve_follows_the_integrated_motion(
    law: Law, curve: Callable[[Any], Any], case: Case
) -> None:
    times, tensions = case.on(law).history()
    integrated = case.integrated(curve)

    assert tensions == pytest.approx(integrated.tensions_at(times), abs=5e-3 * integrated.peak)
    assert float(np.max(tensions)) == pytest.approx(integrated.peak, rel=BY_TABLE)
    assert float(times[-1]) == pytest.approx(integrated.end, rel=5e-3)
    assert np.all(np.diff(times) > 0)


@independent("the power law turned round: T = a e^n, a from its point")
@given(tension=st.floats(1.0, 2e5), exponent=st.floats(1.0, 6.0))
def test_a_power_law_stretches_until_its_tension_is_there(tension: float, exponent: float) -> None:
    stretch = power_law_stretch(tension, BREAKS, AT, LENGTH, exponent)

    assert power_curve(exponent)(stretch) == pytest.approx(tension, rel=1e-9)


@independent("straight lines between points by numpy")
@given(tension=st.floats(1.0, BREAKS), points=curves())
def test_a_table_is_read_on_straight_lines(
    tension: float, points: tuple[tuple[float, float], ...]
) -> None:
    law = table(points)
    stretch = tabulated_stretch(tension, law.loads, law.strains, LENGTH)

    strain = np.interp(tension, [0.0, *law.loads], [0.0, *law.strains])
    assert stretch == pytest.approx(LENGTH * strain, rel=1e-12)


@independent("work on the rope, summed over its stretch by quadrature")
@given(tension=st.floats(10.0, 2e5), exponent=st.floats(1.0, 6.0))
def test_the_energy_of_a_power_law_is_the_work_done_on_it(tension: float, exponent: float) -> None:
    stretch = power_law_stretch(tension, BREAKS, AT, LENGTH, exponent)
    work, _ = quad(power_curve(exponent), 0.0, stretch)

    energy = power_law_energy(tension, BREAKS, AT, LENGTH, exponent)
    assert energy == pytest.approx(work, rel=1e-7)


@independent("work on the rope, summed over its stretch by quadrature")
@given(tension=st.floats(10.0, 2e5), points=curves())
def test_the_energy_of_a_table_is_the_work_done_on_it(
    tension: float, points: tuple[tuple[float, float], ...]
) -> None:
    law = table(points)
    stretch = tabulated_stretch(tension, law.loads, law.strains, LENGTH)
    kinks = [LENGTH * strain for strain in law.strains]
    work, _ = quad(table_curve(points), 0.0, stretch, points=kinks)

    energy = tabulated_energy(tension, law.loads, law.strains, LENGTH)
    assert energy == pytest.approx(work, rel=1e-6)


@independent("the joint of two ropes, where both pull alike, found by scipy's brentq")
@given(tension=st.floats(1_000.0, 1.2e5), exponent=st.floats(1.0, 4.0))
def test_two_ropes_in_a_row_share_the_stretch_so_that_both_pull_alike(
    tension: float, exponent: float
) -> None:
    stretch = InSeries((power(exponent), table())).stretch(tension)

    def unbalanced(of_first: float) -> float:
        return float(power_curve(exponent)(of_first) - table_curve()(stretch - of_first))

    of_first = brentq(unbalanced, 0.0, stretch, xtol=1e-13)
    assert power_curve(exponent)(of_first) == pytest.approx(tension, rel=1e-6)
