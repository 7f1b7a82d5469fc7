"""Where expected values come from.

A test with `source` holds a formula to figures as they are printed, within half of
their last digit unless it says otherwise.  "Second-hand": read in a work that
restates the source.  "From memory": not looked up again.  A test with `independent`
holds it to another way of reaching the same number.  A house test asks for one of
the two for every public formula.
"""

import math

import pytest

from coursekit.mechanics.constants import POUND_FORCE

KIP = 1000 * POUND_FORCE
"""A thousand pounds-force, N."""


def source(text: str) -> pytest.MarkDecorator:
    """Name the publication that prints the expected values."""
    return pytest.mark.source(text)


def independent(method: str) -> pytest.MarkDecorator:
    """Name the other method by which the expected values are reached."""
    return pytest.mark.independent(method)


def printed(text: str) -> object:
    """Return a number as printed, with a tolerance of half of its last digit.

    >>> 3.2364 == printed("3.24"), 3.2364 == printed("3.25")
    (True, False)
    """
    digits = text.replace(",", "")
    decimals = len(digits.partition(".")[2])
    return pytest.approx(float(digits), abs=0.5 * 10.0**-decimals * (1 + 1e-9))


def radians(degrees: str | float) -> float:
    """Return an angle that a source prints in degrees, in radians."""
    return math.radians(float(degrees))
