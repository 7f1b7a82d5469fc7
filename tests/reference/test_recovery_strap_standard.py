"""How strong a kinetic strap is, and how far away people stand."""

from coursekit.mechanics.clearance import kinetic_stand_off
from coursekit.mechanics.resistance import weight
from coursekit.mechanics.tables import STRAP_RANGE
from tests.reference.sources import printed, source

STANDARD = (
    "Australia, Consumer Goods (Motor Vehicle Recovery Straps) Safety Standard 2017, F2017L01560"
)


@source(f"{STANDARD}: two to three times the gross mass of the lighter vehicle")
def test_a_strap_for_three_tonnes_breaks_between_59_and_88_kilonewtons() -> None:
    lowest, highest = (share * weight(3_000.0) / 1000 for share in STRAP_RANGE)

    assert (lowest, highest) == (printed("58.84"), printed("88.26"))


@source(f"{STANDARD}, s. 9, second-hand: one and a half times the length of the strap")
def test_people_stand_13_and_a_half_metres_from_a_strap_of_nine() -> None:
    assert kinetic_stand_off(9.0) == printed("13.5")
