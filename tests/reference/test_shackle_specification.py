"""Carbon bow shackles: size, rating, and the factor that lies between rating and strength."""

import pytest

from coursekit.mechanics.constants import KILOGRAM_FORCE, SHORT_TON
from coursekit.mechanics.item import item_limit, safety_factor
from coursekit.mechanics.shackle import off_line_share
from coursekit.mechanics.tables import CARBON_BOW_SHACKLES
from tests.reference.sources import printed, radians, source

SPECIFICATION = "Federal specification RR-C-271, grade A bow shackles, second-hand"
PRINTED = {
    "1/2 in": "2",
    "5/8 in": "3.25",
    "3/4 in": "4.75",
    "7/8 in": "6.5",
    "1 in": "8.5",
}


@source(SPECIFICATION)
@pytest.mark.parametrize("row", CARBON_BOW_SHACKLES, ids=lambda row: row.size)
def test_each_size_has_its_printed_rating_in_short_tons(row: object) -> None:
    ratings = {shackle.size: shackle.wll for shackle in CARBON_BOW_SHACKLES}
    size = getattr(row, "size", "")

    assert ratings[size] / (SHORT_TON * KILOGRAM_FORCE) == printed(PRINTED[size])


@source(f"{SPECIFICATION}; carbon shackles at six to one, 3/4 in marked 4.75 t")
def test_a_shackle_of_six_to_one_breaks_at_six_times_its_rating() -> None:
    wll = 4.75
    mbs = 6 * wll

    assert safety_factor(mbs, 1.0, wll) == printed("6")
    assert item_limit(None, mbs, 1.0, 6.0) == printed("4.75")


@source("ASME B30.26 side loads: bands as in WAC 296-155-33905; percentages from memory")
@pytest.mark.parametrize(
    ("lowest", "highest", "share"), [(0, 5, 1.0), (6, 45, 0.7), (46, 90, 0.5), (91, 180, None)]
)
def test_a_shackle_keeps_the_share_of_its_band(
    lowest: int, highest: int, share: float | None
) -> None:
    assert [off_line_share(radians(angle)) for angle in range(lowest, highest + 1)] == [share] * (
        highest + 1 - lowest
    )
