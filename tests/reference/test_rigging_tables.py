"""Load on a block against the angle between the parts of the line."""

import pytest

from coursekit.mechanics.line import turn_load, turn_load_field_rule
from tests.reference.sources import printed, radians, source

TABLE = "Block-angle table of rigging handbooks, second-hand in several works that agree"
ROUNDED = {
    0: "2.00",
    10: "1.99",
    20: "1.97",
    30: "1.93",
    50: "1.81",
    60: "1.73",
    70: "1.64",
    80: "1.53",
    90: "1.41",
    100: "1.29",
    110: "1.15",
    120: "1.00",
    140: "0.68",
    150: "0.52",
    160: "0.35",
    170: "0.17",
}
TRUNCATED = {40: 1.87, 45: 1.84, 130: 0.84, 135: 0.76}


@source(TABLE)
@pytest.mark.parametrize(("degrees", "factor"), ROUNDED.items())
def test_the_load_on_a_turn_is_the_printed_multiple_of_the_pull(degrees: int, factor: str) -> None:
    assert turn_load(1.0, 1.0, radians(degrees)) == printed(factor)
    assert turn_load_field_rule(1.0, radians(degrees)) == printed(factor)


@source(f"{TABLE}; these rows are cut off after the second decimal, not rounded")
@pytest.mark.parametrize(("degrees", "factor"), TRUNCATED.items())
def test_the_load_on_a_turn_is_at_least_the_printed_multiple_that_was_cut_off(
    degrees: int, factor: float
) -> None:
    assert factor <= turn_load(1.0, 1.0, radians(degrees)) < factor + 0.01
    assert factor <= turn_load_field_rule(1.0, radians(degrees)) < factor + 0.01


@source(f"{TABLE}; the example takes 1.41, so half a unit of that is allowed")
def test_four_thousand_pounds_round_a_right_angle_load_the_block_with_5640_pounds() -> None:
    assert turn_load_field_rule(4_000.0, radians(90)) == pytest.approx(5_640, abs=20)
