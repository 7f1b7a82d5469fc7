"""Rolling resistance and grip inside the ranges that engineers publish."""

import pytest

from coursekit.mechanics.tables import LOWEST_GRIP, SURFACES
from tests.reference.sources import source

ROLLING = "General engineering tables of rolling resistance, second-hand"
NOON = "Noon, Engineering Analysis of Vehicular Accidents, CRC, 1994, second-hand"


@source(ROLLING)
@pytest.mark.parametrize(
    ("surface", "low", "high"),
    [
        ("asphalt", 0.010, 0.015),
        ("gravel", 0.02, 0.02),
        ("firm-earth", 0.04, 0.08),
        ("medium-earth", 0.04, 0.08),
        ("loose-sand", 0.2, 0.4),
        ("snow", 0.1, 0.3),
    ],
)
def test_a_surface_rolls_inside_its_published_range(surface: str, low: float, high: float) -> None:
    assert low <= SURFACES[surface].rolling <= high


@source(NOON)
@pytest.mark.parametrize(
    ("surface", "grip"),
    [
        ("asphalt", 0.65),
        ("gravel", 0.35),
        ("firm-earth", 0.35),
        ("medium-earth", 0.35),
        ("wet-grass", 0.20),
        ("snow", 0.20),
    ],
)
def test_a_surface_grips_as_published(surface: str, grip: float) -> None:
    assert SURFACES[surface].grip == grip


def test_no_surface_grips_less_than_what_is_taken_when_none_is_stated() -> None:
    assert min(surface.grip for surface in SURFACES.values()) == LOWEST_GRIP
