"""One invented scenario that uses every part of the format, and changes to it."""

from collections.abc import Callable

from coursekit.files.scenario_file import read_scenario_text
from coursekit.problems import Problem, Problems

FILE = "ford-exit.yaml"
FORD = """\
format: 1
id: ford-exit
title: Bogged at the ford exit
level: foundation
brief: >
  The utility stands in the wet grass above the ford.
method: vector
expect: go
stuck_vehicle:
  name: loaded utility 4x4
  mass: 2650 kg
  at: [0, 0]
  exit: 90 deg
  travel: 6 m
  points:
    rear: {kind: recovery-point, wll: 5 t, edge: rounded}
recovery_vehicle:
  name: wagon with winch
  mass: 2900 kg
  at: [22, 0]
  grip: 0.35
  held: anchored
  points: {front: {kind: recovery-point, wll: 5 t}}
  winch: {pull: 4300 kgf, drum: 64 mm, rope: 10 mm, wraps_per_layer: 8, dead_wraps: 10,
          line: winch-line}
ground:
  surface: wet-grass
  slope: 8 deg
  downhill: 270 deg
  bogged: none
anchors:
  oak: {kind: tree, at: [30, -4], holds: 60 kN, tested: false}
gear:
  winch-line: {kind: winch-line, material: synthetic, length: 28 m, mbs: 88 kN, stretch: low}
  line-2: {kind: extension-line, length: 12 m, mbs: 88 kN, made: 2023-04-30}
  sling-1: {kind: roundsling, length: 3 m, wll: 3000 kg}
  bow-1: {kind: bow-shackle, wll: 3.25 t, mbs: 19.5 t}
  soft-1: {kind: soft-shackle, mbs: 140 kN}
  block-1: {kind: pulley-block, mbs: 160 kN, efficiency: 0.95, bearing: rolling}
  ring-1: {kind: pulley-ring, mbs: 160 kN, efficiency: 0.70}
  hook-1: {kind: hook, wll: 3 t, latch: true}
  rope-k: {kind: kinetic-rope, length: 9 m, mbs: 125 kN, wet: false,
           stretch: {strain: 30 %, at: 100 %}}
  old-strap: {kind: kinetic-strap, length: 9 m, mbs: 110 kN, condition: [cut, no-label]}
  damper-1: {kind: line-damper}
policy: {}
vary:
  stuck_vehicle.mass: {from: 2200 kg, to: 3100 kg, step: 50 kg}
  ground.slope: {from: 4 deg, to: 10 deg, step: 1 deg}
rigs:
  given:
    method: winch
    lines:
      - from: recovery_vehicle.winch
        made_of: [winch-line]
        to: {at: stuck_vehicle.rear, with: [bow-1]}
        dampers: [damper-1]
  turned:
    method: winch
    lines:
      - role: pull
        from: recovery_vehicle.winch
        made_of: [winch-line, soft-1, line-2]
        pulleys:
          - {at: oak, by: ring-1, with: [{item: sling-1, hitch: basket, angle: 40 deg}, bow-1]}
        to: {at: stuck_vehicle.rear, with: [hook-1]}
pass: 75 %
weakest_may_change: true
tasks:
  - {id: total, ask: quantity, of: resistance.total, rig: given, marks: 3,
     tolerance: {below: 3 %, above: 8 %}, unit: kN}
  - {id: build, ask: rig, marks: 6, scheme: {safe: 3, reaches: 1, margin: 1, economy: 1}}
  - {id: rear, ask: quantity, of: place.stuck_vehicle.rear.load, rig: own, marks: 3,
     tolerance: 200 N, after: [total, build]}
  - {id: weak, ask: item, of: weakest, rig: own, marks: 1}
  - {id: bin, ask: items, of: unfit, marks: 2}
  - {id: go, ask: choice, marks: 1, options: {go: pull now, no-go: leave it}, answer: go,
     because: it holds, critical: true}
  - {id: steps, ask: order, marks: 2, items: [brief everyone, walk the line, take the slack]}
"""


def changed(*changes: tuple[str, str], text: str = FORD) -> str:
    """Return the scenario with texts replaced, each of which stands in it."""
    for old, new in changes:
        assert old in text, old
        text = text.replace(old, new, 1)
    return text


def problems_of(text: str, name: str = FILE) -> tuple[Problem, ...]:
    """Return the problems of a text; none where it is a scenario."""
    return problems_raised(lambda: read_scenario_text(text, name))


def problem_at(field: str, text: str) -> str:
    """Return the one problem of a field, as it is shown."""
    found = [str(problem) for problem in problems_of(text) if problem.where.field == field]
    assert len(found) == 1, [str(problem) for problem in problems_of(text)]
    return found[0]


def problems_raised(read: Callable[[], object]) -> tuple[Problem, ...]:
    """Return what a reading raises; any other error passes and fails the test."""
    try:
        read()
    except Problems as problems:
        return problems.items
    return ()


def line_of(words: str, text: str = FORD) -> int:
    """Return the line on which words stand."""
    return text[: text.index(words)].count("\n") + 1
