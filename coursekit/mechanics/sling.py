"""What the hitch of a sling does to its rating, and how its legs lie."""

from __future__ import annotations

import math
from typing import Final

from coursekit.mechanics.elementary import atan, cos, tan
from coursekit.mechanics.nomenclature import Metre, Newton, Radian, Ratio, Word
from coursekit.mechanics.ranges import (
    require_in_range,
    require_known,
    require_not_negative,
    require_positive,
)

HITCHES: Final = ("straight", "choker", "basket")
RULES: Final = ("b30.9", "en1492")
CHOKER: Final[Ratio] = 0.8
WIDEST: Final[Radian] = math.radians(120)
ANGLE_DUST: Final[Radian] = 1e-9
"""An angle past a bound by no more than this is at the bound: rounding, not rigging."""
CHOKE_STEPS: Final[tuple[tuple[Radian, Ratio], ...]] = (
    # Angle from which on, share of the choker rating: ASME B30.9, second-hand.
    (math.radians(90), 0.87),
    (math.radians(60), 0.74),
    (math.radians(30), 0.62),
    (0.0, 0.49),
)
WIDEST_LEGS: Final[Radian] = math.radians(170)
"""Beyond it a leg's force says more about the angle's error than about the load."""
HALVINGS: Final = 60
"""Halvings of a bracket after which its ends are neighbours among the floats."""


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
    Limits: a round, smooth hold; a choker at over 120 deg, else see `choke_share`.
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
    return 2 * cos(included_angle / 2)


def _basket_by_steps(included_angle: Radian) -> Ratio:
    if included_angle <= ANGLE_DUST:
        return 2.0
    return 1.4 if included_angle <= math.pi / 2 + ANGLE_DUST else 1.0


def choke_share(choke: Radian) -> Ratio:
    r"""Return the share of its choker rating that a sling keeps at an angle of choke.

    .. math:: s = 1, 0.87, 0.74, 0.62, 0.49 \text{ over } 120, \text{ from } 90, 60, 30, 0 deg

    Parameters
    ----------
    choke : float
        Angle of choke: between the leg and the part of the sling that it chokes. [rad]

    Returns
    -------
    float
        Share of the choker rating, not of the straight one. [-]

    Raises
    ------
    OutOfRange
        If the angle is not between 0 and 180 deg.

    Notes
    -----
    Limits: a choker that nobody beats down; above 120 deg it lies as it likes.
    Safe side: yes, by steps: between two printed bands (89 and 90 deg) the lower counts.
    Source: ASME B30.9, angle of choke, second-hand in two works that agree.

    Examples
    --------
    >>> choke_share(math.radians(121)), choke_share(math.radians(100))
    (1.0, 0.87)
    """
    require_in_range(0.0, math.pi, choke=choke)
    if choke > WIDEST + ANGLE_DUST:
        return 1.0
    return next(share for least, share in CHOKE_STEPS if choke >= least - ANGLE_DUST)


def basket_length(girth: Metre, included_angle: Radian) -> Metre:
    r"""Return the length of sling that a basket round a trunk takes.

    .. math:: L = r (\pi + 2 \alpha + 2 / \tan\alpha), \quad r = U / 2 \pi

    Parameters
    ----------
    girth : float
        Distance once round what the sling goes round. [m]
    included_angle : float
        Angle between the two legs, twice the half angle of the equation. [rad]

    Returns
    -------
    float
        Length of sling between its bearing points; display rounds it up. [m]

    Raises
    ------
    OutOfRange
        If the girth is not positive or the angle not above 0 and up to 180 deg.

    Notes
    -----
    Limits: a round trunk, a thin sling that does not stretch, both ends in one shackle.
    Safe side: short by the shackle's own bow, so the true angle is a little smaller.
    Source: geometry, derived: two tangents, and the arc on the trunk's far side.

    Examples
    --------
    >>> round(basket_length(1.0, math.pi), 9)
    1.0
    """
    require_positive(girth=girth)
    require_in_range(ANGLE_DUST, math.pi, included_angle=included_angle)
    return girth / (2 * math.pi) * _wrap(included_angle / 2)


def basket_angle(length: Metre, girth: Metre) -> Radian | None:
    r"""Return the angle between the legs of a sling laid round a trunk in a basket.

    .. math:: L = r (\pi + 2 \alpha + 2 / \tan\alpha) \text{, solved for } 2 \alpha

    Parameters
    ----------
    length : float
        Unstretched length between bearing points. [m]
    girth : float
        Distance once round what the sling goes round. [m]

    Returns
    -------
    float or None
        The angle between the legs; None where the ends do not meet. [rad]

    Raises
    ------
    OutOfRange
        If the length or the girth is not positive.

    Notes
    -----
    Limits: a round trunk, a thin sling that does not stretch, both ends in one shackle.
    Safe side: yes; stretch and the shackle's own bow make the true angle smaller.
    Source: geometry, derived; the length falls as the angle grows, so one root.

    Examples
    --------
    >>> round(math.degrees(basket_angle(3.0, 1.0)), 1)
    14.8
    >>> basket_angle(0.9, 1.0) is None
    True
    """
    require_positive(length=length, girth=girth)
    radii = 2 * math.pi * length / girth
    if radii < 2 * math.pi:
        return None
    # At the low end the two tangents alone take all of the length.
    low, high = atan(2 / radii), math.pi / 2
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        low, high = (middle, high) if _wrap(middle) > radii else (low, middle)
    return 2 * high


def _wrap(half: Radian) -> Ratio:
    """Return the length of a basket in radii of the trunk."""
    return math.pi + 2 * half + 2 / tan(half)


def leg_load(load: Newton, included_angle: Radian) -> Newton:
    r"""Return the force in each leg of a basket or a bridle.

    .. math:: T = F / (2 \cos(\alpha / 2))

    Parameters
    ----------
    load : float
        What the two legs carry together. [N]
    included_angle : float
        Angle between the two legs. [rad]

    Returns
    -------
    float
        Force in one leg; at 120 deg the whole load; display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If the load is negative or the angle not between 0 and 170 deg.

    Notes
    -----
    Limits: two equal legs that pull along the line that halves their angle.
    Safe side: low where one leg is shorter than the other and takes more.
    Source: equilibrium; FM 5-125 ch. 3 T = (W/N)(L/V), from memory.

    Examples
    --------
    >>> round(leg_load(1000.0, math.radians(60)))
    577
    """
    require_not_negative(load=load)
    require_in_range(0.0, WIDEST_LEGS, included_angle=included_angle)
    return load / (2 * cos(included_angle / 2))
