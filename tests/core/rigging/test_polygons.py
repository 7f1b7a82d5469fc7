"""Force polygons: the parts at each place sum to the load that the solver gives it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.rigging.polygons import PlaceForces, place_forces
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import METHODS, Situation
from coursekit.rigging.solver import Solution, solve
from tests.core.scenario.stock import IDS, scenario
from tests.core.world import (
    deg,
    double_line,
    kinetic,
    near,
    recovery,
    redirect,
    self_recovery,
    situation,
    tow,
    with_own_winch,
)

RIGS = {
    "redirect": (situation(), redirect()),
    "double line": (situation(), double_line()),
    "self-recovery": (with_own_winch(), self_recovery()),
    "kinetic": (near(), kinetic()),
    "tow": (near(), tow()),
}


def assert_closed(solution: Solution) -> None:
    """Hold each polygon against the place load, with vectors of numpy from plan positions."""
    loads = {place.at: place for place in solution.places}
    for forces in place_forces(solution):
        here = np.array(solution.situation.position(forces.at))
        sides = []
        for part in forces.parts:
            way = np.array(solution.situation.position(part.toward)) - here
            sides.append(part.tension * way / np.linalg.norm(way))
        came_to = np.sum(sides, axis=0)
        assert np.linalg.norm(came_to) == pytest.approx(loads[forces.at].load, rel=1e-9, abs=1e-6)
        assert forces.resultant == pytest.approx(tuple(came_to), rel=1e-9, abs=1e-6)


@pytest.mark.independent("unit vectors of numpy from plan positions, summed")
@pytest.mark.parametrize("method", METHODS)
@pytest.mark.parametrize("name", RIGS)
def test_the_polygon_closes_at_every_place(name: str, method: str) -> None:
    site, rig = RIGS[name]
    solution = solve(replace(site, method=method), rig)

    assert len(place_forces(solution)) == len(solution.places)
    assert_closed(solution)


@pytest.mark.independent("unit vectors of numpy from plan positions, summed")
@pytest.mark.parametrize("name", IDS)
def test_it_closes_in_every_rig_of_the_scenarios(name: str) -> None:
    for rig in scenario(name).rigs.values():
        assert_closed(solve(scenario(name).situation, rig))


@given(east=st.floats(-30.0, 30.0), north=st.floats(4.0, 30.0))
def test_it_closes_wherever_the_recovery_vehicle_stands(east: float, north: float) -> None:
    assert_closed(solve(situation(recovery=recovery(at=(east, north + 12.0))), redirect()))


def forces_at(site: Situation, rig: Rig, at: str) -> PlaceForces:
    return next(each for each in place_forces(solve(site, rig)) if each.at == at)


@pytest.mark.source("rigging tables: 90 degrees between equal parts, factor 1.41")
def test_a_right_angle_of_equal_parts_loads_the_place_with_1_41_of_one() -> None:
    site = situation(method="field-rule", recovery=recovery(at=(20.0, 30.0)))
    turned = replace(site.anchors["oak"], at=(20.0, 0.0))
    forces = forces_at(replace(site, anchors={**site.anchors, "oak": turned}), redirect(), "oak")

    assert forces.angle == pytest.approx(deg(90.0))
    assert forces.load / forces.parts[0].tension == pytest.approx(1.41, abs=0.005)


def test_the_first_part_comes_from_the_winch_and_the_next_carries_less() -> None:
    oak = forces_at(situation(), redirect(), "oak")

    assert [part.toward for part in oak.parts] == ["recovery_vehicle.winch", "stuck_vehicle.front"]
    assert oak.parts[1].tension == pytest.approx(0.90 * oak.parts[0].tension)
    assert oak.turns


def test_a_place_of_one_part_has_no_angle_and_its_bearing_is_that_of_the_part() -> None:
    winch = forces_at(situation(), redirect(), "recovery_vehicle.winch")

    assert winch.angle is None
    assert not winch.turns
    assert winch.bearing == pytest.approx(winch.parts[0].bearing)
    # Level with the winch, 10 m to the north: straight north.
    assert math.cos(winch.bearing) == pytest.approx(1.0)


def test_a_line_back_to_its_own_vehicle_keeps_its_points_apart() -> None:
    ends = {each.at: len(each.parts) for each in place_forces(solve(*RIGS["double line"]))}

    assert ends["stuck_vehicle.front"] == 2
    assert (ends["recovery_vehicle.winch"], ends["recovery_vehicle.front"]) == (1, 1)


def test_a_pull_without_meaning_has_no_polygon() -> None:
    away = situation(stuck=replace(situation().stuck, exit=deg(270.0)))

    assert place_forces(solve(away, redirect())) == ()
