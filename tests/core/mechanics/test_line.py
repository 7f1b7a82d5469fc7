"""Tension past pulleys, the pull and the load on a turn."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.mechanics.line import (
    field_rule_advantage,
    pull_needed,
    tension_after,
    turn_load,
    turn_load_field_rule,
)
from coursekit.mechanics.ranges import OutOfRange
from tests.core.mechanics.parameters import numbers, some_force
from tests.reference.sources import independent

angle = numbers(0.0, math.pi)
efficiency = numbers(0.5, 1.0)
parts = st.integers(1, 12)


def _advantage(parts: int, efficiency: float) -> float:
    """Return the advantage of a tackle in which every part but the first has turned."""
    total, tension = 1.0, 1.0
    for _ in range(parts - 1):
        tension = tension_after(tension, efficiency)
        total += tension
    return total


@given(load=some_force, parts=parts, efficiency=efficiency)
def test_the_pull_falls_as_parts_are_added_but_not_below_a_frictionless_share(
    load: float, parts: int, efficiency: float
) -> None:
    pull = pull_needed(load, _advantage(parts, efficiency))

    assert pull >= load / parts * (1 - 1e-12)
    assert pull_needed(load, _advantage(parts + 1, efficiency)) < pull


@given(load=some_force, parts=parts)
def test_perfect_pulleys_share_the_load_evenly(load: float, parts: int) -> None:
    assert pull_needed(load, _advantage(parts, 1.0)) == pytest.approx(load / parts, rel=1e-12)


@given(parts=parts)
def test_the_field_rule_never_promises_more_than_plain_bearings_give(parts: int) -> None:
    friction = 1.09
    turned = friction**parts
    lead_line_factor = turned * (friction - 1) / (turned - 1)

    assert 1 / field_rule_advantage(parts, parts) >= lead_line_factor


@independent("vectors added with numpy, one part along each direction")
@given(tension_in=some_force, tension_out=some_force, angle=angle, heading=numbers(0.0, 6.0))
def test_the_load_on_a_turn_is_a_sum_of_vectors(
    tension_in: float, tension_out: float, angle: float, heading: float
) -> None:
    first = tension_in * np.array([math.cos(heading), math.sin(heading)])
    second = tension_out * np.array([math.cos(heading + angle), math.sin(heading + angle)])

    expected = float(np.linalg.norm(first + second))
    load = turn_load(tension_in, tension_out, angle)
    assert load == pytest.approx(expected, abs=1e-9 * (tension_in + tension_out))


@given(tension=some_force, efficiency=efficiency, angle=angle)
def test_a_turn_never_carries_more_than_its_parts_together(
    tension: float, efficiency: float, angle: float
) -> None:
    past = tension_after(tension, efficiency)
    load = turn_load(tension, past, angle)

    assert (tension - past) * (1 - 1e-9) <= load <= (tension + past) * (1 + 1e-9)


@given(tension=some_force, angle=angle, wider=numbers(0.0, math.pi))
def test_the_load_on_a_turn_falls_from_twice_the_pull_to_nothing_as_it_opens(
    tension: float, angle: float, wider: float
) -> None:
    narrow, wide = sorted((angle, wider))
    ratio = turn_load(tension, tension, narrow) / tension

    assert -1e-12 <= ratio <= 2 + 1e-12
    assert turn_load(tension, tension, wide) / tension <= ratio + 1e-12


@given(tension=some_force, efficiency=efficiency, degrees=numbers(0.0, 120.0))
def test_the_field_rule_reads_high_on_a_turn_of_up_to_120_degrees(
    tension: float, efficiency: float, degrees: float
) -> None:
    angle = math.radians(degrees)
    exact = turn_load(tension, tension_after(tension, efficiency), angle)

    assert turn_load_field_rule(tension, angle) >= exact * (1 - 1e-12)


@given(tension=some_force, angle=angle)
def test_both_rules_agree_on_equal_parts(tension: float, angle: float) -> None:
    by_rule = turn_load_field_rule(tension, angle)

    assert by_rule == pytest.approx(turn_load(tension, tension, angle), abs=1e-9 * tension)


def test_a_line_that_bears_on_nothing_moves_nothing() -> None:
    assert field_rule_advantage(0, 2) == 0.0


def test_refuses_what_no_line_does() -> None:
    with pytest.raises(OutOfRange, match="efficiency"):
        tension_after(1.0, 1.01)
    with pytest.raises(OutOfRange, match="tension"):
        tension_after(-1.0, 0.9)
    with pytest.raises(OutOfRange, match="advantage"):
        pull_needed(1.0, 0.0)
    with pytest.raises(OutOfRange, match="advantage"):
        pull_needed(1.0, -1.0)
    with pytest.raises(OutOfRange, match="resistance"):
        pull_needed(math.nan, 1.0)
    with pytest.raises(OutOfRange, match="pulleys"):
        field_rule_advantage(1, -1)
    with pytest.raises(OutOfRange, match="angle_between"):
        turn_load(1.0, 1.0, math.pi + 0.1)
    with pytest.raises(OutOfRange, match="angle_between"):
        turn_load_field_rule(1.0, -0.1)
