"""The force polygon as it is drawn: closed, to scale, north up, every label in view."""

from __future__ import annotations

import math
from itertools import combinations, pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.drawing.force_polygon import LONGEST_BAR, ForcePolygon, force_polygon
from coursekit.rigging.polygons import place_forces
from coursekit.rigging.rig import Rig
from coursekit.rigging.solver import solve
from tests.core.world import double_line, redirect, situation

KN = 1000.0
# A point is rounded to a tenth of a unit, so the ends of a stroke to two of a half.
ROUNDED = 0.15

Sides = list[tuple[float, float]]
forces = st.tuples(st.floats(50.0, 150e3), st.floats(0.0, 2.0 * math.pi)).map(
    lambda polar: (polar[0] * math.sin(polar[1]), polar[0] * math.cos(polar[1]))
)


def drawn(sides: Sides) -> ForcePolygon:
    words = [*((f"{i}: 12.3 kN",) for i in range(1, len(sides) + 1)), ("resultant", "123 kN")]
    polygon = force_polygon(sides, words, KN)
    assert polygon is not None
    return polygon


def newtons(polygon: ForcePolygon) -> list[np.ndarray]:
    """Measure each stroke on the sheet, east and north."""
    return [
        np.array([stroke.end[0] - stroke.start[0], stroke.start[1] - stroke.end[1]]) / polygon.scale
        for stroke in polygon.strokes
    ]


def assert_to_scale(polygon: ForcePolygon, sides: list[np.ndarray]) -> None:
    for measured, side in zip(newtons(polygon), [*sides, np.sum(sides, axis=0)], strict=True):
        assert np.abs(measured - side).max() <= ROUNDED / polygon.scale


@pytest.mark.independent("unit vectors of numpy from plan positions, summed")
@pytest.mark.parametrize("rig", [redirect(), double_line()], ids=["redirect", "double line"])
def test_a_rig_is_drawn_to_scale_from_its_plan(rig: Rig) -> None:
    solution = solve(situation(), rig)
    turns = 0
    for place in place_forces(solution):
        here = np.array(solution.situation.position(place.at))
        sides = []
        for part in place.parts:
            way = np.array(solution.situation.position(part.toward)) - here
            sides.append(part.tension * way / np.linalg.norm(way))
        assert_to_scale(drawn([part.force for part in place.parts]), sides)
        turns += len(sides) > 1
    assert turns


@pytest.mark.independent("sums of numpy")
@given(st.lists(forces, min_size=1, max_size=4))
def test_any_polygon_is_to_scale_and_in_view(sides: Sides) -> None:
    polygon = drawn(sides)

    assert_to_scale(polygon, [np.array(side) for side in sides])
    for stroke in polygon.strokes:
        for x, y in (stroke.start, stroke.end):
            assert 0.0 <= x <= polygon.width
            assert 0.0 <= y <= polygon.height


@given(st.lists(forces, min_size=1, max_size=4))
def test_every_label_is_in_view_and_over_no_other(sides: Sides) -> None:
    boxes = [label.box for label in drawn(sides).labels]
    polygon = drawn(sides)

    for box in boxes:
        assert min(box.left, box.top) >= 0.0
        assert box.right <= polygon.width
        assert box.bottom <= polygon.height
    assert not any(one.meets(other) for one, other in combinations(boxes, 2))


@pytest.mark.independent("a 3-4-5 triangle")
def test_sides_run_head_to_tail_and_the_resultant_closes_them() -> None:
    polygon = drawn([(0.0, 4 * KN), (3 * KN, 0.0)])
    *sides, resultant = polygon.strokes

    assert all(one.end == other.start for one, other in pairwise(sides))
    assert (resultant.start, resultant.end) == (sides[0].start, sides[-1].end)
    length = math.dist(resultant.start, resultant.end) / polygon.scale
    assert length == pytest.approx(5 * KN, abs=2 * ROUNDED / polygon.scale)
    assert not polygon.flat


@pytest.mark.parametrize(
    "sides",
    [
        [(9 * KN, 0.0)],
        [(0.0, 5 * KN), (0.0, 4.75 * KN)],
        [(5 * KN, 5 * KN), (-4.9 * KN, -4.8 * KN)],
    ],
    ids=["one part", "parallel parts", "parts that nearly cancel"],
)
def test_forces_on_one_line_stand_side_by_side(sides: Sides) -> None:
    polygon = drawn(sides)
    resultant = polygon.strokes[-1]

    assert polygon.flat
    # A resultant on top of a side would hide it.
    for side in polygon.strokes[:-1]:
        along = np.array(side.end) - side.start
        off = np.array(resultant.start) - side.start
        assert abs(along[0] * off[1] - along[1] * off[0]) / np.linalg.norm(along) > 6.0


def test_a_resultant_of_nothing_is_a_point() -> None:
    assert drawn([(0.0, 5 * KN), (0.0, -5 * KN)]).strokes[-1].is_point


def test_without_forces_there_is_no_polygon() -> None:
    assert force_polygon([(0.0, 0.0)], [("1",), ("resultant",)], KN) is None


@given(st.lists(forces, min_size=1, max_size=4), st.sampled_from([KN, 4.4482216152605]))
def test_the_scale_bar_is_a_round_force_that_fits(sides: Sides, unit: float) -> None:
    words = [("x",)] * (len(sides) + 1)
    polygon = force_polygon(sides, words, unit)

    assert polygon is not None
    assert f"{polygon.bar_force / unit:.3e}"[:5] in {"1.000", "2.000", "5.000"}
    assert LONGEST_BAR / 2.6 < polygon.bar <= LONGEST_BAR + ROUNDED
