"""Exact constants, in SI units.

The factors are exact by definition: the international yard and pound agreement
of 1959 and the standard gravity of the 3rd General Conference on Weights and
Measures, 1901.
"""

from __future__ import annotations

from typing import Final

STANDARD_GRAVITY: Final = 9.80665
"""Standard gravity, m/s^2."""

POUND: Final = 0.45359237
"""The avoirdupois pound, kg."""

SHORT_TON: Final = 907.18474
"""The US ton of 2,000 lb, kg."""

LONG_TON: Final = 1016.0469088
"""The ton of 2,240 lb, kg."""

POUND_FORCE: Final = 4.4482216152605
"""The weight of a pound under standard gravity, N."""

KILOGRAM_FORCE: Final = 9.80665
"""The weight of a kilogram under standard gravity, N."""

INCH: Final = 0.0254
"""The international inch, m."""

FOOT: Final = 0.3048
"""The international foot, m."""

MILE_PER_HOUR: Final = 0.44704
"""The international mile in an hour, m/s."""
