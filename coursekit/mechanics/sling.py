"""What the hitch of a sling does to its rating."""

from __future__ import annotations

import math
from typing import Final

from coursekit.mechanics.nomenclature import Radian, Ratio, Word
from coursekit.mechanics.ranges import require_in_range, require_known

HITCHES: Final = ("straight", "choker", "basket")
RULES: Final = ("b30.9", "en1492")
CHOKER: Final[Ratio] = 0.8
WIDEST: Final[Radian] = math.radians(120)
ANGLE_DUST: Final[Radian] = 1e-9
"""An angle past a bound by no more than this is at the bound: rounding, not rigging."""


def hitch_factor(hitch: Word, included_angle: Radian, rule: Word = "b30.9") -> Ratio | None:
    r"""Return what the hitch multiplies a sling's rating by.

    .. math:: f = 2 \cos(\alpha / 2) \text{ for a basket}

    Parameters
    ----------
    hitch : str
        How the sling holds: straight, choker or basket.
    included_angle : float
        Angle between the two legs of a basket. [rad]
    rule : str
        Which published rule is taken: b30.9 (of the cosine) or en1492 (by steps).

    Returns
    -------
    float or None
        The factor, or None for a basket wider than 120 deg. [-]

    Raises
    ------
    OutOfRange
        If the angle is not between 0 and 180 deg.
    UnknownChoice
        If the hitch or the rule is not known.

    Notes
    -----
    Limits: a round, smooth hold; a choker pulled tight at 120 deg or more.
    Safe side: en1492 is the lower of the two at every angle.
    Source: ASME B30.9 and EN 1492-1 and -2, both second-hand.

    Examples
    --------
    >>> hitch_factor("choker", 0.0)
    0.8
    >>> round(hitch_factor("basket", math.radians(60)), 3)
    1.732
    >>> hitch_factor("basket", math.radians(60), "en1492")
    1.4
    """
    require_known("hitch", hitch, HITCHES)
    require_known("rule", rule, RULES)
    require_in_range(0.0, math.pi, included_angle=included_angle)
    if hitch != "basket":
        return CHOKER if hitch == "choker" else 1.0
    if included_angle > WIDEST + ANGLE_DUST:
        return None
    return _basket_by_steps(included_angle) if rule == "en1492" else _basket(included_angle)


def _basket(included_angle: Radian) -> Ratio:
    return 2 * math.cos(included_angle / 2)


def _basket_by_steps(included_angle: Radian) -> Ratio:
    if included_angle <= ANGLE_DUST:
        return 2.0
    return 1.4 if included_angle <= math.pi / 2 + ANGLE_DUST else 1.0
