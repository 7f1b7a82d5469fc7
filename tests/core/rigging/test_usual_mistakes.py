"""Wrong rules that people really use, beside the right ones, by hand on plain numbers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from coursekit.problems import Problems
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


def kinetic(speed: float, *, us_units: bool) -> Solution:
    gear = {item.id: item for item in GEAR}
    towing, ground = recovery(at=(4.0, 0.0)), Ground("gravel", 0.02)
    site = situation(recovery=towing, ground=ground, gear=gear, us_units=us_units)
    return solve(site, straight("kinetic", "rope-k", speed=speed))


def test_a_strain_is_taken_for_metres_or_by_those_who_work_in_feet_for_feet() -> None:
    metric = slips(kinetic(2.0, us_units=False), "kinetic.stiffness")
    us = slips(kinetic(2.0, us_units=True), "kinetic.stiffness")

    # 130 kN at a strain of 0.30; a foot is 0.3048 m (NIST SP 811).
    assert metric == pytest.approx({"strain-as-metres": 130 * KN / 0.30})
    assert us == pytest.approx({"strain-as-feet": 130 * KN / (0.30 * 0.3048)})


def test_a_speed_in_mph_is_taken_for_one_in_ft_s() -> None:
    """Ten miles an hour are 14.67 ft/s (5,280 ft in 3,600 s); taken for 10 ft/s."""
    found = slips(kinetic(10 * 5280 / 3600 * 0.3048, us_units=True), "kinetic.peak")

    as_if = kinetic(10 * 0.3048, us_units=True).values["kinetic.peak"]
    assert found["mph-as-feet-per-second"] == pytest.approx(as_if)
    assert "kmh-as-metres-per-second" not in found


def test_an_energy_in_ft_lbf_is_taken_for_a_force_in_lbf() -> None:
    """By hand: 3,000 kg are 205.57 slugs; at 10 ft/s they move with 10,278 ft lbf."""
    found = slips(kinetic(10 * 0.3048, us_units=True), "kinetic.peak")

    slugs = 3000 / 14.593903  # NIST SP 811: 1 slug is 14.593 90 kg
    assert found["energy-for-force"] / 4.4482216 == pytest.approx(slugs * 100 / 2, rel=1e-5)


def test_a_root_left_out_leads_to_a_number_of_pounds() -> None:
    solution = kinetic(10 * 0.3048, us_units=True)
    found = slips(solution, "kinetic.peak")

    slugs = 3000 / 14.593903
    pounds_per_foot = solution.values["kinetic.stiffness"] / 4.4482216 * 0.3048
    by_number = 10**2 * pounds_per_foot * slugs
    assert found["root-left-out"] / 4.4482216 == pytest.approx(by_number, rel=1e-5)


@pytest.mark.parametrize(("us_units", "example"), [(False, "2 m/s"), (True, "4 mph")])
def test_the_speed_that_a_kinetic_pull_needs_is_asked_for_in_own_units(
    example: str, *, us_units: bool
) -> None:
    gear = {item.id: item for item in GEAR}
    site = situation(recovery=recovery(at=(4.0, 0.0)), gear=gear, us_units=us_units)

    with pytest.raises(Problems) as caught:
        solve(site, straight("kinetic", "rope-k"))

    assert f"Write for example {example}" in str(caught.value.items[0])
