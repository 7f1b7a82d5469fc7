"""The site plan is a map: north up, true to scale, arrows and contours as on the ground."""

from __future__ import annotations

import math
import re
import subprocess
import sys
from itertools import combinations

import pytest

from coursekit.drawing.plan_frame import Box, Point
from coursekit.drawing.plan_shapes import ANCHOR_REACH, BODY_LENGTH, Body
from coursekit.drawing.plan_sheet import Shown
from coursekit.drawing.site_plan import SitePlan, site_plan
from coursekit.rigging.solver import Solution, solve
from tests.shell.drawing.layouts import ALONE, DOWNHILL, LAYOUTS, REDIRECT, SINGLE, SNATCH

SOLVED = {name: solve(situation, rig) for name, (situation, rig) in LAYOUTS.items()}
each_layout = pytest.mark.parametrize("solution", SOLVED.values(), ids=SOLVED)


def units_per_metre(plan: SitePlan) -> float:
    return plan.strip.scale.length / float(plan.strip.scale.text.removesuffix(" m"))


def facing(body: Body) -> Point:
    """Return the direction of its front on the sheet; turned from up, clockwise."""
    turn = math.radians(body.turn)
    return math.sin(turn), -math.cos(turn)


def ends(body: Body) -> tuple[Point, Point]:
    x, y = facing(body)
    half = BODY_LENGTH / 2
    return (body.x + x * half, body.y + y * half), (body.x - x * half, body.y - y * half)


@each_layout
def test_places_lie_as_on_the_ground_with_north_up(solution: Solution) -> None:
    plan = site_plan(solution.situation, solution=solution)
    scale = units_per_metre(plan)
    anchors = solution.situation.anchors

    for one, other in combinations(plan.marks, 2):
        east, north = (
            there - here
            for here, there in zip(anchors[one.name].at, anchors[other.name].at, strict=True)
        )
        assert (other.x - one.x) / scale == pytest.approx(east, abs=0.05)
        assert (one.y - other.y) / scale == pytest.approx(north, abs=0.05)


@each_layout
def test_gear_is_joined_at_the_drawn_end_of_a_vehicle(solution: Solution) -> None:
    """So that a distance taken from the plan is the distance that the line must reach."""
    plan = site_plan(solution.situation, solution=solution)
    vehicles = dict(solution.situation.vehicles())
    joined = {
        name: min(
            ends(body),
            key=lambda end: min(
                math.dist(end, tip) for p in plan.parts for tip in (p.start, p.end)
            ),
        )
        for body in plan.bodies
        for name in [f"{body.role}_vehicle"]
    }

    for one, other in combinations(joined, 2):
        metres = math.dist(vehicles[one].at, vehicles[other].at)
        drawn = math.dist(joined[one], joined[other]) / units_per_metre(plan)
        assert drawn == pytest.approx(metres, abs=0.1)


@each_layout
def test_everything_lies_on_the_sheet(solution: Solution) -> None:
    plan = site_plan(solution.situation, solution=solution)
    sheet = Box(0.0, 0.0, plan.width, plan.height)
    points = [tip for body in plan.bodies for tip in ends(body)]
    points += [tip for part in plan.parts for tip in (part.start, part.end)]
    points += [tip for arrow in plan.arrows for tip in (arrow.start, arrow.end)]
    boxes = [Box.around(point, 0.0, 0.0) for point in points]
    boxes += [Box.around((m.x, m.y), 2 * ANCHOR_REACH, 2 * ANCHOR_REACH) for m in plan.marks]
    boxes += [label.box for label in plan.labels]

    assert [box for box in boxes if not sheet.holds(box)] == []


def test_a_vehicle_faces_its_way_out_or_away_from_it_by_the_point_in_use() -> None:
    """The utility leaves eastward by its rear; the van leaves toward 250 degrees, front first."""
    utility = site_plan(SINGLE).bodies[0]
    van = site_plan(DOWNHILL).bodies[0]

    assert utility.turn == 270.0
    assert van.turn == 250.0


def test_a_recovery_vehicle_looks_along_its_line() -> None:
    """From (16, -14) to the elm at (24, 1): a bearing of atan(8 / 15), by hand 28.1 degrees."""
    solution = SOLVED["redirect"]

    assert site_plan(REDIRECT, solution=solution).bodies[1].turn == pytest.approx(28.1)


