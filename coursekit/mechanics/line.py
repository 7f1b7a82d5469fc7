"""The line: its tension past pulleys, the pull it needs, the load on a turn."""

from __future__ import annotations

import math

from coursekit.mechanics.elementary import cos, hypot, sin
from coursekit.mechanics.nomenclature import Count, Newton, Radian, Ratio
from coursekit.mechanics.ranges import (
    require_in_range,
    require_not_negative,
    require_positive,
)

PULLEY_LOSS = 0.10
"""Share of the load that each pulley costs by the field rule: US Navy, Steelworker 3 & 2,
"Allowance for friction"."""


def tension_after(tension: Newton, efficiency: Ratio) -> Newton:
    r"""Return the tension of the line once it has passed a pulley.

    .. math:: T_i = \eta T_{i-1}

    Parameters
    ----------
    tension : float
        Tension before the pulley, on the winch's side. [N]
    efficiency : float
        Tension past the pulley over the tension before it. [-]

    Returns
    -------
    float
        Tension past the pulley. [N]

    Raises
    ------
    OutOfRange
        If the tension is negative or the efficiency not between 0.05 and 1.

    Notes
    -----
    Limits: a line that runs toward the winch; the figure is that of a turn of 180 deg.
    Safe side: the pull comes out high where the line turns by less.
    Source: Wire Rope Users Manual, 4th ed., pp. 86-88, with efficiency 1/K.

    Examples
    --------
    >>> tension_after(10_000.0, 0.95)
    9500.0
    """
    require_not_negative(tension=tension)
    require_in_range(0.05, 1.0, efficiency=efficiency)
    return tension * efficiency


def pull_needed(resistance: Newton, advantage: Ratio) -> Newton:
    r"""Return the pull that moves the stuck vehicle.

    .. math:: P = R / A

    Parameters
    ----------
    resistance : float
        Total that holds the stuck vehicle. [N]
    advantage : float
        Force on the stuck vehicle along its exit for each unit of pull. [-]

    Returns
    -------
    float
        Tension where the line is pulled; a load, so display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If the resistance is negative or the advantage not positive.

    Notes
    -----
    Limits: a slow steady pull; a rig that pulls the other way has no answer.
    Safe side: that of its inputs.
    Source: derived here, balance along the exit.

    Examples
    --------
    >>> pull_needed(19_000.0, 1.9)
    10000.0
    """
    require_not_negative(resistance=resistance)
    require_positive(advantage=advantage)
    return resistance / advantage


def field_rule_advantage(parts: Count, pulleys: Count) -> Ratio:
    r"""Return the advantage with a tenth of the load lost at each pulley.

    .. math:: A = \frac{MA}{1 + 0.10 n}

    Parameters
    ----------
    parts : int
        Line parts that bear on the stuck vehicle. [count]
    pulleys : int
        Pulleys that the line passes, lead pulleys too. [count]

    Returns
    -------
    float
        Load moved for each unit of pull. [-]

    Raises
    ------
    OutOfRange
        If a count is negative.

    Notes
    -----
    Limits: parts that run along the exit; the angles between them are left out.
    Safe side: low for pulleys on bearings; high for rings, and where parts splay.
    Source: US Navy, Steelworker 3 & 2, "Allowance for friction".

    Examples
    --------
    >>> round(1000 / field_rule_advantage(4, 4))
    350
    """
    require_not_negative(parts=parts, pulleys=pulleys)
    return parts / (1 + PULLEY_LOSS * pulleys)


def turn_load(tension_in: Newton, tension_out: Newton, angle_between: Radian) -> Newton:
    r"""Return the load of a line on what turns it, as the sum of unequal parts.

    .. math:: F = \sqrt{T_1^2 + T_2^2 + 2 T_1 T_2 \cos\alpha}

    Parameters
    ----------
    tension_in : float
        Tension of the part on the winch's side. [N]
    tension_out : float
        Tension of the part on the far side. [N]
    angle_between : float
        Angle between the two parts; 0 is parallel. [rad]

    Returns
    -------
    float
        Load on the turn; display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If a tension is negative or the angle not between 0 and 180 deg.

    Notes
    -----
    Limits: the line lies in a plane; statics.
    Safe side: neither, exact for the tensions given.
    Source: derived here, vector sum; rigging tables for equal parts, second-hand.

    Examples
    --------
    >>> round(turn_load(10_000.0, 10_000.0, math.radians(90)))
    14142
    """
    require_not_negative(tension_in=tension_in, tension_out=tension_out)
    require_in_range(0.0, math.pi, angle_between=angle_between)
    along = tension_in + tension_out * cos(angle_between)
    across = tension_out * sin(angle_between)
    return hypot(along, across)


def turn_load_field_rule(tension: Newton, angle_between: Radian) -> Newton:
    r"""Return the load of a line on what turns it, with both parts taken as equal.

    .. math:: F = 2 T \cos(\alpha / 2)

    Parameters
    ----------
    tension : float
        The pull, taken for both parts. [N]
    angle_between : float
        Angle between the two parts; 0 is parallel. [rad]

    Returns
    -------
    float
        Load on the turn; display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If the tension is negative or the angle not between 0 and 180 deg.

    Notes
    -----
    Limits: the line lies in a plane; friction at the turn is left out.
    Safe side: high up to 120 deg, where the part past the turn pulls less.
    Source: rigging tables, second-hand; equal to the vector sum of equal parts.

    Examples
    --------
    >>> round(turn_load_field_rule(1000.0, math.radians(120)))
    1000
    """
    require_not_negative(tension=tension)
    require_in_range(0.0, math.pi, angle_between=angle_between)
    return 2 * tension * cos(angle_between / 2)
