"""A kinetic pull on a chain of unknown length had no solution, and the reason was a riddle."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coursekit.rigging.solver import solve
from tests.core.world import near, rules, straight


def test_a_chain_of_unknown_length_is_found_static_and_too_short() -> None:
    site = near()
    chain = replace(site.gear["chain-1"], length=None)
    solution = solve(
        replace(site, gear={**site.gear, "chain-1": chain}),
        straight("kinetic", "chain-1", speed=1.0),
    )

    assert rules(solution.findings) >= {"static-in-kinetic", "line-too-short"}
    # Nobody knows the line's length: the two ends of the rig stand 4 m apart.
    assert solution.values["stand_off"] == pytest.approx(4.0)
