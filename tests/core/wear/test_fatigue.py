"""Damage against worked numbers of Miner's rule."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.mechanics.ranges import OutOfRange
from coursekit.wear.fatigue import load_life, load_weight, miner_damage

# Log of 58 pulls on a line of 130 kN, life curve of slope 5 through 1,000 pulls
# at 55 % of its strength: derived by hand from Miner's rule.
MBS = 130_000.0
LOG = ((40, 25_000.0), (12, 45_000.0), (5, 65_000.0), (1, 90_000.0))
LIFE_AT_MBS = 1_000 * 0.55**5


def test_the_curve_goes_through_the_lives_of_the_worked_log() -> None:
    lives = [load_life(load, MBS, LIFE_AT_MBS, 5.0) for _, load in LOG]

    assert lives == pytest.approx([191350.749, 10126.693, 1610.510, 316.459], abs=5e-4)


def test_the_worked_log_does_the_damage_of_the_worked_log() -> None:
    damage = miner_damage((n, load_life(load, MBS, LIFE_AT_MBS, 5.0)) for n, load in LOG)

    assert damage == pytest.approx(0.00765860, abs=5e-9)


@pytest.mark.parametrize(
    ("load", "weight"),
    [(25_000.0, 0.108237), (45_000.0, 2.045218), (65_000.0, 12.860082), (90_000.0, 65.446965)],
)
def test_each_pull_of_the_worked_log_weighs_what_it_should(load: float, weight: float) -> None:
    assert load_weight(load, 39_000.0, 5.0) == pytest.approx(weight, abs=5e-7)


@pytest.mark.source(
    "Textbook load mix under Miner's rule, 10/30/60 % of the cycles: as restated on Wikibooks, "
    "Miner-Palmgren rule (form); lives of 1e4, 1e5 and 1e6 cycles"
)
def test_a_textbook_mix_of_loads_lasts_73_529_cycles() -> None:
    one_cycle = miner_damage([(0.1, 1e4), (0.3, 1e5), (0.6, 1e6)])

    assert 1 / one_cycle == pytest.approx(73_529, abs=0.5)


@pytest.mark.source("API RP 2SM / ISO 19901-7 polyester curve, M = 9, K = 7.5")
@pytest.mark.parametrize(("share", "life"), [(0.2, 1.465e7), (0.3, 3.81e5), (0.5, 3840.0)])
def test_the_polyester_curve_gives_its_lives(share: float, life: float) -> None:
    assert load_life(share * MBS, MBS, 7.5, 9.0) == pytest.approx(life, rel=5e-4)


@pytest.mark.independent("damage by the lives of both loads")
@given(load=st.floats(1.0, 2e5), reference=st.floats(1.0, 2e5), exponent=st.floats(1.0, 9.0))
def test_the_weighted_count_over_the_life_at_the_reference_is_the_damage(
    load: float, reference: float, exponent: float
) -> None:
    life = load_life(reference, MBS, 50.0, exponent)
    by_weight = load_weight(load, reference, exponent) / life

    assert by_weight == pytest.approx(1 / load_life(load, MBS, 50.0, exponent), rel=1e-9)


@given(lighter=st.floats(0.0, 2e5), more=st.floats(1.0, 1e5))
def test_a_greater_load_never_weighs_less(lighter: float, more: float) -> None:
    assert load_weight(lighter + more, 39_000.0, 5.0) > load_weight(lighter, 39_000.0, 5.0)


def test_a_slack_line_does_not_wear() -> None:
    assert load_weight(0.0, 39_000.0, 5.0) == 0.0
    assert load_life(0.0, MBS, LIFE_AT_MBS, 5.0) == float("inf")


def test_refuses_what_no_line_can_feel() -> None:
    with pytest.raises(OutOfRange, match="load"):
        load_weight(-1.0, 39_000.0, 5.0)
    with pytest.raises(OutOfRange, match="mbs"):
        load_life(1.0, 0.0, LIFE_AT_MBS, 5.0)
    with pytest.raises(OutOfRange, match="life"):
        miner_damage([(1, 0.0)])
