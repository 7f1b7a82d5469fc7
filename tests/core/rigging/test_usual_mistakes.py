"""Wrong rules that people really use, beside the right ones, by hand on plain numbers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from coursekit.rigging.rig import Line, LineEnd, Piece, Rig
from coursekit.rigging.site import Ground
from coursekit.rigging.solver import Solution, solve
from tests.core.world import GEAR, KN, recovery, situation

W_STUCK, W_TOWING = 2600.0 * 9.80665, 3000.0 * 9.80665


def straight(method: str, item: str, **more: float) -> Rig:
    ends = LineEnd("stuck_vehicle.front", (Piece("soft-2"),))
    line = Line("recovery_vehicle.rear", (item,), ends, joined_with=(Piece("soft-1"),))
    return Rig(method, (line,), **more)


def near(**more: Any) -> Solution:
    gear = {item.id: item for item in GEAR} | dict(more.pop("gear", {}))
    site = situation(recovery=recovery(at=(4.0, 0.0)), ground=Ground("gravel", 0.02), gear=gear)
    return solve(site, straight(**more))


def slips(solution: Solution, key: str) -> dict[str, float]:
    return {found.slip.key: found.value for found in solution.chain.slips_at(key, solution.values)}


def test_a_soaked_rope_keeps_85_per_cent_and_the_dry_figure_is_a_usual_mistake() -> None:
    rope = replace(next(item for item in GEAR if item.id == "rope-k"), wet=True)
    solution = near(method="kinetic", item="rope-k", speed=2.0, gear={"rope-k": rope})

    # 0.85: UFC 4-159-03, Moorings, 2005, table 6-8; 3: common practice, no source.
    assert solution.values["item.rope-k.limit"] == pytest.approx(0.85 * 130 * KN / 3)
    assert slips(solution, "item.rope-k.limit")["wet-left-out"] == pytest.approx(130 * KN / 3)
    assert "0.85" in str(solution.chain.step("item.rope-k.limit").working)


def test_a_dry_rope_has_no_water_to_leave_out() -> None:
    solution = near(method="kinetic", item="rope-k", speed=2.0)

    assert "wet-left-out" not in slips(solution, "item.rope-k.limit")


def test_the_towing_vehicle_moves_itself_too() -> None:
    solution = near(method="tow", item="tow-1")

    alone = 0.02 * W_STUCK
    assert solution.values["tow.need"] == pytest.approx(alone + 0.02 * W_TOWING)
    assert slips(solution, "tow.need")["own-resistance-left-out"] == pytest.approx(alone)


def test_tyres_hold_a_share_of_the_weight_and_not_the_weight() -> None:
    solution = near(method="tow", item="tow-1")

    # Gravel and dirt road, 0.35: Noon, 1994, second-hand.
    assert solution.values["tow.grip"] == pytest.approx(0.35 * W_TOWING)
    assert slips(solution, "tow.grip")["weight-for-grip"] == pytest.approx(W_TOWING)
