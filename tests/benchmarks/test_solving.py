"""Solves per second of one rig chain, beside its bare node equilibrium in numpy.

The numpy side knows nothing but points, efficiencies and the resistance: tensions
and reactions of all nodes from one linear system.  It gives none of the limits,
findings and worked steps that a solve gives.
"""

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray
from pytest_benchmark.fixture import BenchmarkFixture
from scipy import linalg

from coursekit.files.scenario_file import read_scenario_text
from coursekit.rigging.solver import Solution, solve
from coursekit.scenario.model import Scenario

pytestmark = pytest.mark.benchmark

SCENARIO = """
format: 1
id: measured
title: A redirect and a double line
level: advanced
brief: Measured only.
stuck_vehicle:
  {name: utility, mass: 2650 kg, at: [0, 0], exit: 90 deg,
   points: {front: {kind: recovery-point, wll: 6000 kg}}}
recovery_vehicle:
  {name: wagon, mass: 2900 kg, at: [18, 12], held: anchored,
   points: {front: {kind: recovery-point, wll: 6000 kg}},
   winch: {pull: 4300 kgf, drum: 64 mm, rope: 10 mm, wraps_per_layer: 8, line: winch-line}}
ground: {surface: wet-grass, slope: 8 deg, downhill: 270 deg}
anchors:
  oak: {kind: tree, at: [24, 0], holds: 90 kN, tested: true}
  ash: {kind: tree, at: [22, -6], holds: 90 kN, tested: true}
gear:
  winch-line: {kind: winch-line, material: synthetic, length: 80 m, mbs: 88 kN}
  sling-1: {kind: roundsling, length: 3 m, wll: 6000 kg}
  sling-2: {kind: roundsling, length: 3 m, wll: 6000 kg}
  bow-1: {kind: bow-shackle, wll: 6.5 t}
  bow-2: {kind: bow-shackle, wll: 6.5 t}
  bow-3: {kind: bow-shackle, wll: 6.5 t}
  block-1: {kind: pulley-block, mbs: 160 kN, efficiency: 0.95}
  block-2: {kind: pulley-block, mbs: 160 kN, efficiency: 0.95}
  damper-1: {kind: line-damper}
rigs:
  given:
    method: winch
    lines:
      - from: recovery_vehicle.winch
        made_of: [winch-line]
        pulleys:
          - {at: oak, by: block-1, with: [{item: sling-1, hitch: basket}, bow-1]}
          - {at: stuck_vehicle.front, by: block-2, with: [bow-2]}
        to: {at: ash, with: [{item: sling-2, hitch: basket}, bow-3]}
        dampers: [damper-1]
tasks:
  - {id: total, ask: quantity, of: resistance.total, rig: given, marks: 1}
"""
WINCH, OAK, VEHICLE, ASH = (18.0, 12.0), (24.0, 0.0), (0.0, 0.0), (22.0, -6.0)
EFFICIENCY = 0.95
EXIT = (1.0, 0.0)


@pytest.fixture(scope="module")
def scenario() -> Scenario:
    return read_scenario_text(SCENARIO, "measured.yaml")


def _toward(start: tuple[float, float], end: tuple[float, float]) -> NDArray[np.float64]:
    way = np.subtract(end, start)
    return np.asarray(way / np.hypot(*way))


Solver = Callable[[NDArray[np.float64], NDArray[np.float64]], Any]


def node_equilibrium(resistance: float, solver: Solver = np.linalg.solve) -> Any:
    """Solve three tensions and the reactions of four nodes as one linear system."""
    stations = (WINCH, OAK, VEHICLE, ASH)
    system, right = np.zeros((11, 11)), np.zeros(11)
    for node in range(4):
        rows = slice(2 * node, 2 * node + 2)
        system[rows, 3 + 2 * node : 5 + 2 * node] = np.eye(2)
        for part in {node - 1, node} & {0, 1, 2}:
            other = part + 1 if part == node else part
            system[rows, part] = -_toward(stations[node], stations[other])
    system[8, :2] = system[9, 1:3] = (EFFICIENCY, -1.0)
    system[10, 7:9] = EXIT
    right[10] = resistance
    return solver(system, right)


def test_one_rig_chain_solved(benchmark: BenchmarkFixture, scenario: Scenario) -> None:
    solution: Solution = benchmark(solve, scenario.situation, scenario.rigs["given"])

    assert solution.is_safe, [finding.rule for finding in solution.findings]


def test_the_same_node_equilibrium_in_numpy(
    benchmark: BenchmarkFixture, scenario: Scenario
) -> None:
    values = solve(scenario.situation, scenario.rigs["given"]).values

    found = benchmark(node_equilibrium, values["resistance.total"])
    assert found[0] == pytest.approx(values["pull"])
    assert np.hypot(*found[5:7]) == pytest.approx(values["place.oak.load"])


def test_the_same_node_equilibrium_in_scipy(
    benchmark: BenchmarkFixture, scenario: Scenario
) -> None:
    values = solve(scenario.situation, scenario.rigs["given"]).values

    found = benchmark(node_equilibrium, values["resistance.total"], linalg.solve)

    assert found[0] == pytest.approx(values["pull"])


def test_a_scenario_file_read(benchmark: BenchmarkFixture) -> None:
    assert benchmark(read_scenario_text, SCENARIO, "measured.yaml").id == "measured"
