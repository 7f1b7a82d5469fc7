"""How far away people stand.

Published rules, not results: never compute a smaller distance from energy.
"""

from __future__ import annotations

from typing import Final

from coursekit.mechanics.nomenclature import Metre, Ratio, YesNo
from coursekit.mechanics.ranges import require_not_negative, require_positive

KINETIC_LENGTHS: Final[Ratio] = 1.5
WIRE_LENGTHS: Final[Ratio] = 2.0


def kinetic_stand_off(rigged_length: Metre) -> Metre:
    r"""Return how far away people outside the vehicles stand in a kinetic pull.

    .. math:: D = 1.5 L

    Parameters
    ----------
    rigged_length : float
        Unstretched length of the rigged kinetic line. [m]

    Returns
    -------
    float
        Distance; display rounds it up. [m]

    Raises
    ------
    OutOfRange
        If the length is not positive.

    Notes
    -----
    Limits: never in line with the rope, at any distance.
    Safe side: not shown; hardware that flies goes farther.
    Source: Australia, Consumer Goods (Motor Vehicle Recovery Straps) Safety Standard
    2017, s. 9, second-hand.

    Examples
    --------
    >>> kinetic_stand_off(9.0)
    13.5
    """
    require_positive(rigged_length=rigged_length)
    return KINETIC_LENGTHS * rigged_length


def line_stand_off(farthest_points: Metre, line_in_use: Metre, is_wire: YesNo) -> Metre:
    r"""Return how far away people stand from a line that is pulled.

    .. math:: D = \max(D_{far}, L) \text{, on wire } \max(D_{far}, 2L)

    Parameters
    ----------
    farthest_points : float
        Distance between the two farthest points of the rig. [m]
    line_in_use : float
        Length of line between winch and end. [m]
    is_wire : bool
        Whether the line is of wire.

    Returns
    -------
    float
        Distance; display rounds it up. [m]

    Raises
    ------
    OutOfRange
        If a length is negative.

    Notes
    -----
    Limits: never inside an angle of the line, nor beyond its ends.
    Safe side: the larger of rules that disagree.
    Source: FM 21-305, ch. 22, second-hand; TM 9-2320-356-BD, p. 4-4; twice the length
    on wire from US Army recovery text, second-hand.

    Examples
    --------
    >>> line_stand_off(20.0, 25.0, False), line_stand_off(20.0, 25.0, True)
    (25.0, 50.0)
    """
    require_not_negative(farthest_points=farthest_points, line_in_use=line_in_use)
    return max(farthest_points, line_in_use * (WIRE_LENGTHS if is_wire else 1.0))
