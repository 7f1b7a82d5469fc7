"""What a hitch does to the rating of a sling."""

import pytest

from coursekit.mechanics.item import item_limit
from coursekit.mechanics.sling import choke_share, hitch_factor, leg_load
from tests.reference.sources import printed, radians, source

B30_9 = "ASME B30.9, capacity factor by the angle from horizontal, second-hand"
EN_1492 = "EN 1492-1 and -2, mode factors by the angle from vertical, second-hand"
OSHA = "OSHA, Guidance on Safe Sling Use, table 1, grade 80 chain, two legs"

CAPACITY = {
    90: "1.000",
    85: ".996",
    80: ".985",
    75: ".966",
    70: ".940",
    65: ".906",
    60: ".866",
    55: ".819",
    50: ".766",
    45: ".707",
    40: ".643",
    35: ".574",
    30: ".500",
}
CHAIN = {
    2_100: (3_600, 3_000, 2_100),
    3_500: (6_100, 4_900, 3_500),
    4_500: (7_800, 6_400, 4_500),
    7_100: (12_300, 10_000, 7_100),
    12_000: (20_800, 17_000, 12_000),
    18_100: (31_300, 25_600, 18_100),
    28_300: (49_000, 40_000, 28_300),
}


def _included(from_horizontal: float) -> float:
    return radians(180 - 2 * from_horizontal)


@source(B30_9)
@pytest.mark.parametrize(("from_horizontal", "factor"), CAPACITY.items())
def test_each_leg_of_a_basket_carries_its_printed_share(from_horizontal: int, factor: str) -> None:
    basket = hitch_factor("basket", _included(from_horizontal))

    assert basket is not None
    assert basket / 2 == printed(factor)


@source(f"{OSHA}; its entries meet the sine within 60 lb")
@pytest.mark.parametrize(("single", "pairs"), CHAIN.items())
def test_two_legs_of_chain_are_rated_as_printed(single: float, pairs: tuple[int, int, int]) -> None:
    rated = [
        item_limit(single, None, hitch_factor("basket", _included(angle)), 4.0)
        for angle in (60, 45, 30)
    ]

    assert rated == pytest.approx(list(pairs), abs=60)


@source(f"{EN_1492}; parallel is 0 deg, 45 and 60 deg from vertical are 90 and 120 deg between")
@pytest.mark.parametrize(
    ("between", "factor"), [(0, 2.0), (1, 1.4), (90, 1.4), (91, 1.0), (120, 1.0), (121, None)]
)
def test_a_basket_has_the_factor_of_its_step(between: int, factor: float | None) -> None:
    assert hitch_factor("basket", radians(between), "en1492") == factor


@source(EN_1492)
@pytest.mark.parametrize(("hitch", "tonnes"), [("straight", "3.0"), ("choker", "2.4")])
def test_a_yellow_sling_of_three_tonnes_carries_what_is_printed(hitch: str, tonnes: str) -> None:
    factor = hitch_factor(hitch, 0.0, "en1492")

    assert item_limit(3.0, None, factor, 7.0) == printed(tonnes)


@source("ASME B30.9, no sling under 30 deg from horizontal, second-hand")
def test_a_basket_past_120_degrees_has_no_rating() -> None:
    assert hitch_factor("basket", radians(120)) == pytest.approx(1.0)
    assert hitch_factor("basket", radians(120.001)) is None
    assert item_limit(3.0, None, hitch_factor("basket", radians(121)), 5.0) is None


@source("ASME B30.9, angle of choke, second-hand in two works that agree")
@pytest.mark.parametrize(
    ("lowest", "highest", "share"),
    [(121, 180, 1.0), (90, 120, 0.87), (60, 89, 0.74), (30, 59, 0.62), (0, 29, 0.49)],
)
def test_a_choker_keeps_the_printed_share_of_its_rating(
    lowest: int, highest: int, share: float
) -> None:
    assert [choke_share(radians(angle)) for angle in range(lowest, highest + 1)] == [share] * (
        highest + 1 - lowest
    )


@source("two legs of a sling, load 1,000 lb, by the angle from horizontal, second-hand")
@pytest.mark.parametrize(("from_horizontal", "leg"), [(60, "577"), (45, "707"), (30, "1,000")])
def test_each_of_two_legs_takes_the_printed_pull(from_horizontal: int, leg: str) -> None:
    assert leg_load(1_000.0, _included(from_horizontal)) == printed(leg)