def test_a_load_points_along_the_sum_of_the_parts_as_drawn() -> None:
    plan = site_plan(REDIRECT, solution=SOLVED["redirect"])
    load = next(arrow for arrow in plan.arrows if arrow.kind == "load")
    turn = plan.turns[0]
    pulls = []
    for part in plan.parts:
        near, far = sorted((part.start, part.end), key=lambda tip: math.dist(tip, turn))
        size = (part.load or 0.0) / math.dist(near, far)
        pulls.append(((far[0] - near[0]) * size, (far[1] - near[1]) * size))
    x, y = (sum(axis) for axis in zip(*pulls, strict=True))

    angle = math.atan2(load.end[1] - load.start[1], load.end[0] - load.start[0])
    assert angle == pytest.approx(math.atan2(y, x), abs=0.01)


def test_contours_run_across_the_slope_and_lie_a_stated_fall_apart() -> None:
    plan = site_plan(ALONE)
    fall = float(re.findall(r"every ([\d.]+) m", " ".join(plan.strip.slope.lines))[0])
    lines = [[float(n) for n in re.findall(r"-?[\d.]+", path)] for path in plan.contours]
    (x1, y1, x2, y2), (x3, y3, *_) = lines[0], lines[1]
    length = math.dist((x1, y1), (x2, y2))
    across = ((x2 - x1) / length, (y2 - y1) / length)
    apart = abs((x3 - x1) * across[1] - (y3 - y1) * across[0]) / units_per_metre(plan)
    downhill = math.radians(110)

    assert apart * math.tan(math.radians(5)) == pytest.approx(fall, rel=0.02)
    assert across[0] * math.sin(downhill) - across[1] * math.cos(downhill) == pytest.approx(
        0.0, abs=0.01
    )
    assert plan.strip.slope.turn == 110.0


def test_level_ground_has_no_contours_and_says_so() -> None:
    plan = site_plan(SNATCH)

    assert plan.contours == ()
    assert plan.strip.slope.turn is None
    assert plan.strip.slope.lines == ("level ground",)


@each_layout
def test_the_area_to_keep_out_of_reaches_as_far_as_the_stand_off(solution: Solution) -> None:
    plan = site_plan(solution.situation, solution=solution, shown=Shown(whole_area=True))

    assert plan.area is not None
    assert plan.area.reach / units_per_metre(plan) == pytest.approx(
        solution.values["stand_off"], rel=0.01
    )


@each_layout
def test_the_inside_of_each_angle_and_the_run_beyond_each_end_are_closer_hatched(
    solution: Solution,
) -> None:
    plan = site_plan(solution.situation, solution=solution)
    lines = solution.rig.lines

    assert plan.area is not None
    assert len(plan.area.dense) == sum(len(line.pulleys) + 2 for line in lines)


@each_layout
def test_the_whole_area_is_in_view_where_asked(solution: Solution) -> None:
    plan = site_plan(solution.situation, solution=solution, shown=Shown(whole_area=True))

    assert plan.area is not None
    for path in plan.area.paths:
        numbers = [float(number) for number in re.findall(r"-?[\d.]+", path)]
        for x, y in zip(numbers[::2], numbers[1::2], strict=True):
            assert plan.area.reach <= x <= plan.width - plan.area.reach
            assert plan.area.reach <= y <= plan.height - plan.area.reach


def test_parts_that_run_along_each_other_lie_side_by_side() -> None:
    there, back = site_plan(SINGLE, solution=SOLVED["double line"]).parts

    assert abs(there.start[1] - back.start[1]) == pytest.approx(7.0)
    assert there.start[0] == pytest.approx(back.end[0])


def test_a_plan_without_a_rig_shows_the_ground_alone() -> None:
    plan = site_plan(REDIRECT)

    assert (plan.area, plan.parts, plan.turns, plan.weakest) == (None, (), (), None)
    assert [arrow.kind for arrow in plan.arrows] == ["exit"]


@each_layout
def test_the_same_rig_gives_the_same_plan(solution: Solution) -> None:
    again = solve(solution.situation, solution.rig)

    assert site_plan(solution.situation, solution=solution) == site_plan(
        again.situation, solution=again
    )


def test_the_plan_needs_no_chart_library() -> None:
    program = (
        "import sys; from coursekit.drawing.site_plan import site_plan;"
        "from tests.shell.drawing.layouts import SINGLE, SINGLE_RIG;"
        "site_plan(SINGLE, SINGLE_RIG); print('matplotlib' in sys.modules)"
    )

    run = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, check=True
    )
    assert run.stdout.strip() == "False"
