"""Wrong rules that people really use, beside the right ones, by hand on plain numbers."""

from __future__ import annotations

from dataclasses import replace
from math import hypot, sqrt
from typing import Any

import pytest

from coursekit.problems import Problems
from coursekit.rigging.rig import Line, LineEnd, Piece, Rig
from coursekit.rigging.site import Ground
from coursekit.rigging.solver import Solution, solve
from tests.core.world import (
    GEAR,
    KN,
    double_line,
    recovery,
    redirect,
    single_line,
    situation,
    stuck,
)

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


@pytest.mark.independent("by hand: 20 m ahead, 10 m aside, and on to the vehicle")
def test_the_whole_path_counts_with_what_lies_to_the_side() -> None:
    solution = solve(situation(), redirect())

    # From the wagon, 20 m ahead, 10 m straight across to the oak; from there back to the utility.
    assert solution.values["line.needed"] == pytest.approx(10.0 + hypot(20.0, 10.0))
    found = slips(solution, "line.needed")
    assert found["first-part-only"] == pytest.approx(10.0)
    assert found["aside-left-out"] == pytest.approx(0.0 + 20.0)


def test_a_straight_line_has_nothing_to_leave_out() -> None:
    solution = solve(situation(), single_line())

    found = slips(solution, "line.needed")
    assert "first-part-only" not in found
    assert found["aside-left-out"] == pytest.approx(solution.values["line.needed"])


@pytest.mark.independent("by hand: the longer of path and span; TM 9-2320-356-BD p. 4-4")
def test_people_stand_off_the_whole_line_and_not_its_span() -> None:
    solution = solve(situation(), double_line())

    assert solution.values["stand_off"] == pytest.approx(40.0)
    assert slips(solution, "stand_off") == {"farthest-points-only": pytest.approx(20.0)}


def test_on_wire_people_stand_twice_as_far_off() -> None:
    wire = {item.id: item for item in GEAR}
    wire["winch-line"] = replace(wire["winch-line"], material="wire")
    solution = solve(situation(gear=wire), single_line())

    assert solution.values["stand_off"] == pytest.approx(40.0)
    assert slips(solution, "stand_off")["wire-not-doubled"] == pytest.approx(20.0)


def test_in_a_snatch_people_stand_off_the_rope_and_not_the_gap() -> None:
    solution = near(method="kinetic", item="rope-k", speed=2.0)

    assert solution.values["stand_off"] == pytest.approx(13.5)
    assert slips(solution, "stand_off") == {
        "one-length": pytest.approx(9.0),
        "gap-for-rope": pytest.approx(1.5 * 4.0),
    }


def test_the_layers_of_the_drum_are_met_from_both_ends() -> None:
    solution = solve(situation(), single_line())

    # 50 m: 4.6, 5.9, 7.2, 8.4, 9.7, 10.9 and 3.3 m on seven layers; 20 m out leave 30 m, on five.
    assert solution.values["winch.layer"] == 5
    assert slips(solution, "winch.layer") == {
        "layers-from-the-wrong-end": 3,
        "full-drum": 7,
        # Straight ahead nothing lies to the side.
        "aside-left-out": None,
    }
    layer = slips(solution, "pull.available")
    # F1 x 74 / (64 + (2n - 1) x 10): 114, 154 and 194 mm on layers 3, 5 and 7.
    assert solution.values["pull.available"] == pytest.approx(43 * KN * 74 / 154)
    assert layer["layers-from-the-wrong-end"] == pytest.approx(43 * KN * 74 / 114)
    assert layer["full-drum"] == pytest.approx(43 * KN * 74 / 194)
    assert layer["first-layer-pull"] == pytest.approx(43 * KN)


def test_a_stall_is_what_the_winch_can_give_and_not_what_it_must() -> None:
    solution = solve(situation(), single_line())

    assert solution.values["pull.stall"] == solution.values["pull.available"]
    assert slips(solution, "pull.stall")["pull-for-stall"] == solution.values["pull"]


def test_two_parts_of_line_take_in_two_metres_for_one_of_travel() -> None:
    solution = solve(situation(stuck=stuck(travel=7.0)), double_line())

    # 40 m out leave 10 m, on the second layer. 14 m in: 24 m, on the fourth; 7 m: 17 m, the third.
    assert solution.values["pull.available.end"] == pytest.approx(43 * KN * 74 / 134)
    found = slips(solution, "pull.available.end")
    assert found["travel-once"] == pytest.approx(43 * KN * 74 / 114)
    assert found["start-for-end"] == pytest.approx(43 * KN * 74 / 94)


def test_an_advantage_is_counted_in_parts_with_friction_or_without() -> None:
    site = situation()
    turned = solve(site, redirect())

    assert slips(turned, "advantage.ideal") == {
        "redirect-for-advantage": pytest.approx(turned.values["advantage.ideal"] + 1.0)
    }
    # One pulley, two parts.
    assert slips(solve(site, double_line()), "advantage.ideal") == {"pulleys-for-parts": 1.0}


@pytest.mark.independent("energy of a spring, by hand")
def test_the_window_of_speeds_has_its_usual_mistakes() -> None:
    solution = near(method="kinetic", item="rope-k", speed=2.0)
    k, held = 130 * KN / (0.30 * 9), 0.02 * W_STUCK
    limit, strength = 200 * KN / 5, 200 * KN
    rope = 130 * KN / 3

    lowest = slips(solution, "kinetic.speed.lowest")
    assert solution.values["kinetic.speed.lowest"] == pytest.approx(held / sqrt(k * 3000))
    assert lowest["masses-added"] == pytest.approx(held / sqrt(k * 5600))
    assert lowest["stuck-mass"] == pytest.approx(held / sqrt(k * 2600))

    # Soft shackle 40 kN, points 39.2 kN, rope 43.3 kN: the points are the smallest limit.
    smallest = min(limit, 4000 * 9.80665, rope)
    # Strength: rope 130 kN, soft shackles 200 kN; the points state none.
    weakest = min(strength, 130 * KN)

    def speed_for(tension: float) -> float:
        # T = T* + sqrt((R - T*)^2 + k m_e u^2), v^2 = u^2 + R^2 / (k m1), T* = R m1 / M.
        mean, reduced = held * 3000 / 5600, 3000 * 2600 / 5600
        squared = ((tension - mean) ** 2 - (held - mean) ** 2) / (k * reduced)
        return sqrt(squared + held**2 / (k * 3000))

    highest = slips(solution, "kinetic.speed.highest")
    assert solution.values["kinetic.speed.highest"] == pytest.approx(speed_for(smallest / 1.3))
    assert highest["mbs-for-limit"] == pytest.approx(speed_for(weakest / 1.3))
    assert highest["allowance-left-out-of-speed"] == pytest.approx(speed_for(smallest))
    assert highest["fixed-end"] == pytest.approx(smallest / 1.3 / sqrt(k * 3000))
    assert highest["masses-added"] == pytest.approx(smallest / 1.3 / sqrt(k * 5600))


def test_the_energy_of_a_rope_is_half_of_peak_times_stretch() -> None:
    solution = near(method="kinetic", item="rope-k", speed=2.0)
    peak, k = solution.values["kinetic.peak"], 130 * KN / (0.30 * 9)

    assert solution.values["kinetic.energy"] == pytest.approx(0.5 * peak * peak / k)
    found = slips(solution, "kinetic.energy")
    assert found["half-left-out"] == pytest.approx(peak * peak / k)
    assert found["energy-of-motion"] == pytest.approx(0.5 * 3000 * 2.0**2)
