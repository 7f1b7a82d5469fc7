"""Line pull by layer of the winch of a five-ton truck."""

import pytest

from coursekit.mechanics.tables import DEAD_WRAPS
from coursekit.mechanics.winch import layer_pull
from tests.reference.sources import source

MANUAL = "US Army TM 9-2320-279-10-2, table 2-7"
# The table gives no diameters.  2d/(B + d) = 0.10065 fits all of its rows.
ROPE = 1.0
DRUM = 2 * ROPE / 0.10065 - ROPE


@source(f"{MANUAL}; within 0.1 %, for the one ratio of diameters that fits all rows")
@pytest.mark.parametrize(
    ("layer", "pull"), [(1, 20_000), (2, 18_173), (3, 16_663), (4, 15_361), (5, 14_254)]
)
def test_each_layer_has_its_printed_pull(layer: int, pull: int) -> None:
    assert layer_pull(20_000.0, DRUM, ROPE, layer) == pytest.approx(pull, rel=0.001)


@source(f"{MANUAL}; same pulls in kilograms, from 9,080 kg, within 0.1 %")
@pytest.mark.parametrize(("layer", "pull"), [(2, 8_251), (3, 7_565), (4, 6_974), (5, 6_471)])
def test_each_layer_has_its_printed_pull_in_kilograms(layer: int, pull: int) -> None:
    assert layer_pull(9_080.0, DRUM, ROPE, layer) == pytest.approx(pull, rel=0.001)


@source("US Army TM 9-2320-279-10-2, p. 2-660")
def test_five_wraps_of_wire_stay_on_the_drum() -> None:
    assert DEAD_WRAPS["wire"] == 5
