"""The chain against the same rig as one linear system, solved by numpy.

The chain walks along the line; here every tension and every place's reaction
is an unknown of one matrix, so an error in the walk can't hide in the check.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.rigging.rig import Line, Rig
from coursekit.rigging.site import Anchor, Situation
from coursekit.rigging.solver import Solution, solve
from tests.core.world import deg, double_line, end, redirect, situation, stuck, turn, winch_line


def matrix_solution(site: Situation, line: Line, resistance: float) -> dict[str, complex]:
    """Return the pull and the force on each place, from one linear solve.

    Unknowns: the tension of each part, then two components for each distinct
    place.  Equations: tension over each pulley, force balance of each place,
    and the balance of the stuck vehicle along its exit.
    """
    stations = line.stations
    at = [complex(*site.position(place)) for place in stations]
    parts = len(stations) - 1
    places = list(dict.fromkeys(stations))
    size = parts + 2 * len(places)
    a, b = np.zeros((size, size)), np.zeros(size)
    way = [(at[i + 1] - at[i]) / abs(at[i + 1] - at[i]) for i in range(parts)]
    for i in range(1, parts):
        eta = site.gear[line.pulleys[i - 1].by].efficiency
        a[i - 1, i], a[i - 1, i - 1] = 1.0, -float(eta or 0.0)
    row = parts - 1
    bearing = site.stuck.exit or 0.0
    exit_way = complex(math.sin(bearing), math.cos(bearing))
    for i in range(parts):
        for place, pull in ((stations[i], way[i]), (stations[i + 1], -way[i])):
            column = parts + 2 * places.index(place)
            a[column, i] -= pull.real
            a[column + 1, i] -= pull.imag
            if place.startswith("stuck_vehicle."):
                a[row, i] += (pull * exit_way.conjugate()).real
    b[row] = resistance
    for number in range(2 * len(places)):
        a[parts + number, parts + number] = 1.0
    x = np.linalg.solve(a, b)
    force = {
        place: complex(x[parts + 2 * n], x[parts + 2 * n + 1]) for n, place in enumerate(places)
    }
    return {"pull": complex(x[0], 0.0), **force}


def assert_agree(solution: Solution) -> None:
    line = solution.rig.pull_line
    expected = matrix_solution(solution.situation, line, solution.values["resistance.total"])

    assert solution.values["pull"] == pytest.approx(expected["pull"].real, rel=1e-9)
    for place in solution.places:
        assert place.load == pytest.approx(abs(expected[place.at]), rel=1e-9, abs=1e-6)


coordinates = st.floats(-40.0, 40.0).map(lambda x: round(x, 2))


@st.composite
def winch_rigs(draw: st.DrawFn) -> tuple[Situation, Rig]:
    """A winch line past one to four pulleys, some on the stuck vehicle."""
    count = draw(st.integers(0, 4))
    anchors, turns = {}, []
    site = situation(stuck=stuck(exit=deg(draw(st.floats(0.0, 359.0)))))
    gear = dict(site.gear)
    for number in range(count):
        block = f"b{number}"
        gear[block] = replace(site.gear["block-1"], id=block, efficiency=draw(st.floats(0.5, 1.0)))
        if number % 2 == 0 and draw(st.booleans()):
            turns.append(turn("stuck_vehicle.front", block, "soft-1"))
        else:
            name = f"a{number}"
            at = (draw(coordinates) + 50.0 * number + 65.0, draw(coordinates))
            anchors[name] = Anchor(name, "tree", at, 90e3)
            turns.append(turn(name, block, "sling-1", "soft-1"))
    last = turns[-1].at if turns else "recovery_vehicle.winch"
    home = "recovery_vehicle.front" if last.startswith("stuck") else "stuck_vehicle.rear"
    line = winch_line(*turns, to=end(home, "bow-1"))
    return replace(site, anchors=anchors, gear=gear), Rig("winch", (line,))


@pytest.mark.independent("one linear system for all tensions and reactions, numpy.linalg.solve")
@settings(max_examples=150)
@given(winch_rigs())
def test_random_rigs_agree_with_one_linear_solve(case: tuple[Situation, Rig]) -> None:
    site, rig = case
    solution = solve(site, rig)
    if solution.values["pull"] is None:
        assert "wrong-direction" in {finding.rule for finding in solution.findings}
    elif solution.values["advantage.actual"] > 1e-3:
        assert_agree(solution)


@pytest.mark.parametrize("rig", [redirect(), double_line()], ids=["redirect", "double line"])
def test_plain_rigs_agree_with_one_linear_solve(rig: Rig) -> None:
    assert_agree(solve(situation(), rig))
