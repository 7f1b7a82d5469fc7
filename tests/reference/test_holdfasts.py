"""Pickets and buried logs in loam."""

import pytest

from coursekit.mechanics.constants import FOOT, POUND_FORCE
from coursekit.mechanics.holdfast import HOLDING_POWER, PICKETS, TRENCH, deadman_holds
from tests.reference.sources import printed, source

NAVY = "US Navy 14251, chapter 6, picket holdfasts in undisturbed loam"
MANUAL = "TM 5-5420-278-10, pp. 0035-22 and -23"
POUNDS_A_SQUARE_FOOT = POUND_FORCE / FOOT**2
POWER = {
    3: ("950", "1,300", "1,450", "1,500"),
    4: ("1,750", "2,200", "2,600", "2,700"),
    5: ("2,800", "3,600", "4,000", "4,100"),
    6: ("3,800", "5,100", "5,800", "6,000"),
    7: ("5,100", "7,000", "8,000", "8,400"),
}


@source(NAVY)
@pytest.mark.parametrize(
    ("pickets", "pounds"), [("1", "700"), ("1-1-1", "1,800"), ("3-2-1", "4,000")]
)
def test_pickets_hold_what_is_printed(pickets: str, pounds: str) -> None:
    assert PICKETS[pickets] / POUND_FORCE == printed(pounds)


@source("Australian Emergency Manual, Disaster Rescue, para 8.3: 350 kg a picket")
def test_pickets_hold_no_more_than_by_the_other_published_rule() -> None:
    each = 350 * 9.80665

    for pickets, holds in PICKETS.items():
        assert holds < each * sum(int(row) for row in pickets.split("-"))


@source(f"{MANUAL}, table 9, loamy soil")
@pytest.mark.parametrize("feet", POWER)
def test_the_soil_before_a_log_bears_what_is_printed(feet: int) -> None:
    row = next(row for depth, row in HOLDING_POWER.items() if depth == pytest.approx(feet * FOOT))
    bears = dict(zip(("1:1", "1:2", "1:3", "1:4"), POWER[feet], strict=True))

    assert {lead: power / POUNDS_A_SQUARE_FOOT for lead, power in row.items()} == {
        lead: printed(pounds) for lead, pounds in bears.items()
    }


@source(f"{MANUAL}: length = strength / (power x face) + 1 ft; 83,600 lb on 8,000 lb/ft2, 1.5 ft")
def test_a_log_as_long_as_printed_holds_the_cable_that_it_is_made_for() -> None:
    # 83,600 / (8,000 x 1.5) + 1 comes to 7.97 ft.
    holds = deadman_holds(8_000 * POUNDS_A_SQUARE_FOOT, 1.5 * FOOT, 7.97 * FOOT, TRENCH)

    assert holds / POUND_FORCE == pytest.approx(83_600, abs=0.005 * 8_000 * 1.5 + 5)


@source("FM 5-125, chapter 4, worked example of a timber of 18 in and 9 ft, from memory")
def test_a_timber_of_nine_feet_with_a_trench_of_two_holds_a_rope_of_an_inch() -> None:
    holds = deadman_holds(8_000 * POUNDS_A_SQUARE_FOOT, 1.5 * FOOT, 9 * FOOT, 2 * FOOT)

    assert holds / POUND_FORCE >= 83_600
    assert holds / POUND_FORCE == pytest.approx(83_600, rel=0.01)
