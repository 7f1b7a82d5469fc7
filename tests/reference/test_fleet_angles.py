"""Fleet angles at the drum: a guide's leads, by the angles that it gives them for."""

import math

import pytest

from coursekit.mechanics.winch import fleet_angle
from tests.reference.sources import source


@source("NSW Government, dogging and rigging guide, fleet angles: examples, a drum 1 m wide")
@pytest.mark.parametrize(("lead", "limit"), [(9.5, 3.0), (6.0, 5.0)])
def test_the_leads_of_the_guide_keep_its_angles_to_the_nearest_degree(
    lead: float, limit: float
) -> None:
    assert round(math.degrees(fleet_angle(1.0, lead))) == limit


@source("wire rope handbooks, second-hand: leads of 38 and 29 half widths")
@pytest.mark.parametrize(("half_widths", "limit"), [(38.0, 1.5), (29.0, 2.0)])
def test_the_leads_of_the_handbooks_keep_their_angles(half_widths: float, limit: float) -> None:
    assert math.degrees(fleet_angle(2.0, half_widths)) == pytest.approx(limit, abs=0.03)
