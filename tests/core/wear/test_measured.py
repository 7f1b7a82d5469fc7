"""A measured pull beside the solved one: loads scaled at the cell, and what it may have missed."""

from dataclasses import replace
from math import cos, sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.rigging.solver import Solution, solve
from coursekit.wear.measured import (
    CellProof,
    CellReading,
    NoLoadThere,
    TooSlow,
    as_driven,
    compare,
    places_for_cell,
)
from tests.core.world import KN, double_line, kinetic, near, situation

READING = CellReading("ab" * 32, 30 * KN, 1.2, 0.002, 900, 500.0, "kN")
WINCHED = solve(situation(), double_line())
SNATCHED = solve(near(), kinetic(speed=2.5))


@given(st.floats(0.1, 200.0))
def test_every_load_goes_with_the_measured_one(force: float) -> None:
    found = compare(WINCHED, replace(READING, peak=force * KN), "bow-1")
    at_cell, at_block = (WINCHED.values[f"item.{name}.load"] for name in ("bow-1", "block-1"))

    assert found.load(at_cell) == pytest.approx(force * KN)
    assert found.load(at_block) == pytest.approx(force * KN * at_block / at_cell)
    assert found.load(0.0) == 0.0
    assert found.load(None) is None


def test_a_kinetic_peak_is_held_against_the_solved_peak_without_its_allowance() -> None:
    peak = SNATCHED.values["kinetic.peak"]
    found = compare(SNATCHED, replace(READING, peak=peak, interval=1e-6), "rope-k")

    assert found.proof.solved == pytest.approx(peak)
    assert found.proof.ratio == pytest.approx(1.0)
    assert found.load(SNATCHED.values["item.rope-k.load"]) == pytest.approx(peak)


def test_what_two_samples_may_miss_is_put_on_the_measured_load() -> None:
    """The swing after break-out by hand: w^2 = k (1/m1 + 1/m2), missed 1 - cos(w dt/2).

    Around the peak only: the share is of the swing about its mean, not of the whole force.
    """
    values, interval = SNATCHED.values, 0.1
    moving, stuck = values["recovery_mass"], values["mass"]
    omega = sqrt(values["kinetic.stiffness"] * (1 / moving + 1 / stuck))
    mean = (values["drive"] * stuck + values["pull"] * moving) / (moving + stuck)
    amplitude = values["kinetic.peak"] - mean
    missed = amplitude * (1 - cos(omega * interval / 2)) / values["kinetic.peak"]
    found = compare(SNATCHED, replace(READING, interval=interval), "rope-k")

    # The curve is drawn of straight pieces, which lie below the swing: to the safe side.
    assert missed <= found.proof.missed <= 1.02 * missed
    assert found.proof.force == pytest.approx(30 * KN / (1 - missed), rel=1e-3)


def test_a_cell_that_may_miss_a_quarter_of_the_peak_proves_nothing() -> None:
    with pytest.raises(TooSlow):
        compare(SNATCHED, replace(READING, interval=0.5), "rope-k")


@pytest.mark.parametrize(("flat", "is_cut"), [(0.0, False), (0.01, False), (0.2, True)])
def test_a_cell_that_stands_still_at_its_peak_may_be_at_its_end(
    flat: float, *, is_cut: bool
) -> None:
    found = compare(SNATCHED, replace(READING, flat=flat), "rope-k")

    assert found.proof.is_cut == is_cut


@pytest.mark.parametrize(
    ("most", "zero", "is_cut"),
    [
        (None, 0.0, False),
        (40.0, 0.0, False),
        (30.2, 0.0, True),
        (28.0, 0.0, True),
        (32.0, 2.0, True),
    ],
)
@pytest.mark.parametrize("solution", [WINCHED, SNATCHED], ids=["winch", "snatch"])
def test_a_peak_at_the_end_of_the_cell_s_range_may_be_cut_off_whatever_the_method(
    solution: Solution, most: float | None, zero: float, *, is_cut: bool
) -> None:
    """A reading of 30 kN; what was taken off for the zero was read as well."""
    end = None if most is None else most * KN
    place = "bow-1" if solution is WINCHED else "rope-k"
    reading = replace(READING, most=end, zero=zero * KN)

    assert compare(solution, reading, place).proof.is_cut == is_cut


@given(st.floats(0.1, 60.0))
def test_a_load_that_is_cut_off_is_known_only_where_it_is_over_the_limit(limit: float) -> None:
    found = compare(WINCHED, replace(READING, most=30 * KN), "bow-1")
    solved = WINCHED.values["item.bow-1.load"]

    over = found.load(solved, limit * KN)
    assert over == (pytest.approx(30 * KN) if limit < 30 else None)
    assert found.load(solved) is None
    assert found.load(0.0) == 0.0


def test_a_winch_pull_has_no_curve_and_nothing_is_added() -> None:
    found = compare(WINCHED, replace(READING, interval=0.5), "bow-1")

    assert found.solved is None
    # A steady pull may stand still: without its range nobody can tell.
    still = compare(WINCHED, replace(READING, flat=9.0), "bow-1").proof
    assert (still.is_cut, still.reading.stands_still) == (False, True)
    assert found.proof.missed == 0.0


def test_an_entry_of_before_the_range_was_kept_is_read_as_it_was_written() -> None:
    document = compare(SNATCHED, READING, "rope-k").proof.document()
    del document["is_cut"], document["reading"]["most"]

    proof = CellProof.of_document(document)
    assert (proof.is_cut, proof.reading.most) == (False, None)


@pytest.mark.parametrize("place", ["damper-1", "no-such"])
def test_beside_an_item_without_load_nothing_is_measured(place: str) -> None:
    with pytest.raises(NoLoadThere):
        compare(WINCHED, READING, place)
    assert place not in places_for_cell(WINCHED)


def test_a_cell_may_sit_beside_every_item_that_bears_something() -> None:
    assert places_for_cell(WINCHED) == ("winch-line", "block-1", "soft-1", "bow-1")


def test_a_ledger_entry_keeps_the_whole_proof() -> None:
    proof = compare(SNATCHED, READING, "rope-k", speed=2.5).proof

    assert CellProof.of_document(proof.document()) == proof


def test_the_speed_that_was_driven_takes_the_place_of_the_rigs() -> None:
    assert as_driven(kinetic(speed=2.0), 2.6).speed == 2.6
    assert as_driven(kinetic(speed=2.0), None).speed == 2.0
    assert as_driven(double_line(), 2.6).speed is None
