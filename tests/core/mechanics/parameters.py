"""Values that each parameter of the formulas may take, by its name in the glossary."""

import inspect
import math
from collections.abc import Callable, Mapping
from itertools import accumulate
from typing import Any

from hypothesis import strategies as st

from coursekit.mechanics.sling import HITCHES, RULES

Strategy = st.SearchStrategy[Any]


def numbers(low: float, high: float) -> st.SearchStrategy[float]:
    """Return floats between two bounds: nothing, or an amount that a vehicle may meet.

    A millionth of the range is float dust, and a formula may take dust for nothing.
    """
    dust = 1e-6 * max(abs(low), abs(high))
    return st.floats(low, high).map(
        lambda value: 0.0 if low <= 0.0 and abs(value) < dust else value
    )


def _rising(least: float, most: float) -> Strategy:
    """Return four numbers that rise from above 0, the last at most four times `most`."""
    steps = st.lists(numbers(least, most), min_size=4, max_size=4)
    return steps.map(lambda parts: list(accumulate(parts)))


def _count(low: int, high: int) -> st.SearchStrategy[int]:
    return st.integers(low, high)


force = numbers(0.0, 2e5)
some_force = numbers(10.0, 2e5)
mass = numbers(300.0, 40_000.0)
length = numbers(0.5, 100.0)
slope = numbers(0.0, math.radians(60))
share = numbers(0.0, 1.0)

PARAMETERS: Mapping[str, Strategy] = {
    "advantage": numbers(0.05, 20.0),
    "angle_between": numbers(0.0, math.pi),
    "angle_off": numbers(0.0, math.pi),
    "bend": numbers(0.004, 0.5),
    "bogging": force,
    "choke": numbers(0.0, math.pi),
    "coefficient": share,
    "dead_wraps": _count(0, 20),
    "design_factor": numbers(1.0, 10.0),
    "diameter": numbers(0.004, 0.03),
    "downhill_bearing": numbers(0.0, 2 * math.pi),
    "drive": numbers(0.0, 3e4),
    "drum": numbers(0.03, 0.6),
    "drum_width": numbers(0.1, 2.0),
    "efficiency": numbers(0.05, 1.0),
    "exit_off_uphill": numbers(-math.pi, math.pi),
    "exponent": numbers(1.0, 9.0),
    "face": numbers(0.1, 1.0),
    "factor": numbers(1.0, 3.0),
    "farthest_points": numbers(0.0, 200.0),
    "first_layer_pull": some_force,
    "force_east": numbers(-1e5, 1e5),
    "force_north": numbers(-1e5, 1e5),
    "girth": numbers(0.3, 10.0),
    "grade": numbers(-1e5, 1e5),
    "gravity": numbers(1.0, 30.0),
    "grip": share,
    "hitch": st.sampled_from(HITCHES),
    "hitch_factor": st.none() | numbers(0.5, 2.0),
    "holding_power": numbers(1e4, 5e5),
    "holds": some_force,
    "included_angle": numbers(0.0, math.pi),
    "is_wire": st.booleans(),
    "kind": st.sampled_from(["winch-line", "soft-shackle", "hook"]),
    "layer": _count(1, 12),
    "lead": length,
    "length": length,
    "life_at_mbs": numbers(1.0, 1e6),
    "limit": some_force,
    "line_in_use": numbers(0.0, 200.0),
    "load": force,
    "load_at_strain": some_force,
    "loads": _rising(10.0, 5e4),
    "log": numbers(0.5, 5.0),
    "mass": mass,
    "mbs": some_force,
    "moving_mass": mass,
    "off_line_angle": numbers(-math.radians(85), math.radians(85)),
    "own_grade": numbers(-1e5, 1e5),
    "own_rolling": force,
    "parts": _count(0, 12),
    "pull": force,
    "pulleys": _count(0, 12),
    "pulls": st.lists(st.tuples(numbers(0.0, 100.0), numbers(1.0, 1e6)), max_size=5),
    "reference_load": some_force,
    "resistance": force,
    "rigged_length": length,
    "rolling": force,
    "rope": numbers(0.004, 0.03),
    "rule": st.sampled_from(RULES),
    "slope": slope,
    "speed": numbers(0.0, 6.0),
    "stiffness": numbers(1e3, 1e6),
    "stiffnesses": st.lists(numbers(1e3, 1e6), min_size=1, max_size=5),
    "stiffening": numbers(1.0, 6.0),
    "stored_length": numbers(-20.0, 100.0),
    "strain": numbers(0.01, 1.0),
    "strains": _rising(0.01, 0.25),
    "stuck_mass": mass,
    "tension": force,
    "tension_in": force,
    "tension_out": force,
    "trench": numbers(0.0, 0.5),
    "vehicle_weight": some_force,
    "weight": some_force,
    "wll": st.none() | some_force,
    "wraps_per_layer": _count(1, 30),
}

NARROWER: Mapping[tuple[str, str], Strategy] = {
    ("grade_resistance_field_rule", "slope"): numbers(0.0, math.pi / 4),
    ("basket_length", "included_angle"): numbers(math.radians(5), math.pi),
    ("leg_load", "included_angle"): numbers(0.0, math.radians(165)),
    ("item_limit", "mbs"): st.none() | some_force,
    ("safety_factor", "mbs"): st.none() | some_force,
    ("use", "limit"): st.none() | some_force,
    ("load_life", "load"): some_force,
}


def arguments_of(formula: Callable[..., object]) -> st.SearchStrategy[dict[str, Any]]:
    """Return every argument of a formula, those with a default too."""
    names = inspect.signature(formula).parameters
    return st.fixed_dictionaries(
        {name: NARROWER.get((formula.__name__, name), PARAMETERS[name]) for name in names}
    )
