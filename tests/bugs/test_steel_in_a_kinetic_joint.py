"""A chain in the joint of a kinetic line was passed over: only shackles and hooks were steel."""

from __future__ import annotations

from dataclasses import replace

from coursekit.rigging.rig import Rig
from coursekit.rigging.solver import solve
from tests.core.world import end, kinetic, near, rules


def joined_with(*gear: str) -> Rig:
    rig = kinetic()
    return replace(rig, lines=(replace(rig.pull_line, to=end("stuck_vehicle.front", *gear)),))


def test_a_chain_at_a_point_is_steel_in_a_kinetic_line() -> None:
    assert "metal-in-kinetic" in rules(solve(near(), joined_with("chain-1", "soft-1")).findings)
    assert "metal-in-kinetic" not in rules(solve(near(), joined_with("soft-1")).findings)
