"""A pull a hair off square to the exit was neither solved nor called wrong."""

from __future__ import annotations

from dataclasses import replace

from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Anchor
from coursekit.rigging.solver import solve
from tests.core.world import CHOKED, KN, end, rules, situation, stuck, turn, winch_line


def test_a_pull_almost_square_to_the_exit_has_the_wrong_direction() -> None:
    """Half the pull reaches the vehicle, and 1.04e-9 of that acts along the exit."""
    site = situation(
        stuck=stuck(exit=1.04e-9), anchors={"oak": Anchor("oak", "tree", (65.0, 0.0), 90 * KN)}
    )
    ring = replace(site.gear["ring-1"], efficiency=0.5)
    line = winch_line(turn("oak", "ring-1", CHOKED, "soft-1"), to=end("stuck_vehicle.rear"))
    solution = solve(replace(site, gear={**site.gear, "ring-1": ring}), Rig("winch", (line,)))

    assert solution.values["pull"] is None
    assert "wrong-direction" in rules(solution.findings)
