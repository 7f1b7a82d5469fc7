"""A plan and a chart in feet and pounds are as true to scale as those in metres and kilonewtons.

One foot is 0.3048 m and one pound-force 4.448 221 615 260 5 N, exactly (NIST SP 811, B.8).
"""

from __future__ import annotations

import math
import re
from dataclasses import replace
from itertools import combinations

import pytest

from coursekit.drawing.canvas import BLUE
from coursekit.drawing.kinetic_chart import SnatchLoads, describe_snatch, kinetic_chart
from coursekit.drawing.plan_sheet import Shown
from coursekit.drawing.site_plan import SitePlan, site_plan
from coursekit.rigging.solver import Solution, solve
from tests.shell.drawing.layouts import ALONE, LAYOUTS

FOOT = 0.3048
US = Shown(unit="lbf", length="ft")
SOLVED = {name: solve(situation, rig) for name, (situation, rig) in LAYOUTS.items()}
each_layout = pytest.mark.parametrize("solution", SOLVED.values(), ids=SOLVED)
SNATCH = SnatchLoads((0.0, 0.3, 0.6), (0.0, 31_772.7, 0.0), 20_000.0, 31_772.7, 41_304.5, 46_500.0)

# A mark on the upright axis: its height on the sheet, and the number beside it.
TICK = r'y="([\d.]+)" [^>]*/>\s*</g>\s*</g>\s*<g id="text_\d+">\s*<!-- (\d{4,}) -->'


def units_per_foot(plan: SitePlan) -> float:
    return plan.strip.scale.length / float(plan.strip.scale.text.removesuffix(" ft"))


@each_layout
def test_the_scale_bar_is_a_round_number_of_feet(solution: Solution) -> None:
    bar = site_plan(solution.situation, solution=solution, shown=US).strip.scale

    assert re.fullmatch(r"(1|2|5|10|20|50|100) ft", bar.text)


@each_layout
def test_distances_by_the_bar_are_those_on_the_ground(solution: Solution) -> None:
    plan = site_plan(solution.situation, solution=solution, shown=US)
    anchors = solution.situation.anchors

    for one, other in combinations(plan.marks, 2):
        feet = math.dist(anchors[one.name].at, anchors[other.name].at) / FOOT
        drawn = math.dist((one.x, one.y), (other.x, other.y)) / units_per_foot(plan)
        assert drawn == pytest.approx(feet, abs=0.2)


@each_layout
def test_the_ground_is_drawn_the_same_in_either_unit(solution: Solution) -> None:
    in_feet = site_plan(solution.situation, solution=solution, shown=US)
    in_metres = site_plan(solution.situation, solution=solution)

    assert in_feet.marks == in_metres.marks
    assert in_feet.turns == in_metres.turns


def test_contours_lie_the_stated_number_of_feet_of_fall_apart() -> None:
    plan = site_plan(ALONE, shown=US)
    fall = float(re.findall(r"every ([\d.]+) ft", " ".join(plan.strip.slope.lines))[0])
    lines = [[float(n) for n in re.findall(r"-?[\d.]+", path)] for path in plan.contours]
    (x1, y1, x2, y2), (x3, y3, *_) = lines[0], lines[1]
    length = math.dist((x1, y1), (x2, y2))
    apart = abs((x3 - x1) * (y2 - y1) - (y3 - y1) * (x2 - x1)) / length / units_per_foot(plan)

    # The ground falls 5 degrees.
    assert apart * math.tan(math.radians(5)) == pytest.approx(fall, rel=0.02)


@each_layout
def test_the_distance_to_keep_is_told_in_feet_and_never_too_short(solution: Solution) -> None:
    plan = site_plan(solution.situation, solution=solution, shown=US)
    told = re.findall(r"within ([\d.]+) ft", plan.description)
    hatched = re.findall(r"within ([\d.]+) ft", " ".join(note.text for note in plan.strip.notes))
    stand_off = solution.values["stand_off"] / FOOT

    assert told == hatched
    assert stand_off <= float(told[0]) + 1e-9
    assert float(told[0]) <= stand_off * 1.01


def test_the_chart_speaks_in_pounds() -> None:
    us = replace(SNATCH, unit="lbf", weakest="the strap")
    described = describe_snatch(us)

    # 31,772.7, 20,000 and 41,304.5 N: 7,142.8, 4,496.2 and 9,285.6 lbf, up;
    # 46,500 N: 10,453.6 lbf, down.
    assert "peak 7,150 lbf, resistance 4,500 lbf" in described
    assert "design load 9,290 lbf, smallest limit 10,400 lbf, the strap" in described
    assert b"kN" not in kinetic_chart(us)
    assert b"force, lbf" in kinetic_chart(us)


def test_the_curve_of_the_chart_stands_at_its_pounds() -> None:
    chart = kinetic_chart(replace(SNATCH, unit="lbf")).decode()
    ticks = re.findall(TICK, chart)
    curve = re.findall(rf'd="([^"]+)"[^>]*stroke="{BLUE}"', chart)
    peak = min(float(y) for path in curve for _, y in re.findall(r"[ML] ([\d.]+) ([\d.]+)", path))
    (y1, pounds1), (y2, pounds2) = ((float(y), float(n)) for y, n in (ticks[0], ticks[-1]))

    # 31,772.7 N are 7,142.8 lbf.
    assert pounds1 + (pounds2 - pounds1) * (peak - y1) / (y2 - y1) == pytest.approx(
        7142.8, rel=1e-3
    )
