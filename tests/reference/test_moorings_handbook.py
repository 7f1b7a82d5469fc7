"""Double-braid nylon line, as moorings use it."""

import pytest

from coursekit.mechanics.kinetic import linear_stiffness
from coursekit.mechanics.tables import WET_NYLON
from tests.reference.sources import KIP, source

HANDBOOK = "UFC 4-159-03, Moorings, 3 Oct 2005, table 6-8, p. 128"
# Break and AE of each diameter, kip.
LINES = {
    "1.0 in": (33.6, 118.9),
    "1.1 in": (45, 159.3),
    "1.2 in": (52, 184.1),
    "1.6 in": (91, 322.1),
    "2.5 in": (230, 814.2),
}


@source(f"{HANDBOOK}; strain at break 28 %, so half a per cent of strain is allowed")
@pytest.mark.parametrize(("breaking", "rigidity"), LINES.values(), ids=LINES)
def test_a_line_that_breaks_at_28_per_cent_has_its_printed_rigidity(
    breaking: float, rigidity: float
) -> None:
    length = 9.0
    stiffness = linear_stiffness(breaking * KIP, 0.28, length)

    assert stiffness * length == pytest.approx(rigidity * KIP, rel=0.005 / 0.28)


@source(f"{HANDBOOK}; AE of the 1.0 in line is printed as 118.9 kip and as 528.9 kN")
def test_both_printed_units_of_rigidity_agree() -> None:
    length = 9.0
    strain = 33.6 / 118.9

    assert linear_stiffness(149_460.0, strain, length) * length == pytest.approx(528.9e3, rel=2e-4)


@source(f'{HANDBOOK}, "reduce nylon lines by 15 % for wet conditions"')
def test_wet_nylon_keeps_85_hundredths_of_its_strength() -> None:
    assert pytest.approx(1 - 0.15) == WET_NYLON
