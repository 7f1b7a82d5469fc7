"""The refusal of numbers."""

import copy
import math

import pytest

from coursekit.mechanics.ranges import (
    LARGEST,
    OutOfRange,
    UnknownChoice,
    require_finite,
    require_in_range,
    require_not_negative,
    require_positive,
)
from coursekit.problems import CoursekitError


def test_an_error_carries_what_was_wrong_and_says_how_to_mend_it() -> None:
    with pytest.raises(OutOfRange) as caught:
        require_in_range(0.0, 1.5, slope=2.0)

    error = caught.value
    assert (error.name, error.value, error.low, error.high) == ("slope", 2.0, 0.0, 1.5)
    assert str(error) == "slope: 2 rad is out of range. Give at most 1.5 rad."
    assert isinstance(error, CoursekitError)
    assert isinstance(error, ValueError)


def test_a_pure_number_is_named_without_a_unit() -> None:
    assert str(OutOfRange("grip", 2.0, 0.0, 1.5)) == "grip: 2 is out of range. Give at most 1.5."


def test_a_name_outside_the_glossary_still_makes_a_sentence() -> None:
    error = OutOfRange("months", -1.0, 0.0, 12.0)

    assert str(error) == "months: -1 is out of range. Give at least 0."


@pytest.mark.parametrize(
    "error", [OutOfRange("slope", 2.0, 0.0, 1.5), UnknownChoice("hitch", "noose", ["choker"])]
)
def test_an_error_survives_being_taken_apart_and_built_again(error: CoursekitError) -> None:
    # As pickling does on the way to another process.
    again = copy.copy(error)

    assert (type(again), str(again)) == (type(error), str(error))


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf, 2 * LARGEST, -2 * LARGEST])
def test_no_check_lets_a_number_pass_that_no_recovery_reaches(bad: float) -> None:
    for check in (require_positive, require_not_negative, require_finite):
        with pytest.raises(OutOfRange):
            check(load=bad)


def test_the_ends_of_a_range_are_in_it() -> None:
    require_in_range(0.0, 1.0, grip=0.0)
    require_in_range(0.0, 1.0, grip=1.0)
    require_not_negative(load=0.0)
    require_finite(grade=-1.0)


def test_zero_is_not_positive() -> None:
    with pytest.raises(OutOfRange, match=r"mass: 0 kg is out of range\. Give more than 0 kg\."):
        require_positive(mass=0.0)


def test_what_is_no_number_is_told_the_range() -> None:
    with pytest.raises(
        OutOfRange, match=r"grip: nan is out of range\. Give a number from 0 to 1\."
    ):
        require_in_range(0.0, 1.0, grip=math.nan)
