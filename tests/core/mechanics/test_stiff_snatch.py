"""Properties of the kinetic pull on a rope of any curve, and what such a rope refuses."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from coursekit.mechanics import kinetic
from coursekit.mechanics.ranges import OutOfRange
from coursekit.mechanics.rope import (
    InSeries,
    Law,
    PowerLaw,
    Tabulated,
    power_law_stretch,
    tabulated_energy,
    tabulated_stretch,
)
from coursekit.mechanics.stiff_snatch import StiffSnatch
from tests.core.mechanics.parameters import PARAMETERS, mass, numbers
from tests.reference.sources import independent

speed = numbers(0.1, 6.0)
resistance = numbers(0.0, 1e5)
drive = numbers(0.0, 3e4)
lengths = numbers(2.0, 20.0)
breaking = numbers(3e4, 3e5)
powers = st.builds(PowerLaw, breaking, numbers(0.05, 0.6), lengths, PARAMETERS["stiffening"])
tables = st.builds(
    Tabulated, PARAMETERS["loads"].map(tuple), PARAMETERS["strains"].map(tuple), lengths
)
laws = st.one_of(powers, tables, st.builds(lambda *parts: InSeries(parts), powers, tables))
snatches = st.builds(StiffSnatch, mass, mass, speed, laws, resistance, drive)
LOOSER = 1 + 1e-9


@independent("the closed forms of a linear rope")
@given(m1=mass, m2=mass, v=speed, k=numbers(5e3, 5e5), r=resistance, p=drive)
def test_a_straight_line_gives_what_the_closed_forms_give(
    m1: float, m2: float, v: float, k: float, r: float, p: float
) -> None:
    rope = StiffSnatch(m1, m2, v, PowerLaw(k, 1.0, 1.0), r, p)

    assert rope.peak == pytest.approx(kinetic.peak_tension(m1, m2, v, k, r, p), rel=1e-9)
    lowest = kinetic.lowest_speed(m1, k, r, p)
    assert rope.lowest_speed == pytest.approx(lowest, rel=1e-6, abs=1e-6)
    highest = kinetic.highest_speed(4e4, m1, m2, k, r, p)
    assert (rope.highest_speed(4e4) is None) is (highest is None)
    assert highest is None or rope.highest_speed(4e4) == pytest.approx(highest, rel=1e-6, abs=1e-6)


@given(snatch=snatches)
def test_a_pull_that_breaks_out_peaks_above_the_resistance_and_one_that_does_not_below(
    snatch: StiffSnatch,
) -> None:
    assert snatch.breaks_out is (snatch.peak > snatch.resistance)


@given(snatch=snatches, more=numbers(0.01, 3.0))
def test_a_faster_pull_never_peaks_lower(snatch: StiffSnatch, more: float) -> None:
    assert replace(snatch, speed=snatch.speed + more).peak >= snatch.peak / LOOSER


@given(snatch=snatches, more=numbers(10.0, 5000.0))
def test_a_heavier_vehicle_at_either_end_never_lowers_the_peak_of_a_coasting_pull(
    snatch: StiffSnatch, more: float
) -> None:
    coasting = replace(snatch, drive=0.0)

    for end in ("moving_mass", "stuck_mass"):
        heavier = replace(coasting, **{end: getattr(coasting, end) + more})
        assert heavier.peak >= coasting.peak / LOOSER


@given(snatch=snatches, more=resistance)
def test_more_resistance_never_lowers_the_peak_of_a_coasting_pull(
    snatch: StiffSnatch, more: float
) -> None:
    coasting = replace(snatch, drive=0.0)

    held = replace(coasting, resistance=coasting.resistance + more)
    assert held.peak >= coasting.peak / LOOSER


@given(snatch=snatches, law=powers, factor=numbers(1.0, 2.0))
def test_a_stiffer_rope_never_peaks_lower(
    snatch: StiffSnatch, law: PowerLaw, factor: float
) -> None:
    stiffer = replace(law, load_at_strain=factor * law.load_at_strain)

    peak = replace(snatch, law=law, drive=0.0).peak
    assert replace(snatch, law=stiffer, drive=0.0).peak >= peak / LOOSER


@given(snatch=snatches, strap=tables)
def test_a_strap_that_stretches_behind_the_rope_never_raises_the_peak(
    snatch: StiffSnatch, strap: Law
) -> None:
    coasting = replace(snatch, drive=0.0)

    longer = replace(coasting, law=InSeries((coasting.law, strap)))
    assert longer.peak <= coasting.peak * LOOSER


@given(snatch=snatches, limit=numbers(2e3, 2e5))
def test_the_highest_speed_brings_the_peak_to_the_limit(snatch: StiffSnatch, limit: float) -> None:
    highest = snatch.highest_speed(limit)

    if highest is None:
        assert replace(snatch, speed=0.0).peak >= limit / LOOSER
    else:
        # Next to breaking out the speed is the root of what is left of its square.
        assert replace(snatch, speed=highest).peak == pytest.approx(limit, rel=1e-4)


@given(snatch=snatches)
def test_the_vehicle_moves_above_the_lowest_speed_and_not_below(snatch: StiffSnatch) -> None:
    lowest = snatch.lowest_speed
    assume(lowest > 0.01)

    assert replace(snatch, speed=lowest * 1.0001).breaks_out
    assert not replace(snatch, speed=lowest * 0.9999).breaks_out


@given(snatch=snatches, mass_by=st.integers(-2, 2), length_by=st.integers(-2, 2))
def test_the_peak_scales_as_its_units_do(snatch: StiffSnatch, mass_by: int, length_by: int) -> None:
    kilogram, metre = 2.0**mass_by, 2.0**length_by
    newton = kilogram * metre
    law = PowerLaw(5e4, 0.3, 9.0, 2.0)
    plain = replace(snatch, law=law)
    scaled = StiffSnatch(
        kilogram * plain.moving_mass,
        kilogram * plain.stuck_mass,
        metre * plain.speed,
        PowerLaw(newton * 5e4, 0.3, metre * 9.0, 2.0),
        newton * plain.resistance,
        newton * plain.drive,
    )

    assert scaled.peak == pytest.approx(newton * plain.peak, rel=1e-12)
    assert scaled.lowest_speed == pytest.approx(metre * plain.lowest_speed, rel=1e-12)


@settings(max_examples=15)
@given(snatch=snatches)
def test_the_highest_of_a_history_is_the_peak(snatch: StiffSnatch) -> None:
    times, tensions = snatch.history()

    assert float(np.max(tensions)) == pytest.approx(snatch.peak, rel=1e-6)
    assert times[0] == tensions[0] == 0.0
    assert np.all(np.diff(times) >= 0.0)


def test_without_speed_and_drive_nothing_happens_on_a_curve() -> None:
    times, tensions = StiffSnatch(2500.0, 3000.0, 0.0, PowerLaw(5e4, 0.3, 9.0), 2e4, 0.0).history()

    assert list(times) == list(tensions) == [0.0]


RISING = ([1e4, 5e4], [0.05, 0.15])


@pytest.mark.parametrize(
    ("loads", "strains", "name"),
    [
        ([], [], "strains"),
        ([1e4], [0.05, 0.15], "strains"),
        ([0.0, 5e4], [0.05, 0.15], "loads"),
        ([5e4, 5e4], [0.05, 0.15], "loads"),
        ([1e4, 5e4], [0.15, 0.05], "strains"),
        ([1e4, 5e4], [0.05, 1.5], "strains"),
        ([1e4, math.nan], [0.05, 0.15], "loads"),
    ],
)
@pytest.mark.parametrize("formula", [tabulated_stretch, tabulated_energy])
def test_refuses_a_curve_that_does_not_rise(
    formula: object, loads: list[float], strains: list[float], name: str
) -> None:
    assert callable(formula)
    with pytest.raises(OutOfRange, match=name):
        formula(2e4, loads, strains, 9.0)


def test_refuses_a_stiffening_rope_that_cannot_be() -> None:
    with pytest.raises(OutOfRange, match="stiffening"):
        power_law_stretch(2e4, 6e4, 0.3, 9.0, 0.5)
    with pytest.raises(OutOfRange, match="strain"):
        power_law_stretch(2e4, 6e4, 0.0, 9.0, 2.0)
    with pytest.raises(OutOfRange, match="length"):
        tabulated_stretch(2e4, *RISING, 0.0)
    with pytest.raises(OutOfRange, match="limit"):
        StiffSnatch(2500.0, 3000.0, 3.0, PowerLaw(5e4, 0.3, 9.0), 2e4, 0.0).highest_speed(0.0)
    with pytest.raises(OutOfRange, match="moving_mass"):
        StiffSnatch(0.0, 3000.0, 3.0, PowerLaw(5e4, 0.3, 9.0), 2e4, 0.0)
