"""What becomes of a rig where its estimates are off, against what the laws of chance say."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from scipy import stats

from coursekit.rigging.estimates import PESSIMISTIC, misjudged
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Ground, Situation, Spread
from coursekit.rigging.solver import solve
from coursekit.rigging.spread import SAMPLES, deviations, uncertainty_of
from tests.core.world import KN, G, deg, double_line, near, redirect, single_line, situation, tow

LEVEL = Ground(None, 0.20)
SLOPING = Ground(None, 0.20, deg(10.0), deg(270.0))


def site(**more: Any) -> Situation:
    return situation(ground=LEVEL, **more)


def shares(found: Any) -> dict[str, float]:
    return dict(found.matters)


@pytest.mark.independent("scipy.stats.triang: the distribution function of a triangular estimate")
def test_samples_follow_the_triangular_distribution() -> None:
    off = deviations(7, SAMPLES)

    for values in off.values():
        assert stats.kstest(values, stats.triang(0.5, -1.0, 2.0).cdf).statistic < 1e-4
    table = np.array(list(off.values()))
    assert np.abs(np.corrcoef(table) - np.eye(4)).max() < 0.03


@pytest.mark.independent("law of propagation of uncertainty, JCGM 100:2008, 5.1.2, from memory")
def test_what_matters_is_the_share_of_the_variance() -> None:
    # On the level R = c m g: the relative variances of mass and rolling add.
    found = uncertainty_of(site(spread=Spread(0.05, 0.10, 0.0, 0.0)), single_line(), 1)

    whole = 0.05**2 + 0.10**2
    assert shares(found)["mass"] == pytest.approx(0.05**2 / whole, abs=0.02)
    assert shares(found)["rolling"] == pytest.approx(0.10**2 / whole, abs=0.02)
    assert found.matters[0][0] == "rolling"


@pytest.mark.independent("quantiles of one triangular estimate, by scipy.stats.triang")
def test_the_range_of_the_pull_is_that_of_the_one_estimate_that_is_off() -> None:
    found = uncertainty_of(site(spread=Spread(0.0, 0.25, 0.0, 0.0)), single_line(), 1)

    stated = 0.20 * 2600.0 * G
    for share, value in ((0.05, found.load.low), (0.5, found.load.middle), (0.95, found.load.high)):
        off = stats.triang(0.5, -0.25, 0.5).ppf(share)
        assert value == pytest.approx(stated * (1.0 + off), rel=1e-3)
    assert shares(found)["rolling"] == pytest.approx(1.0)
    assert shares(found)["mass"] == pytest.approx(0.0, abs=1e-3)


@pytest.mark.independent("survival function of the one estimate that is off, scipy.stats.triang")
def test_the_share_of_cases_in_which_an_item_passes_its_limit() -> None:
    stated = 0.20 * 2600.0 * G
    weak = site(spread=Spread(0.0, 0.25, 0.0, 0.0))
    gear = {**weak.gear, "bow-1": replace(weak.gear["bow-1"], wll=1.1 * stated)}
    found = uncertainty_of(replace(weak, gear=gear), single_line(), 1)

    passing = {entry.item: entry.share for entry in found.passing}
    expected = stats.triang(0.5, -0.25, 0.5).sf(0.1)
    assert passing["bow-1"] == pytest.approx(expected, abs=2e-3)
    assert passing["winch-line"] == 0.0
    assert found.unsafe == pytest.approx(passing["bow-1"])
    assert found.stuck == 0.0


@pytest.mark.independent("the same cases one by one, in plain floats")
@pytest.mark.parametrize(
    ("place", "rig"),
    [
        (situation(ground=SLOPING), redirect()),
        (situation(ground=SLOPING, method="field-rule"), double_line()),
        (near(ground=SLOPING), tow()),
    ],
)
def test_ranges_are_those_of_the_cases_solved_one_by_one(place: Situation, rig: Rig) -> None:
    off = deviations(3, SAMPLES)
    found = uncertainty_of(place, rig, 3)
    chosen = range(0, SAMPLES, 40)
    alone = [
        solve(misjudged(place, {name: float(v[i]) for name, v in off.items()}), rig) for i in chosen
    ]

    totals = [solution.values["resistance.total"] for solution in alone]
    assert found.reaches[0].key == "resistance.total"
    assert found.reaches[0].middle == pytest.approx(np.median(totals), rel=0.01)
    assert found.reaches[0].low == pytest.approx(np.percentile(totals, 5.0), rel=0.02)


def test_the_same_seed_gives_the_same_and_another_nearly_the_same() -> None:
    one, again = (uncertainty_of(site(), redirect(), 1) for _ in range(2))
    other = uncertainty_of(site(), redirect(), 2)

    assert one == again
    assert one != other
    assert other.load.high == pytest.approx(one.load.high, rel=0.005)


def test_estimates_are_held_within_what_can_be_reckoned_with() -> None:
    steep = Ground(None, 0.9, deg(44.9), deg(270.0))
    wide = situation(ground=steep, method="field-rule", spread=Spread(0.5, 0.5, deg(10.0), 0.5))
    worst = misjudged(wide, PESSIMISTIC)

    assert worst.ground.slope == pytest.approx(math.pi / 4)
    assert worst.ground.coefficient == 1.0
    assert worst.gear["block-1"].efficiency == pytest.approx(0.45)
    assert worst.stuck.mass == pytest.approx(3900.0)
    assert misjudged(wide, {**PESSIMISTIC, "efficiency": 1.0}).gear["block-1"].efficiency == 1.0
    assert solve(worst, double_line()).values["pull"] > 0.0


def test_level_ground_stays_level_and_a_sunk_vehicle_as_deep() -> None:
    sunk = situation(ground=Ground("deep-mud", bogged="hubs"))
    worst = misjudged(sunk, PESSIMISTIC)

    assert worst.ground.slope == 0.0
    before, after = (solve(s, single_line()).values["resistance.bogging"] for s in (sunk, worst))
    assert after == pytest.approx(before * 1.05)


def test_thin_ice_names_what_would_pass_and_is_silent_for_what_is_certain() -> None:
    stated = 0.20 * 2600.0 * G
    thin = site()
    gear = {**thin.gear, "bow-1": replace(thin.gear["bow-1"], wll=1.2 * stated)}
    solution = solve(replace(thin, gear=gear), single_line())

    (found,) = [f for f in solution.findings if f.rule == "thin-ice"]
    assert (found.item, found.severity) == ("bow-1", "note")
    assert "25 % more rolling resistance" in str(found.message)
    certain = solve(replace(thin, gear=gear, spread=None), single_line())
    assert "thin-ice" not in {f.rule for f in certain.findings}


def test_thin_ice_of_pulleys_counts_their_own_loss() -> None:
    # Only the pulley is uncertain: the tension before it is what grows.
    only = site(spread=Spread(0.0, 0.0, 0.0, 0.20))
    stated = solve(only, redirect()).values["item.winch-line.load"]
    gear = {**only.gear, "winch-line": replace(only.gear["winch-line"], wll=1.1 * stated)}
    found = solve(replace(only, gear=gear), redirect()).findings

    assert {f.item for f in found if f.rule == "thin-ice"} == {"winch-line"}
    enough = {**only.gear, "winch-line": replace(only.gear["winch-line"], wll=1.3 * stated)}
    found = solve(replace(only, gear=enough), redirect()).findings
    assert not {f.item for f in found if f.rule == "thin-ice"}


def test_thin_ice_is_told_of_anchors_and_winches_too() -> None:
    pull = solve(site(), redirect()).values["place.oak.load"]
    oak = replace(site().anchors["oak"], holds=2.0 * 1.1 * pull)
    weak = site(anchors={**site().anchors, "oak": oak})
    told = {f.at for f in solve(weak, redirect()).findings if f.rule == "thin-ice"}

    assert told == {"oak"}
    assert pull < KN * 40.0
