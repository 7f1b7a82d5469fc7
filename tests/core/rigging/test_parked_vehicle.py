"""A parked vehicle as an anchor: held by its tyres, and by what its point holds."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given

from coursekit.rigging.findings import Finding
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Anchor, Ground, Situation
from coursekit.rigging.solver import Solution, solve
from tests.core.mechanics.parameters import numbers
from tests.core.world import (
    KN,
    deg,
    end,
    recovery,
    rules,
    situation,
    stuck,
    winch_line,
)

W = 3000.0 * 9.80665


def parked(**more: Any) -> Anchor:
    truck = Anchor("truck", "vehicle", (30.0, 0.0), 90 * KN, tested=True, mass=3000.0, grip=0.35)
    return replace(truck, **more)


def site(anchor: Anchor, ground: Ground, mass: float) -> Situation:
    """A winch on the stuck vehicle, and the parked one 30 m ahead of it."""
    plain = situation(ground=ground, stuck=stuck(mass=mass, winch=recovery().winch), recovery=None)
    return replace(plain, anchors={"truck": anchor})


def pulled(anchor: Anchor, *, force: float, slope: float = 0.0, downhill: float = 0.0) -> Solution:
    """Return the rig whose pull is the force, in kilonewtons, along the exit to the east."""
    ground = Ground(None, 0.10, deg(slope), deg(downhill) if slope else None)
    # Straight across the slope only the wheels hold: a tenth of what presses on the ground.
    mass = force * KN / (0.10 * 9.80665 * math.cos(deg(slope)))
    line = winch_line(start="stuck_vehicle.winch", to=end("truck", "bow-1"))
    return solve(site(anchor, ground, mass), Rig("winch", (line,)))


def drags(solution: Solution) -> list[Finding]:
    return [finding for finding in solution.findings if finding.rule == "vehicle-drags"]


def slips(solution: Solution, key: str) -> dict[str, float]:
    return {found.slip.key: found.value for found in solution.chain.slips_at(key, solution.values)}


def test_three_tonnes_on_wet_grass_drag_at_about_ten_kilonewtons() -> None:
    # Tree Rescue Manual, Arboriculture Australia, 2022, p. 214.
    assert drags(pulled(parked(), force=10.2)) == []
    (found,) = drags(pulled(parked(), force=10.4))

    assert found.at == "truck"
    assert found.leaves_stuck


def test_across_a_slope_of_15_degrees_they_drag_at_6_4_kilonewtons() -> None:
    # Derived: the root of (0.35 W cos 15)^2 - (W sin 15)^2.
    assert drags(pulled(parked(), force=6.35, slope=15.0)) == []
    assert drags(pulled(parked(), force=6.45, slope=15.0)) != []


def test_what_tyres_must_hold_and_can_hold_stands_in_the_chain() -> None:
    values = pulled(parked(), force=6.0, slope=15.0).values

    assert values["place.truck.tyres_need"] == pytest.approx(
        math.hypot(6.0 * KN, W * math.sin(deg(15.0)))
    )
    assert values["place.truck.tyres_hold"] == pytest.approx(0.35 * W * math.cos(deg(15.0)))


def test_the_smaller_of_both_limits_wins() -> None:
    by_tyres = pulled(parked(), force=9.0)
    by_point = pulled(parked(holds=9.5 * KN), force=9.0)

    assert by_tyres.values["place.truck.use"] == pytest.approx(9.0 * KN / (0.35 * W))
    assert by_point.values["place.truck.use"] == pytest.approx(9.0 / 9.5)
    assert "anchor-overloaded" in rules(pulled(parked(holds=8.5 * KN), force=9.0).findings)
    assert "low-margin" in rules(by_tyres.findings)


def test_a_vehicle_of_unknown_mass_is_held_to_the_assessors_figure_alone() -> None:
    solution = pulled(parked(mass=None, grip=None), force=20.0)

    assert drags(solution) == []
    assert "place.truck.tyres_need" not in solution.chain


def test_without_a_grip_of_its_own_it_has_that_of_the_ground() -> None:
    line = winch_line(start="stuck_vehicle.winch", to=end("truck", "bow-1"))
    solution = solve(site(parked(grip=None), Ground("wet-grass"), 2600.0), Rig("winch", (line,)))

    # Wet grass 0.20: Noon, 1994, second-hand.
    assert solution.values["place.truck.tyres_hold"] == pytest.approx(0.20 * W)
    assert "optimistic" not in rules(solution.findings)


def test_a_grip_above_the_table_is_told() -> None:
    told = [f for f in pulled(parked(grip=0.6), force=5.0).findings if f.rule == "optimistic"]

    assert [finding.at for finding in told] == ["truck"]


def test_should_the_vehicle_hang_up_the_winch_can_drag_it() -> None:
    stalled = [f for f in pulled(parked(), force=5.0).findings if f.rule == "stall-over-limit"]

    assert "truck" in {finding.at for finding in stalled}


def test_usual_mistakes_about_a_parked_vehicle() -> None:
    solution = pulled(parked(), force=5.0, slope=10.0)
    found = slips(solution, "place.truck.tyres_need")

    assert found["own-slope-left-out"] == pytest.approx(5.0 * KN)
    assert found["forces-added-as-numbers"] == pytest.approx(5.0 * KN + W * math.sin(deg(10.0)))
    held = slips(solution, "place.truck.tyres_hold")
    assert held["parked-weight-for-grip"] == pytest.approx(W)


def test_on_the_level_there_is_no_slope_to_leave_out() -> None:
    assert "own-slope-left-out" not in slips(pulled(parked(), force=5.0), "place.truck.tyres_need")


@given(downhill=numbers(0.0, 360.0), slope=numbers(1.0, 5.0))
def test_what_the_tyres_must_hold_lies_between_difference_and_sum_of_both_forces(
    downhill: float, slope: float
) -> None:
    values = pulled(parked(), force=50.0, slope=slope, downhill=downhill).values
    load, hanging = values["place.truck.load"], W * math.sin(deg(slope))

    need = values["place.truck.tyres_need"]
    assert abs(load - hanging) * (1 - 1e-9) <= need <= (load + hanging) * (1 + 1e-9)
