"""A kinetic pull on ropes that stiffen, worked or wet ropes, and ropes with straps behind them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from coursekit.mechanics.constants import FOOT, MILE_PER_HOUR
from coursekit.rigging.cases import solve_cases
from coursekit.rigging.gear import Item, Stretch
from coursekit.rigging.rig import Line, Rig
from coursekit.rigging.site import Ground, Policy, Situation
from coursekit.rigging.solver import Solution, solve
from tests.core.world import GEAR, KN, end, kinetic, near, pieces, rules
from tests.reference.integration import CurvedPull, integrate
from tests.reference.sources import independent

METHOD = "equations of motion integrated by scipy's solve_ivp, events located"
BREAKS, LENGTH, STRAIN = 130 * KN, 9.0, 0.30
POWER = Stretch(STRAIN, 1.0, stiffening=2.0)
POINTS = ((0.05, 0.03), (0.10, 0.09), (0.15, 0.20), (0.20, 0.38), (0.25, 0.66), (0.30, 1.00))
TABLE = Stretch(STRAIN, 1.0, curve=POINTS)
Curve = Callable[[Any], Any]


def site(stretch: Stretch = POWER, policy: Policy | None = None, **rope: Any) -> Situation:
    """Return a site with a rope of a stretch, on gravel that holds with little."""
    gear = {item.id: item for item in GEAR}
    gear["rope-k"] = replace(gear["rope-k"], stretch=stretch, **rope)
    return near(gear=gear, ground=Ground(None, 0.3), policy=policy or Policy())


def solved(stretch: Stretch = POWER, speed: float = 2.5, **more: Any) -> Solution:
    return solve(site(stretch, **more), kinetic(speed=speed))


def power_curve(times: float = 1.0) -> Curve:
    a = times * BREAKS / (STRAIN * LENGTH) ** 2
    return lambda e: a * np.sign(e) * np.abs(e) ** 2


def table_curve(times: float = 1.0) -> Curve:
    strains, shares = zip((0.0, 0.0), *POINTS, strict=True)
    stretches, loads = LENGTH * np.array(strains), times * BREAKS * np.array(shares)
    slope = (loads[-1] - loads[-2]) / (stretches[-1] - stretches[-2])
    first = loads[1] / stretches[1]

    def tension(e: Any) -> Any:
        inside = np.interp(e, stretches, loads)
        beyond = loads[-1] + slope * (e - stretches[-1])
        return np.where(e < 0, first * e, np.where(e > stretches[-1], beyond, inside))

    return tension


def integrated(solution: Solution, curve: Curve, speed: float) -> Any:
    values = solution.values
    return integrate(
        CurvedPull(
            values["recovery_mass"],
            values["mass"],
            speed,
            0.0,
            values["pull"],
            values["drive"],
            curve,
        )
    )


@independent(METHOD)
@pytest.mark.parametrize(("stretch", "curve"), [(POWER, power_curve()), (TABLE, table_curve())])
@pytest.mark.parametrize("drive", [0.0, 4 * KN])
def test_the_rig_peaks_as_the_integrated_motion_does(
    stretch: Stretch, curve: Curve, drive: float
) -> None:
    solution = solve(site(stretch), kinetic(speed=2.5, drive=drive))
    motion = integrated(solution, curve, 2.5)

    assert solution.values["kinetic.peak"] == pytest.approx(motion.peak, rel=1e-4)
    assert solution.values["kinetic.breaks_out"] is motion.has_moved


@independent(METHOD)
@pytest.mark.parametrize(("stretch", "curve"), [(POWER, power_curve()), (TABLE, table_curve())])
def test_the_window_of_speeds_is_that_of_the_integrated_motion(
    stretch: Stretch, curve: Curve
) -> None:
    solution = solved(stretch)
    items = [item for line in solution.lines for item in line.items]
    items += [item for place in solution.places for item in place.items]
    limit = min(item.limit for item in items if item.limit is not None)
    highest = integrated(solution, curve, solution.values["kinetic.speed.highest"])
    lowest = solution.values["kinetic.speed.lowest"]

    assert highest.peak * 1.3 == pytest.approx(limit, rel=1e-4)
    assert integrated(solution, curve, lowest * 1.01).has_moved
    assert not integrated(solution, curve, lowest * 0.99).has_moved


@independent("area under the curve by trapezia, with numpy")
@pytest.mark.parametrize(("stretch", "curve"), [(POWER, power_curve()), (TABLE, table_curve())])
def test_stretch_stiffness_and_energy_are_those_of_the_curve(
    stretch: Stretch, curve: Curve
) -> None:
    values = solved(stretch).values
    along = np.linspace(0.0, values["kinetic.stretch"], 20_001)

    assert float(curve(along[-1])) == pytest.approx(values["kinetic.peak"], rel=1e-6)
    assert values["kinetic.energy"] == pytest.approx(np.trapezoid(curve(along), along), rel=1e-6)
    secant = values["kinetic.peak"] / values["kinetic.stretch"]
    assert values["kinetic.stiffness"] == pytest.approx(secant)


def test_an_exponent_of_one_and_a_straight_table_are_the_linear_rope() -> None:
    linear = solved(Stretch(STRAIN)).values
    straight = solved(Stretch(STRAIN, curve=((0.1, 1 / 3), (0.2, 2 / 3), (0.3, 1.0)))).values

    for key in ("kinetic.peak", "kinetic.stretch", "kinetic.stiffness", "kinetic.energy"):
        assert straight[key] == pytest.approx(linear[key], rel=1e-9)
    for key in ("kinetic.speed.lowest", "kinetic.speed.highest"):
        assert straight[key] == pytest.approx(linear[key], rel=1e-9)


def test_a_linear_line_stretches_by_its_peak_over_its_stiffness() -> None:
    values = solved(Stretch(STRAIN)).values

    stiffness = BREAKS / (STRAIN * LENGTH)
    assert values["kinetic.stretch"] == pytest.approx(values["kinetic.peak"] / stiffness)


WORKED = Policy(worked_stiffness=1.5, wet_stiffness=1.2)


@pytest.mark.parametrize("stretch", [Stretch(STRAIN), POWER, TABLE], ids=["line", "power", "table"])
@pytest.mark.parametrize(
    ("state", "factor"),
    [
        ({}, 1.0),
        ({"worked": True}, 1.5),
        ({"wet": True}, 1.2),
        ({"wet": True, "worked": True}, 1.8),
        ({"wet": True, "material": "polyester"}, 1.0),
    ],
)
def test_the_school_says_how_much_stiffer_a_worked_or_wet_rope_is(
    stretch: Stretch, state: dict[str, Any], factor: float
) -> None:
    found = solved(stretch, policy=WORKED, **state).values["kinetic.peak"]
    points = tuple((strain, factor * share) for strain, share in stretch.curve)
    by_hand = solved(replace(stretch, at=factor * stretch.at, curve=points)).values

    assert found == pytest.approx(by_hand["kinetic.peak"], rel=1e-12)


def test_worked_and_wet_count_nothing_unless_the_school_says_so() -> None:
    plain = solved(Stretch(STRAIN)).values["kinetic.peak"]

    assert solved(Stretch(STRAIN), worked=True, wet=True).values["kinetic.peak"] == plain


@pytest.mark.parametrize("stretch", [Stretch(STRAIN), POWER], ids=["line", "power"])
def test_a_rope_taken_as_new_is_found_and_is_dangerous(stretch: Stretch) -> None:
    solution = solved(stretch, policy=WORKED, worked=True)
    key = "kinetic.stiffness" if stretch.is_straight else "kinetic.peak"
    [found] = [
        s for s in solution.chain.slips_at(key, solution.values) if s.slip.key == "rope-as-new"
    ]

    assert found.value == pytest.approx(solved(stretch).values[key])
    assert found.slip.share == 0.0
    assert found.slip.words == {"factors": "rope-k x 1.5"}


def slips(solution: Solution, key: str) -> dict[str, Any]:
    found = solution.chain.slips_at(key, solution.values)
    return {one.slip.key: one.value for one in found if one.step.key == key}


def test_the_usual_mistakes_on_a_stiffening_rope_each_have_their_number() -> None:
    solution = solved(speed=2.5)
    values, found = solution.values, slips(solution, "kinetic.peak")
    linear = solved(Stretch(STRAIN)).values["kinetic.peak"]
    low, high = ("low", "high") if linear < values["kinetic.peak"] else ("high", "low")

    # By hand for T = a e^2: m v^2 / 2 = a e^3 / 3.
    def fixed_end(mass: float) -> float:
        a = BREAKS / (STRAIN * LENGTH) ** 2
        return float(a * (1.5 * mass * 2.5**2 / a) ** (2 / 3))

    assert found["fixed-end"] == pytest.approx(fixed_end(3000.0))
    assert found["masses-added"] == pytest.approx(fixed_end(5600.0))
    assert found["free-end"] == pytest.approx(fixed_end(3000.0 * 2600.0 / 5600.0))
    assert found["kmh-as-metres-per-second"] == pytest.approx(
        solved(speed=9.0).values["kinetic.peak"]
    )
    assert found[f"linear-reads-{low}"] == pytest.approx(linear)
    assert found[f"linear-reads-{high}"] is None
    assert "root-left-out" not in found


def test_a_linear_rope_reads_low_in_a_hard_pull_and_high_in_a_gentle_one() -> None:
    stiff = Stretch(STRAIN, stiffening=3.0)
    gentle = slips(solved(stiff, speed=1.5), "kinetic.peak")
    hard = slips(solve(site(stiff), kinetic(speed=5.0, drive=8 * KN)), "kinetic.peak")

    assert (gentle["linear-reads-low"], hard["linear-reads-high"]) == (None, None)
    assert gentle["linear-reads-high"] > solved(stiff, speed=1.5).values["kinetic.peak"]
    assert hard["linear-reads-low"] > 0.0


def test_in_feet_the_mistakes_are_those_of_feet() -> None:
    us = solve(replace(site(), us_units=True), kinetic(speed=10 * MILE_PER_HOUR))
    found = slips(us, "kinetic.peak")

    as_feet = solved(speed=10 * FOOT).values["kinetic.peak"]
    assert found["mph-as-feet-per-second"] == pytest.approx(as_feet)
    one_foot = solve(site(length=FOOT), kinetic(speed=10 * MILE_PER_HOUR)).values["kinetic.peak"]
    assert found["strain-as-feet"] == pytest.approx(one_foot)


def test_the_mistakes_behind_the_peak_have_their_numbers_too() -> None:
    solution = solved()
    values = solution.values

    assert slips(solution, "kinetic.stretch")["stated-stretch"] == pytest.approx(2.7)
    secant = BREAKS / 2.7
    assert slips(solution, "kinetic.stiffness")["stiffness-of-the-label"] == pytest.approx(secant)
    half = values["kinetic.peak"] * values["kinetic.stretch"] / 2
    assert slips(solution, "kinetic.energy")["half-for-area"] == pytest.approx(half)
    # A mass on a fixed end, T = a e^2: m v^2 / 2 = a e^3 / 3 at the resistance.
    a = BREAKS / 2.7**2
    energy = a * (values["pull"] / a) ** 1.5 / 3
    lowest = slips(solution, "kinetic.speed.lowest")
    assert lowest["stuck-mass"] == pytest.approx((2 * energy / 2600.0) ** 0.5)
    assert set(slips(solution, "kinetic.speed.highest")) == {
        "mbs-for-limit",
        "allowance-left-out-of-speed",
        "fixed-end",
        "masses-added",
    }


def in_a_row(*items: str) -> Rig:
    """Return a pull on items joined end to end, each with a soft shackle behind it."""
    made_of = [items[0]]
    for number, (_, item) in enumerate(pairwise(items)):
        made_of += [f"link-{number}", item]
    line = Line(
        "recovery_vehicle.rear",
        tuple(made_of),
        end("stuck_vehicle.front", "soft-1"),
        joined_with=pieces("soft-2"),
        dampers=("damper-1",),
    )
    return Rig("kinetic", (line,), speed=2.0)


def row_site(**strap: Any) -> Situation:
    plain = site(Stretch(STRAIN))
    link = Item("link-0", "soft-shackle", mbs=200 * KN)
    tow = replace(plain.gear["tow-1"], **strap)
    return replace(plain, gear={**plain.gear, "link-0": link, "tow-1": tow})


@independent("a node between two springs, both pulling alike")
def test_a_strap_of_stated_stretch_is_a_spring_in_series() -> None:
    values = solve(row_site(stretch=Stretch(0.05)), in_a_row("rope-k", "tow-1")).values

    rope, strap = BREAKS / 2.7, 90 * KN / (0.05 * 5.0)
    # The node stands where rope x = strap (1 - x) of one metre.
    share = strap / (rope + strap)
    assert values["kinetic.stiffness"] == pytest.approx(rope * share)
    assert values["kinetic.stiffness"] < rope


@pytest.mark.parametrize("stretch", [None, Stretch(None)], ids=["unstated", "low"])
def test_a_strap_that_does_not_stretch_adds_its_length_alone(stretch: Stretch | None) -> None:
    alone = solve(row_site(), kinetic(speed=2.0)).values
    behind = solve(row_site(stretch=stretch), in_a_row("rope-k", "tow-1")).values

    assert behind["kinetic.stiffness"] == alone["kinetic.stiffness"]
    assert behind["kinetic.peak"] == alone["kinetic.peak"]
    assert behind["line.available"] == pytest.approx(alone["line.available"] + 5.0)
    # 1.5 x the rigged length: strap and all (recovery strap standard, second-hand).
    assert behind["stand_off"] == pytest.approx(1.5 * 14.0)


def test_the_weakest_of_a_row_sets_the_highest_speed() -> None:
    strong = solve(row_site(stretch=Stretch(0.05)), in_a_row("rope-k", "tow-1"))
    weak = solve(row_site(stretch=Stretch(0.05), wll=12 * KN), in_a_row("rope-k", "tow-1"))
    at_limit = weak.values["kinetic.speed.highest"]
    again = replace(in_a_row("rope-k", "tow-1"), speed=at_limit)

    assert at_limit < strong.values["kinetic.speed.highest"]
    held = solve(row_site(stretch=Stretch(0.05), wll=12 * KN), again)
    assert held.values["item.tow-1.use"] == pytest.approx(1.0)
    assert weak.values["item.tow-1.limit"] == 12 * KN


def test_every_part_of_a_row_carries_the_design_load() -> None:
    solution = solve(row_site(stretch=Stretch(0.05)), in_a_row("rope-k", "tow-1"))

    [line] = solution.lines
    assert {item.load for item in line.items} == {solution.values["kinetic.design"]}


def test_a_linear_strap_behind_a_stiffening_rope_is_reckoned_with_it() -> None:
    row = row_site(stretch=Stretch(0.05))
    curved = replace(row, gear={**row.gear, "rope-k": replace(row.gear["rope-k"], stretch=POWER)})
    values = solve(curved, in_a_row("rope-k", "tow-1")).values

    a, strap = BREAKS / 2.7**2, 90 * KN / 0.25
    stretch = (values["kinetic.peak"] / a) ** 0.5 + values["kinetic.peak"] / strap
    assert values["kinetic.stretch"] == pytest.approx(stretch)


def test_a_rope_that_states_no_strength_is_never_passed_as_doing_the_job() -> None:
    solution = solve(site(mbs=None, wll=40 * KN), kinetic(speed=1.0))

    assert "stretch-unknown" in rules(solution.findings)
    assert solution.values["kinetic.peak"] is None
    assert not solution.does_the_job


@pytest.mark.parametrize("role", ["pull", "hold"])
def test_a_holding_line_must_not_stretch(role: str) -> None:
    pull = kinetic(speed=1.0).pull_line
    hold = Line(
        "boulder",
        ("strap-k" if role == "hold" else "tow-1",),
        end("stuck_vehicle.rear", "bow-1"),
        role="hold",
        joined_with=pieces("sling-1", "soft-3"),
    )
    found = solve(site(), Rig("kinetic", (pull, hold), speed=1.0)).findings

    assert ("kinetic-as-hold-line" in rules(found)) is (role == "hold")


def test_a_stiffening_rope_in_many_cases_is_each_case_alone() -> None:
    masses = np.linspace(2000.0, 3200.0, 13)
    plain = site()

    def place(fields: Any) -> tuple[Situation, Rig]:
        return replace(plain, stuck=replace(plain.stuck, mass=fields["mass"])), kinetic(speed=2.0)

    many = solve_cases(place, {"mass": masses})
    alone = [solve(*place({"mass": float(mass)})).values for mass in masses]
    for key in ("kinetic.peak", "kinetic.energy", "kinetic.speed.highest"):
        assert list(many.value(key)) == [values[key] for values in alone]
