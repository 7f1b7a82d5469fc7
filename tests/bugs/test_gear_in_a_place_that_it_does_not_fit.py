"""Gear was taken for what it is not: a shackle in a basket carried twice its WLL."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coursekit.problems import Problems
from coursekit.rigging.rig import Line, Piece, Rig
from coursekit.rigging.solver import solve
from tests.core.world import end, situation, stuck, turn, winch, winch_line


def problem_of(line: Line) -> str:
    site = situation(stuck=stuck(winch=winch(line="line-2")))
    with pytest.raises(Problems) as raised:
        solve(site, Rig("winch", (line,)))
    (problem,) = raised.value.items
    return str(problem)


@pytest.mark.parametrize("hitch", ["basket", "choker"])
def test_only_what_goes_round_something_makes_a_hitch(hitch: str) -> None:
    bent = winch_line(to=end("stuck_vehicle.front", Piece("bow-1", hitch)))

    assert problem_of(bent) == (
        f"lines.0.to.with.0.hitch: bow-1 is a bow-shackle, and those make no {hitch}. "
        "Leave the hitch out, or name a sling."
    )


def test_a_chain_may_be_choked() -> None:
    choked = winch_line(to=end("stuck_vehicle.front", Piece("chain-1", "choker"), "bow-1"))

    assert solve(situation(), Rig("winch", (choked,))).places


def test_a_sling_is_no_damper() -> None:
    line = replace(winch_line(), dampers=("sling-1",))

    assert problem_of(line) == "lines.0.dampers.0: sling-1 is no damper. Name a line damper."


@pytest.mark.parametrize(
    ("line", "field"),
    [
        (winch_line(to=end("stuck_vehicle.winch", "bow-1")), "lines.0.to.at"),
        (
            winch_line(turn("stuck_vehicle.winch", "block-1", "bow-1"), to=end("elm", "bow-2")),
            "lines.0.pulleys.0.at",
        ),
    ],
)
def test_a_line_may_start_at_a_winch_and_go_to_no_other(line: Line, field: str) -> None:
    assert problem_of(line) == (
        f"{field}: Nothing can be joined to stuck_vehicle.winch. "
        "Name a point of the vehicle, or an anchor."
    )
