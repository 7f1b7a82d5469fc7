"""Whole rigs against numbers from elsewhere: printed ones, and hand calculations."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.problems import Problems
from coursekit.rigging.gear import Item
from coursekit.rigging.rig import Line, Rig
from coursekit.rigging.site import Anchor, Ground, Policy, Situation
from coursekit.rigging.solver import solve
from coursekit.rigging.vehicle import Winch
from tests.core.world import (
    KN,
    deg,
    double_line,
    end,
    kinetic,
    near,
    pieces,
    recovery,
    redirect,
    rules,
    self_recovery,
    single_line,
    situation,
    stuck,
    tow,
    turn,
    winch,
    winch_line,
    with_own_winch,
)

UPHILL_EAST = deg(270.0)  # straight down is west, so an exit to the east leads uphill


def slope(angle: float, **more: Any) -> Ground:
    ground = Ground(None, 0.15, deg(angle), UPHILL_EAST)
    return replace(ground, **more)


@pytest.mark.independent("hand calculation with printed steps: m g = 25,497.29 N and the rest")
def test_a_self_recovery_up_a_slope_comes_to_the_hand_calculation() -> None:
    """2,600 kg, 12 deg, c 0.15, one pulley of 0.90 straight ahead: F 9,042 N, T 4,759 N.

    sin 12 = 0.207912, cos 12 = 0.978148; 25,497.29 (0.207912 + 0.15 x 0.978148) = 9,042.2;
    9,042.2 / 1.9 = 4,759.1; parallel legs load the anchor with the whole 9,042.2.
    """
    site = replace(with_own_winch(), ground=slope(12.0))
    site = replace(site, anchors={"oak": Anchor("oak", "tree", (30.0, 0.0), 90 * KN)})

    values = solve(site, self_recovery()).values

    assert values["weight"] == pytest.approx(25_497.29, abs=0.005)
    assert values["resistance.total"] == pytest.approx(9042.2, abs=0.05)
    assert values["advantage.ideal"] == pytest.approx(2.0)
    assert values["advantage.actual"] == pytest.approx(1.9)
    assert values["pull"] == pytest.approx(4759.1, abs=0.05)
    assert values["place.oak.load"] == pytest.approx(9042.2, abs=0.05)


def tackle(parts: int, efficiency: float) -> tuple[Situation, Rig]:
    """A tackle of so many parts, all turning: far anchor, blocks close together."""
    site = replace(situation(), ground=Ground(None, 1.0))
    gear = dict(site.gear)
    turns = []
    for number in range(parts):
        block = f"b{number}"
        gear[block] = Item(block, "pulley-block", mbs=900 * KN, efficiency=efficiency)
        # The line comes from the anchor side, so turn by turn it alternates.
        at = "far" if number % 2 == parts % 2 else "stuck_vehicle.front"
        turns.append(turn(at, block, "soft-1"))
    to = end("far", "soft-1") if turns[-1].at.startswith("stuck") else end("stuck_vehicle.rear")
    far = Anchor("far", "ground-anchor", (1e6, 0.0), 9000 * KN)
    line = winch_line(*turns, to=to)
    home = recovery(at=(1e6, 0.001)) if turns[0].at.startswith("stuck") else recovery(at=(0.5, 0.0))
    return replace(site, gear=gear, anchors={"far": far}, recovery=home), Rig("winch", (line,))


@pytest.mark.source("Wire Rope Users Manual, 4th ed., pp. 86-88: K 1.09, 4 parts, P/W 0.309")
def test_a_tackle_of_four_parts_needs_the_printed_share_of_the_load() -> None:
    site, rig = tackle(4, 1.0 / 1.09)

    values = solve(site, rig).values

    # All four sheaves turn and four parts bear on the load.
    assert values["advantage.ideal"] == pytest.approx(4.0, rel=1e-6)
    assert values["pull"] / values["resistance.total"] == pytest.approx(0.309, abs=0.0005)


@pytest.mark.source(
    "US Navy Steelworker 3 & 2, 'Allowance for friction': 1,000 lb, 4 sheaves, MA 4: 350 lb"
)
def test_the_field_rule_takes_ten_per_cent_of_the_load_for_each_pulley() -> None:
    site, rig = tackle(4, 0.9)
    site = replace(site, method="field-rule")

    values = solve(site, rig).values

    assert values["pull"] / values["resistance.total"] == pytest.approx(0.350, abs=0.0005)


@pytest.mark.source(
    "rigging tables of block angle factors, second-hand; 40, 45, 130, 135 deg are truncated there"
)
@pytest.mark.parametrize(
    ("angle", "factor"),
    [(30, 1.93), (45, 1.84), (60, 1.73), (90, 1.41), (120, 1.00), (135, 0.76), (150, 0.52)],
)
def test_a_turn_loads_its_anchor_by_the_angle_between_the_parts(
    angle: float, factor: float
) -> None:
    site = situation()
    gear = {**site.gear, "block-1": replace(site.gear["block-1"], efficiency=1.0)}
    half = deg(angle / 2.0)
    # The oak stands at the point of an isosceles triangle with this angle.
    oak = Anchor("oak", "tree", (10.0, 10.0 / math.tan(half)), 90 * KN)
    site = replace(site, gear=gear, anchors={"oak": oak})

    values = solve(site, redirect()).values

    assert values["place.oak.load"] / values["pull"] == pytest.approx(factor, abs=0.011)


@pytest.mark.source(
    "US Army TM 9-2320-279-10-2, table 2-7: 20,000 18,173 16,663 15,361 14,254 lb on layers 1-5"
)
def test_the_winch_pulls_as_printed_on_each_layer() -> None:
    printed = [20_000.0, 18_173.0, 16_663.0, 15_361.0, 14_254.0]
    drum, rope, wraps = 0.189, 0.0105927, 5
    # 2 d / (B + d) = 0.10065 makes the geometry that of the table.
    rope = 0.10065 * drum / (2.0 - 0.10065)
    layers = [wraps * math.pi * (drum + (2 * n - 1) * rope) for n in range(1, 6)]
    for layer, pull in enumerate(printed, start=1):
        whole = math.fsum(layers[:layer]) + 20.0
        site = situation(
            recovery=recovery(winch=Winch(20_000.0, drum, rope, wraps, "winch-line", 1))
        )
        gear = {**site.gear, "winch-line": replace(site.gear["winch-line"], length=whole)}

        values = solve(replace(site, gear=gear), single_line()).values

        assert values["winch.layer"] == layer
        assert values["pull.available"] == pytest.approx(pull, rel=1e-3)


def test_pull_fades_as_layers_build_and_more_so_with_two_parts() -> None:
    site = situation(stuck=stuck(travel=6.0))

    single, double = solve(site, single_line()).values, solve(site, double_line()).values

    assert single["pull.available.end"] < single["pull.available"]
    # Twelve metres come in for six of travel.
    assert double["winch.paid_out"] == pytest.approx(40.0)
    by_hand = replace(site, stuck=stuck(at=(6.0, 0.0)), recovery=recovery(at=(20.0, 0.0)))
    assert double["pull.available.end"] == solve(by_hand, double_line()).values["pull.available"]


def test_a_place_met_twice_is_one_place_and_two_chains_of_gear() -> None:
    line = winch_line(
        turn("stuck_vehicle.front", "block-1", "soft-1"),
        turn("oak", "block-2", "sling-1", "soft-2"),
        to=end("stuck_vehicle.front", "bow-1"),
    )
    solution = solve(situation(), Rig("winch", (line,)))

    [place] = [p for p in solution.places if p.at == "stuck_vehicle.front"]
    by_item = {item.item: item.load for item in place.items}
    assert place.items[-1].item == "stuck_vehicle.front"
    assert by_item["stuck_vehicle.front"] == place.load
    assert by_item["soft-1"] == by_item["block-1"] != by_item["bow-1"]
    assert place.load is not None
    assert place.load < (by_item["soft-1"] or 0.0) + (by_item["bow-1"] or 0.0)


@pytest.mark.independent("closed form by hand: v sqrt(k m1 m2 / M) without resistance")
def test_a_kinetic_pull_without_resistance_is_the_two_body_peak() -> None:
    site = replace(near(), ground=Ground(None, 0.0))
    k = 130 * KN / (0.30 * 9.0)

    values = solve(site, kinetic(speed=3.0)).values

    expected = 3.0 * math.sqrt(k * 3000.0 * 2600.0 / 5600.0)
    assert values["kinetic.stiffness"] == pytest.approx(k)
    assert values["kinetic.peak"] == pytest.approx(expected)
    assert values["kinetic.design"] == pytest.approx(1.3 * expected)
    assert values["kinetic.energy"] == pytest.approx(expected**2 / (2.0 * k))


def test_the_highest_speed_puts_the_design_load_on_the_smallest_limit() -> None:
    highest = solve(near(), kinetic()).values["kinetic.speed.highest"]

    at_highest = solve(near(), kinetic(speed=highest))

    assert max(use.use for use in at_highest.uses) == pytest.approx(1.0)


@pytest.mark.source("Tree Rescue Manual, 2022, p. 214: 3,000 kg on wet grass, 0.35, drags at 10 kN")
def test_a_braked_wagon_on_wet_grass_drags_at_about_ten_kilonewtons() -> None:
    wagon = recovery(held="braked", grip=0.35)
    drags = []
    for mass in (7100.0, 7600.0):
        site = situation(stuck=stuck(mass=mass), recovery=wagon)
        solution = solve(site, single_line())
        drags.append(
            (round(solution.values["pull"], -2), "vehicle-drags" in rules(solution.findings))
        )

    # 0.14 of the weight: 9.7 kN holds, 10.4 kN drags.
    assert drags == [(9700.0, False), (10_400.0, True)]


def test_a_tow_loads_its_gear_with_the_allowance_for_jerks() -> None:
    solution = solve(near(), tow())

    assert solution.values["tow.pull"] == pytest.approx(0.14 * 2600.0 * 9.80665)
    assert solution.values["tow.design"] == pytest.approx(2.0 * solution.values["tow.pull"])
    assert all(
        place.load == pytest.approx(solution.values["tow.design"]) for place in solution.places
    )


def test_a_holding_line_carries_what_rolling_does_not_hold() -> None:
    """10 deg down, c 0.05: W (0.173648 - 0.05 x 0.984808) = 0.124408 W = 3,172 N by hand."""
    downhill = Ground(None, 0.05, deg(10.0), deg(90.0))
    site = replace(near(), ground=downhill)
    hold = Line(
        "boulder",
        ("line-2", "bow-2", "winch-line"),
        end("stuck_vehicle.rear", "bow-1"),
        role="hold",
        joined_with=pieces("sling-1", "soft-3"),
    )
    rig = Rig("tow", (tow().pull_line, hold))

    solution = solve(site, rig)

    assert solution.values["hold.load"] == pytest.approx(3172.0, abs=0.5)
    assert "runs-away" not in rules(solution.findings)
    assert "runs-away" in rules(solve(site, tow()).findings)


@pytest.mark.parametrize(
    ("rig", "field"),
    [
        (Rig("winch", ()), "lines"),
        (Rig("winch", (winch_line(made_of=("rope-x",)),)), "lines.0.made_of.0"),
        (Rig("winch", (winch_line(to=end("stuck_vehicle.roof")),)), "lines.0.to.at"),
        (Rig("winch", (winch_line(turn("oak", "bow-2")),)), "lines.0.pulleys.0.by"),
        (Rig("winch", (winch_line(to=end("recovery_vehicle.front")),)), "lines.0.to.at"),
        (kinetic(speed=None), "speed"),
        (Rig("winch", (tow().pull_line,)), "lines.0.from"),
    ],
)
def test_what_cannot_be_solved_is_named_by_its_field(rig: Rig, field: str) -> None:
    with pytest.raises(Problems) as caught:
        solve(near(), rig)

    assert field in {problem.where.field for problem in caught.value.items}
    assert all(problem.mend for problem in caught.value.items)


@settings(max_examples=60)
@given(st.floats(500.0, 8000.0), st.floats(1.01, 3.0))
def test_loads_grow_in_step_with_the_mass(mass: float, times: float) -> None:
    light = solve(situation(stuck=stuck(mass=mass)), redirect()).values
    heavy = solve(situation(stuck=stuck(mass=mass * times)), redirect()).values

    for key in ("pull", "place.oak.load", "item.bow-1.load"):
        assert heavy[key] == pytest.approx(times * light[key])


@settings(max_examples=60)
@given(st.floats(0.4, 1.0))
def test_friction_never_helps_and_never_loads_a_turn_beyond_twice_the_line(eta: float) -> None:
    site = situation()
    site = replace(
        site, gear={**site.gear, "block-1": replace(site.gear["block-1"], efficiency=eta)}
    )

    values = solve(site, redirect()).values

    assert values["advantage.actual"] <= values["advantage.ideal"]
    assert values["place.oak.load"] <= 2.0 * values["pull"] * (1.0 + 1e-12)


def test_bogging_replaces_rolling_and_takes_no_help_from_a_downhill() -> None:
    downhill = Ground(None, 0.15, deg(10.0), deg(90.0), "hubs")

    values = solve(replace(situation(), ground=downhill), single_line()).values

    assert values["resistance.rolling"] == 0.0
    assert values["resistance.total"] == pytest.approx(values["weight"])


def test_a_policy_changes_the_limits_and_the_anchor() -> None:
    site = replace(situation(), policy=Policy(factors={"soft-shackle": 4.0}, anchor_factor=3.0))

    values = solve(site, redirect()).values

    assert values["item.soft-1.limit"] == pytest.approx(50 * KN)
    assert values["place.oak.holds"] == pytest.approx(30 * KN)


def test_dead_wraps_stay_on_the_drum() -> None:
    """Ten wraps on a 64 mm drum with 10 mm line: 10 pi 0.074 = 2.325 m by hand."""
    values = solve(situation(recovery=recovery(winch=winch(dead_wraps=10))), single_line()).values

    assert values["line.available"] == pytest.approx(50.0 - 2.325, abs=0.0005)
