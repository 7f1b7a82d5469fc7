"""The tow: the pull off the line of travel, and what the recovery vehicle needs."""

from __future__ import annotations

from typing import Final

from coursekit.mechanics.elementary import cos
from coursekit.mechanics.nomenclature import Newton, Radian
from coursekit.mechanics.ranges import (
    RIGHT_ANGLE,
    SMALLEST,
    require_finite,
    require_in_range,
    require_not_negative,
)

WIDEST: Final[Radian] = RIGHT_ANGLE - SMALLEST


def tow_pull(resistance: Newton, off_line_angle: Radian) -> Newton:
    r"""Return the tension of a line that pulls at an angle to the way out.

    .. math:: T = R / \cos\beta

    Parameters
    ----------
    resistance : float
        Total that holds the stuck vehicle. [N]
    off_line_angle : float
        Angle between the line and the way out, short of a right angle. [rad]

    Returns
    -------
    float
        Tension in the line; a load, so display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If the resistance is negative or the angle not short of a right angle.

    Notes
    -----
    Limits: a steady pull without jerks; wheels or rut keep the vehicle on its way out.
    Safe side: low for a real tow, so the allowance for jerks is put on top.
    Source: derived here, component along the exit.

    Examples
    --------
    >>> from math import radians
    >>> round(tow_pull(10_000.0, radians(60)))
    20000
    """
    require_not_negative(resistance=resistance)
    require_in_range(-WIDEST, WIDEST, off_line_angle=off_line_angle)
    return resistance / cos(off_line_angle)


def towing_need(pull: Newton, own_grade: Newton, own_rolling: Newton) -> Newton:
    r"""Return the force that the recovery vehicle's tyres must put on the ground.

    .. math:: F = T + R_{g,own} + R_{r,own}

    Parameters
    ----------
    pull : float
        Tension of the tow line. [N]
    own_grade : float
        Its own grade resistance; negative where it drives downhill. [N]
    own_rolling : float
        Its own rolling resistance. [N]

    Returns
    -------
    float
        Force needed; a load, so display rounds it up; negative when it must brake. [N]

    Raises
    ------
    OutOfRange
        If the pull or the rolling resistance is negative, or a value is not finite.

    Notes
    -----
    Limits: steady speed; the line runs along the way that the vehicle drives.
    Safe side: high where the line is off that way.
    Source: derived here, sum of forces.

    Examples
    --------
    >>> towing_need(8000.0, 2000.0, 1500.0)
    11500.0
    """
    require_finite(own_grade=own_grade)
    require_not_negative(pull=pull, own_rolling=own_rolling)
    return pull + own_grade + own_rolling
