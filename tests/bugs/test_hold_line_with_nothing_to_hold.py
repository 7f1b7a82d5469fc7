"""A holding line with nothing to hold had no load, and hid what the pull did beside it."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coursekit.rigging.rig import Line, Piece, Rig
from coursekit.rigging.site import Anchor, Ground, Situation
from coursekit.rigging.solver import Solution, solve
from tests.core.world import (
    CHOKED,
    KN,
    deg,
    end,
    pieces,
    redirect,
    rules,
    single_line,
    situation,
    stuck,
)

UPHILL = Ground(None, 0.05, deg(10.0), deg(270.0))


def held_at(oak: str, rig: Rig, sling: Piece = CHOKED) -> Rig:
    """Add a line from a tree, which stands ahead of the stuck vehicle and above it."""
    hold = Line(
        oak,
        ("line-2",),
        end("stuck_vehicle.rear", "bow-2"),
        role="hold",
        joined_with=pieces(sling, "soft-2"),
        dampers=("damper-2",),
    )
    return Rig("winch", (*rig.lines, hold))


def weak_oak(site: Situation) -> Situation:
    return replace(site, anchors={"oak": Anchor("oak", "tree", (8.0, 5.0), 6 * KN)})


def test_a_line_that_holds_a_vehicle_uphill_while_the_pull_goes_slack_is_no_mistake() -> None:
    solution = solve(weak_oak(situation(ground=UPHILL)), held_at("oak", single_line()))

    assert solution.values["hold.load"] == 0.0
    assert rules(solution.findings) >= {"rolls-back"}
    assert solution.is_safe


def test_an_anchor_that_both_lines_share_is_still_held_to_its_limit() -> None:
    site = weak_oak(situation(ground=Ground("wet-grass")))
    alone = solve(site, redirect())
    both = solve(site, held_at("oak", redirect(), Piece("sling-2", "choker")))

    assert "anchor-overloaded" in rules(alone.findings)
    assert "anchor-overloaded" in rules(both.findings)
    assert load_on_oak(both) == pytest.approx(load_on_oak(alone))


def test_a_line_that_can_not_hold_what_rolls_away_is_still_a_mistake() -> None:
    downhill = replace(UPHILL, downhill=deg(90.0))
    solution = solve(weak_oak(situation(ground=downhill)), held_at("oak", single_line()))

    assert solution.values["hold.load"] is None
    assert rules(solution.findings) >= {"runs-away", "wrong-direction"}


def test_a_slope_that_rolling_just_outweighs_does_not_run_away_by_float_dust() -> None:
    """Straight down 30 deg by the field rule is half the weight, as is a rolling share of 0.5."""
    slope = Ground(None, 0.5, math.nextafter(deg(30.0), 1.0), deg(0.0))
    site = situation(method="field-rule", stuck=stuck(mass=3078.0, exit=deg(0.0)), ground=slope)
    solution = solve(site, single_line())

    assert 0.0 < solution.values["runaway"] < 1e-9
    assert "runs-away" not in rules(solution.findings)


def load_on_oak(solution: Solution) -> float | None:
    return next(place.load for place in solution.places if place.at == "oak")
