"""The exact factors between units."""

import pytest
from scipy import constants as scipy_constants

from coursekit.mechanics import constants
from tests.reference.sources import source


@source("NIST SP 811, 2008, appendix B, exact factors; pound-force from its definition")
@pytest.mark.parametrize(
    ("name", "factor"),
    [
        ("STANDARD_GRAVITY", 9.80665),
        ("POUND", 0.45359237),
        ("SHORT_TON", 907.18474),
        ("LONG_TON", 1016.0469088),
        ("POUND_FORCE", 4.4482216152605),
        ("KILOGRAM_FORCE", 9.80665),
        ("INCH", 0.0254),
        ("FOOT", 0.3048),
        ("MILE_PER_HOUR", 0.44704),
    ],
)
def test_a_unit_is_defined_as_printed(name: str, factor: float) -> None:
    assert getattr(constants, name) == factor


@source("scipy.constants, from CODATA and NIST SP 811")
def test_the_factors_agree_with_a_library() -> None:
    ours = [
        constants.STANDARD_GRAVITY,
        constants.POUND,
        constants.SHORT_TON,
        constants.LONG_TON,
        constants.POUND_FORCE,
        constants.KILOGRAM_FORCE,
        constants.INCH,
        constants.FOOT,
        constants.MILE_PER_HOUR,
    ]
    theirs = [
        scipy_constants.g,
        scipy_constants.pound,
        scipy_constants.short_ton,
        scipy_constants.long_ton,
        scipy_constants.pound_force,
        scipy_constants.kilogram_force,
        scipy_constants.inch,
        scipy_constants.foot,
        scipy_constants.mph,
    ]

    assert ours == pytest.approx(theirs, rel=1e-15)
