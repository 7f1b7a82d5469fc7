"""How far away people stand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.mechanics.clearance import kinetic_stand_off, line_stand_off
from coursekit.mechanics.ranges import OutOfRange
from tests.core.mechanics.parameters import length


@given(farthest=length, line=length, is_wire=st.booleans())
def test_no_rule_that_applies_asks_for_more(farthest: float, line: float, *, is_wire: bool) -> None:
    distance = line_stand_off(farthest, line, is_wire)

    assert distance >= max(farthest, line, 2 * line if is_wire else 0.0)
    assert distance in {farthest, line, 2 * line}


@given(line=length, longer=length)
def test_a_longer_kinetic_line_sends_people_farther(line: float, longer: float) -> None:
    assert kinetic_stand_off(line + longer) > kinetic_stand_off(line) > line


def test_refuses_lengths_that_no_line_has() -> None:
    with pytest.raises(OutOfRange, match="rigged_length"):
        kinetic_stand_off(0.0)
    with pytest.raises(OutOfRange, match="farthest_points"):
        line_stand_off(-1.0, 1.0, is_wire=False)
    with pytest.raises(OutOfRange, match="line_in_use"):
        line_stand_off(1.0, math.nan, is_wire=False)
