"""The line part on the winch of a tackle whose sheaves rub."""

from itertools import accumulate, repeat

import pytest

from coursekit.mechanics.line import pull_needed, tension_after
from tests.reference.sources import printed, source

MANUAL = "Wire Rope Technical Board, Wire Rope Users Manual, 4th ed., pp. 86-88"
PLAIN_BEARING = 1.09


def _load_moved(pull: float, parts: int, friction: float) -> float:
    """Return the sum of the parts at the load, each one sheave farther from the winch."""
    past_first = tension_after(pull, 1 / friction)
    tensions = accumulate(repeat(1 / friction, parts - 1), tension_after, initial=past_first)
    return sum(tensions)


def _lead_line_factor(parts: int, friction: float, lead_sheaves: int = 0) -> float:
    """Return the pull for each unit of load."""
    pull_at_tackle = 1 / _load_moved(1.0, parts, friction)
    for _ in range(lead_sheaves):
        pull_at_tackle /= tension_after(1.0, 1 / friction)
    return pull_at_tackle


@source(MANUAL)
def test_four_parts_on_plain_bearings_need_309_thousandths_of_the_load() -> None:
    assert _lead_line_factor(4, PLAIN_BEARING) == printed(".309")


@source(MANUAL)
def test_two_more_lead_sheaves_need_367_thousandths_of_the_load() -> None:
    assert _lead_line_factor(4, PLAIN_BEARING, lead_sheaves=2) == printed(".367")


@source(f"{MANUAL}; 2,202 lb there is 6,000 lb times the rounded .367, so 3 lb are allowed")
def test_six_thousand_pounds_need_a_pull_of_2202_pounds() -> None:
    advantage = 1 / _lead_line_factor(4, PLAIN_BEARING, lead_sheaves=2)

    assert pull_needed(6_000.0, advantage) == pytest.approx(2_202, abs=3)


@source(MANUAL)
def test_four_parts_without_friction_share_the_load() -> None:
    assert pull_needed(6_000.0, _load_moved(1.0, 4, 1.0)) == printed("1,500")
