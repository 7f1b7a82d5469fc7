"""A hook between two lines has a length, and its joint was sought behind where it is."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Anchor
from coursekit.rigging.solver import solve
from tests.core.world import BASKET, KN, recovery, rules, situation, stuck, turn, winch_line


@pytest.mark.parametrize(("travel", "reaches"), [(6.5, False), (7.5, True)])
def test_the_near_end_of_a_hook_is_the_joint_that_reaches_a_pulley(
    travel: float, *, reaches: bool
) -> None:
    """20 m to the tree, 12 m of line and 1 m of hook on the way: the winch line ends 7 m off it."""
    site = situation(
        stuck=stuck(travel=travel),
        recovery=recovery(at=(20.0, 3.0)),
        anchors={"oak": Anchor("oak", "tree", (20.0, 0.0), 90 * KN)},
    )
    hook = replace(site.gear["hook-1"], length=1.0)
    line = winch_line(
        turn("oak", "block-1", BASKET, "soft-1"), made_of=("winch-line", "hook-1", "line-2")
    )
    solution = solve(replace(site, gear={**site.gear, "hook-1": hook}), Rig("winch", (line,)))

    assert ("joint-at-pulley" in rules(solution.findings)) is reaches
