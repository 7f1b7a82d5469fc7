"""A vehicle that lies on its side is righted by half its weight and let down on a line."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

from coursekit.mechanics.righting import righting_resistance
from coursekit.rigging.rig import Line, Rig
from coursekit.rigging.site import Ground
from coursekit.rigging.solver import Solution, solve
from tests.core.world import (
    BASKET,
    G,
    deg,
    end,
    near,
    pieces,
    rules,
    single_line,
    situation,
    straight,
    stuck,
    winch_line,
)
from tests.reference.sources import independent, source

WEIGHT = 2600.0 * G
UPHILL = Ground(None, 0.05, deg(10.0), deg(270.0))
DOWNHILL = Ground(None, 0.05, deg(10.0), deg(90.0))


def righted(rig: Rig | None = None, **more: Any) -> Solution:
    site = situation(stuck=stuck(lying="side"), **more)
    return solve(site, rig or single_line())


def held_from(place: str) -> Rig:
    hold = Line(
        place,
        ("line-2", "soft-3", "tow-1"),
        end("stuck_vehicle.side", "bow-2"),
        role="hold",
        joined_with=pieces(BASKET, "soft-1"),
    )
    return Rig("winch", (winch_line(), hold))


@source("overturned vehicle, half its weight: US Army recovery manuals, from memory")
def test_a_righting_pull_is_half_the_weight() -> None:
    assert righting_resistance(WEIGHT) == pytest.approx(0.5 * WEIGHT)


@independent("moments about the edge that a square section tips on, step by step")
def test_a_square_section_takes_no_more_on_the_way_than_at_the_start() -> None:
    tilt = np.radians(np.arange(0.0, 45.0, 0.5))
    # The centre stands over the edge at 45 deg; a level pull on the upper edge.
    arm_of_weight = math.sqrt(0.5) * np.cos(tilt + math.radians(45.0))
    arm_of_pull = np.cos(tilt)
    pulls = WEIGHT * arm_of_weight / arm_of_pull

    assert righting_resistance(WEIGHT) == pytest.approx(float(np.max(pulls)), rel=1e-9)
    assert float(pulls[0]) == float(np.max(pulls))


def test_righting_stands_in_place_of_rolling() -> None:
    values = righted().values

    assert values["resistance.rolling"] == values["resistance.bogging"] == 0.0
    assert values["resistance.righting"] == pytest.approx(WEIGHT / 2)
    assert values["resistance.total"] == pytest.approx(WEIGHT / 2)
    assert values["pull"] == pytest.approx(WEIGHT / 2)


@pytest.mark.parametrize(
    ("ground", "more"),
    [(UPHILL, math.sin(math.radians(10.0))), (DOWNHILL, 0.0)],
    ids=["uphill", "downhill"],
)
def test_an_uphill_grade_is_added_and_a_downhill_one_not_taken_off(
    ground: Ground, more: float
) -> None:
    values = righted(ground=ground).values

    assert values["resistance.total"] == pytest.approx(WEIGHT * (0.5 + more))


def test_the_field_rule_rights_by_the_same_half() -> None:
    values = righted(ground=UPHILL, method="field-rule").values

    # A slope of 10 deg is 10/60 of the weight by the rule.
    assert values["resistance.total"] == pytest.approx(WEIGHT * (0.5 + 10.0 / 60.0))


def test_no_wheel_turns_so_nothing_rolls_away_or_back() -> None:
    for ground in (UPHILL, DOWNHILL):
        solution = righted(ground=ground)

        assert solution.values["runaway"] == 0.0
        assert not {"runs-away", "rolls-back"} & rules(solution.findings)


def test_a_line_from_the_other_side_lets_it_down_and_carries_half_the_weight_too() -> None:
    solution = righted(held_from("boulder"))

    assert "drops-on-wheels" not in rules(solution.findings)
    assert solution.values["hold.load"] == pytest.approx(WEIGHT / 2)


def test_a_holding_line_on_the_pulling_side_holds_nothing() -> None:
    solution = righted(held_from("oak"))

    assert {"drops-on-wheels", "wrong-direction"} <= rules(solution.findings)
    assert solution.values["hold.load"] is None


@pytest.mark.parametrize("lying", [None, "side"])
def test_only_a_snatch_of_a_lying_vehicle_is_found(lying: str | None) -> None:
    site = near(stuck=stuck(lying=lying))
    snatched = solve(site, straight("kinetic", "rope-k", speed=1.0)).findings
    towed = solve(site, straight("tow", "tow-1")).findings

    assert ("kinetic-on-lying" in rules(snatched)) is (lying == "side")
    assert "kinetic-on-lying" not in rules(towed)


def test_the_usual_mistakes_of_righting_have_their_numbers() -> None:
    solution = righted(ground=DOWNHILL)
    steps = (solution.chain.step(f"resistance.{part}") for part in ("rolling", "righting", "total"))
    found = {slip.key: slip.rule(solution.values) for step in steps for slip in step.slips}
    rolling = 0.05 * WEIGHT * math.cos(math.radians(10.0))

    assert found["rolling-while-lying"] == pytest.approx(rolling)
    assert found["rolling-for-righting"] == pytest.approx(rolling)
    assert found["weight-for-righting"] == pytest.approx(WEIGHT)
    off = WEIGHT * (0.5 - math.sin(math.radians(10.0)))
    assert found["downhill-taken-off"] == pytest.approx(off)
