"""The printed formulas of joints and anchors come to the values of their steps."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coursekit.mechanics.constants import FOOT
from coursekit.rigging.holdfast import Deadman, Pickets
from coursekit.rigging.rig import Piece, Rig
from coursekit.rigging.site import Anchor, Ground
from coursekit.rigging.solver import Solution, solve
from tests.core.rigging.test_working import assert_formulas_hold
from tests.core.world import KN, deg, end, situation, turn, winch_line

LOG = Deadman(depth=4 * FOOT, face=1.5 * FOOT, length=6 * FOOT)
AT = (30.0, 0.0)
TO = {
    "oak": Anchor("end", "tree", AT, 60 * KN),
    "pickets": Anchor("end", "ground-anchor", AT, None, pickets=Pickets("3-2-1")),
    "deadman": Anchor("end", "ground-anchor", AT, None, deadman=LOG),
    "vehicle": Anchor("end", "vehicle", AT, 60 * KN, mass=3000.0, grip=0.4),
}


def over_a_block(anchor: Anchor) -> Solution:
    """Return a double line of wire on a slope, past the oak, to the anchor."""
    site = situation(ground=Ground(None, 0.10, deg(6.0), deg(250.0)))
    oak = replace(site.anchors["oak"], girth=1.5)
    gear = dict(site.gear)
    gear["winch-line"] = replace(gear["winch-line"], material="wire", diameter=0.010)
    gear["block-1"] = replace(gear["block-1"], sheave=0.080)
    site = replace(site, anchors={**site.anchors, "oak": oak, "end": anchor}, gear=gear)
    turns = (
        turn("oak", "block-1", Piece("sling-1", "basket"), Piece("bow-2", off_line=deg(20.0))),
        turn("stuck_vehicle.front", "block-2", "soft-1"),
    )
    return solve(site, Rig("winch", (winch_line(*turns, to=end("end", "bow-1")),)))


@pytest.mark.independent("the printed formula, read and reckoned by another reader than the rule")
@pytest.mark.parametrize("name", TO)
def test_each_formula_with_its_numbers_comes_to_the_value_of_its_step(name: str) -> None:
    assert assert_formulas_hold(over_a_block(TO[name])) > 30


def test_the_steps_of_joints_and_anchors_say_how_far_they_hold() -> None:
    solved = [over_a_block(anchor) for anchor in TO.values()]
    lasts = ("angle", "leg", "off_line_share", "bend_share", "tyres_need", "tyres_hold", "holdfast")
    told = {step.key.rpartition(".")[2]: step.limits for each in solved for step in each.chain}

    assert [last for last in lasts if not told[last]] == []
