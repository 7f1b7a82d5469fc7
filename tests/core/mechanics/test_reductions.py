"""What a shackle off its line, a rope on a bend and a log in the ground keep."""

import math

import pytest
from hypothesis import given

from coursekit.mechanics.bend import bent_share
from coursekit.mechanics.holdfast import deadman_holds
from coursekit.mechanics.shackle import off_line_share
from tests.core.mechanics.parameters import numbers
from tests.reference.sources import independent

angle = numbers(0.0, math.pi)
thickness = numbers(0.004, 0.5)


@given(one=angle, other=angle)
def test_a_shackle_farther_off_its_line_never_carries_more(one: float, other: float) -> None:
    shares = [off_line_share(off) or 0.0 for off in sorted((one, other))]

    assert 1.0 >= shares[0] >= shares[1] >= 0.0


@given(off=numbers(0.0, 90.0))
def test_a_step_is_never_above_the_straight_line_through_the_ends_of_the_bands(off: float) -> None:
    share = off_line_share(math.radians(off)) or 0.0
    between = 1.0 - 0.3 * min(off, 45.0) / 45.0 - 0.2 * max(off - 45.0, 0.0) / 45.0

    assert share <= between + 1e-9 or off <= 5.0


@pytest.mark.parametrize(("gap", "share"), [(5.5, 0.7), (45.5, 0.5), (90.5, None)])
def test_between_two_printed_bands_the_lower_counts(gap: float, share: float | None) -> None:
    assert off_line_share(math.radians(gap)) == share


@given(bend=thickness, wider=thickness, rope=numbers(0.004, 0.03))
def test_a_wider_bend_never_costs_more_and_none_gives_strength(
    bend: float, wider: float, rope: float
) -> None:
    narrow, wide = (bent_share(each, rope) or 0.0 for each in sorted((bend, wider)))

    assert 0.0 <= narrow <= wide < 1.0
    assert narrow == 0.0 or narrow >= 0.5


@independent("summing the pressure over strips of the face outside the trench")
@given(power=numbers(1e4, 5e5), face=numbers(0.1, 1.0), log=numbers(1.0, 5.0))
def test_a_log_holds_the_pressure_on_its_face_but_for_the_trench(
    power: float, face: float, log: float
) -> None:
    strip, trench = log / 1000, 0.3
    pressed = sum(
        power * face * strip for i in range(1000) if abs((i + 0.5) * strip - log / 2) > trench / 2
    )

    held = deadman_holds(power, face, log, trench)
    assert held == pytest.approx(pressed, abs=2 * power * face * strip)


def test_a_log_no_longer_than_its_trench_holds_nothing() -> None:
    assert deadman_holds(1e5, 0.4, 0.3, 0.3) == 0.0
