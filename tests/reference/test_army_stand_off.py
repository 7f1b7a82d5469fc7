"""How far people stand from a line that is pulled, by manuals that disagree."""

from coursekit.mechanics.clearance import line_stand_off
from tests.reference.sources import source


@source("FM 21-305 / AFMAN 24-306, ch. 22, second-hand: the two most distant points of the rig")
def test_people_stand_as_far_as_the_rig_is_wide() -> None:
    assert line_stand_off(30.0, 25.0, is_wire=False) == 30.0


@source("TM 9-2320-356-BD, p. 4-4: no closer than the longest cable in use")
def test_people_stand_a_line_away() -> None:
    assert line_stand_off(20.0, 25.0, is_wire=False) == 25.0


@source("US Army recovery text, second-hand: twice the length of the cable paid out")
def test_people_stand_two_lines_away_from_wire() -> None:
    assert line_stand_off(30.0, 25.0, is_wire=True) == 50.0
    assert line_stand_off(60.0, 25.0, is_wire=True) == 60.0
