"""Wire rope over a pin or a sheave."""

import pytest

from coursekit.mechanics.bend import bent_share
from tests.reference.sources import printed, source

GUIDELINE = "IMCA M 179 formula, in marine lifting guideline 0027/ND rev 11, table 7-1"
REDUCTION = {
    1.0: "2.00",
    1.5: "1.69",
    2.0: "1.55",
    3.0: "1.41",
    4.0: "1.33",
    5.0: "1.29",
    6.0: "1.26",
    7.0: "1.23",
}


@source(f"{GUIDELINE}: reduction factor, one over the strength that is left")
@pytest.mark.parametrize(("ratio", "factor"), REDUCTION.items())
def test_a_bent_rope_keeps_one_over_the_printed_reduction(ratio: float, factor: str) -> None:
    share = bent_share(ratio * 0.010, 0.010)

    assert share is not None
    assert 1 / share == printed(factor)


@source(f"{GUIDELINE}: not below a ratio of 1")
def test_a_bend_thinner_than_the_rope_leaves_nothing_to_count_on() -> None:
    assert bent_share(0.0099, 0.010) is None
