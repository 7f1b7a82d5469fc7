"""What holds the stuck vehicle: the grade, the rolling wheels, the bog.

Two ways are kept side by side: the exact component of weight, and the field
rule that is worked out in the head.
"""

from __future__ import annotations

import math
from typing import Final

from coursekit.mechanics.constants import STANDARD_GRAVITY
from coursekit.mechanics.elementary import cos, degrees, sin, tan
from coursekit.mechanics.nomenclature import (
    Kilogram,
    MetrePerSecondSquared,
    Newton,
    Radian,
    Ratio,
    YesNo,
)
from coursekit.mechanics.ranges import (
    FULL_TURN,
    require_finite,
    require_in_range,
    require_not_negative,
    require_positive,
    require_slope,
)

FIELD_RULE_STEEPEST: Final[Radian] = math.pi / 4
DEEPEST_BOGGING: Final[Ratio] = 3.0


def weight(mass: Kilogram, gravity: MetrePerSecondSquared = STANDARD_GRAVITY) -> Newton:
    r"""Return the weight of a mass.

    .. math:: W = m g

    Parameters
    ----------
    mass : float
        Mass as it stands: load, people and water included. [kg]
    gravity : float
        Standard gravity unless a check needs another. [m/s^2]

    Returns
    -------
    float
        Force of gravity; a load, so display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If the mass or the gravity is not positive and finite.

    Notes
    -----
    Limits: gravity differs by up to 0.3 % with place.
    Safe side: neither; the mass that is left out is what misleads.
    Source: 3rd General Conference on Weights and Measures, 1901, for the gravity.

    Examples
    --------
    >>> round(weight(2650.0), 1)
    25987.6
    """
    require_positive(mass=mass, gravity=gravity)
    return mass * gravity


def grade_resistance(weight: Newton, slope: Radian, exit_off_uphill: Radian) -> Newton:
    r"""Return the part of the weight that acts against the way out.

    .. math:: R_g = W \sin\theta \cos\varphi

    Parameters
    ----------
    weight : float
        Weight of the stuck vehicle. [N]
    slope : float
        Angle of the ground above the level. [rad]
    exit_off_uphill : float
        Angle from straight uphill to the way out. [rad]

    Returns
    -------
    float
        Grade resistance; negative where the way out leads downhill. [N]

    Raises
    ------
    OutOfRange
        If the weight is not positive, the slope not between level and vertical, or
        the angle beyond a full turn.

    Notes
    -----
    Limits: an even slope under all wheels; statics.
    Safe side: neither, exact for an even slope.
    Source: derived here, component of a vector; checked with plane vectors.

    Examples
    --------
    >>> round(grade_resistance(10_000.0, math.radians(30), 0.0))
    5000
    """
    require_positive(weight=weight)
    require_slope(slope)
    require_in_range(-FULL_TURN, FULL_TURN, exit_off_uphill=exit_off_uphill)
    return weight * sin(slope) * cos(exit_off_uphill)


def grade_resistance_field_rule(weight: Newton, slope: Radian, exit_off_uphill: Radian) -> Newton:
    r"""Return the grade resistance by the rule of degrees over sixty.

    .. math:: R_g = W \frac{\theta_{deg}}{60} \cos\varphi

    Parameters
    ----------
    weight : float
        Weight of the stuck vehicle. [N]
    slope : float
        Angle of the ground above the level, up to 45 deg. [rad]
    exit_off_uphill : float
        Angle from straight uphill to the way out. [rad]

    Returns
    -------
    float
        Grade resistance; negative where the way out leads downhill. [N]

    Raises
    ------
    OutOfRange
        If the weight is not positive, the slope not between 0 and 45 deg, or the
        angle beyond a full turn.

    Notes
    -----
    Limits: up to 45 deg; an even slope under all wheels.
    Safe side: no; up to 4.5 % low below 30 deg, exact there, at most 6.1 % high up
    to 45 deg.
    Source: Commonwealth army recovery practice, from memory.

    Examples
    --------
    >>> round(grade_resistance_field_rule(10_000.0, math.radians(15), 0.0))
    2500
    """
    require_positive(weight=weight)
    require_in_range(0.0, FIELD_RULE_STEEPEST, slope=slope)
    require_in_range(-FULL_TURN, FULL_TURN, exit_off_uphill=exit_off_uphill)
    return weight * (degrees(slope) / 60) * cos(exit_off_uphill)


def rolling_resistance(weight: Newton, coefficient: Ratio, slope: Radian) -> Newton:
    r"""Return what it takes to roll the vehicle over the surface.

    .. math:: R_r = c W \cos\theta

    Parameters
    ----------
    weight : float
        Weight of the vehicle. [N]
    coefficient : float
        Rolling resistance for each unit of weight on the ground. [-]
    slope : float
        Angle of the ground above the level. [rad]

    Returns
    -------
    float
        Rolling resistance; a load, so display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If the weight is not positive, the coefficient not between 0 and 1, or the
        slope not between level and vertical.

    Notes
    -----
    Limits: wheels that turn freely and have not sunk in.
    Safe side: that of the coefficient.
    Source: Gillespie, Fundamentals of Vehicle Dynamics, from memory.

    Examples
    --------
    >>> round(rolling_resistance(10_000.0, 0.14, 0.0))
    1400
    """
    require_positive(weight=weight)
    require_in_range(0.0, 1.0, coefficient=coefficient)
    require_slope(slope)
    return coefficient * weight * cos(slope)


def rolling_resistance_field_rule(weight: Newton, coefficient: Ratio) -> Newton:
    r"""Return the rolling resistance as on the level.

    .. math:: R_r = c W

    Parameters
    ----------
    weight : float
        Weight of the vehicle. [N]
    coefficient : float
        Rolling resistance for each unit of weight on the ground. [-]

    Returns
    -------
    float
        Rolling resistance; a load, so display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If the weight is not positive or the coefficient not between 0 and 1.

    Notes
    -----
    Limits: wheels that turn freely and have not sunk in.
    Safe side: high on a slope, where less weight presses on the ground.
    Source: Commonwealth army recovery fractions, second-hand.

    Examples
    --------
    >>> round(rolling_resistance_field_rule(10_000.0, 0.25))
    2500
    """
    require_positive(weight=weight)
    require_in_range(0.0, 1.0, coefficient=coefficient)
    return coefficient * weight


def bogging_resistance(weight: Newton, factor: Ratio) -> Newton:
    r"""Return what holds a vehicle that has sunk in.

    .. math:: R_b = f W

    Parameters
    ----------
    weight : float
        Weight of the stuck vehicle. [N]
    factor : float
        Figure of `tables.BOGGING` for the depth. [-]

    Returns
    -------
    float
        Resistance of the bog, which replaces rolling; display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If the weight is not positive or the factor not between 0 and 3.

    Notes
    -----
    Limits: a planning figure before digging; soil and suction differ widely.
    Safe side: meant to be high.
    Source: US Army recovery manuals, wheel, fender and turret depth, from memory.

    Examples
    --------
    >>> bogging_resistance(10_000.0, 2.0)
    20000.0
    """
    require_positive(weight=weight)
    require_in_range(0.0, DEEPEST_BOGGING, factor=factor)
    return factor * weight


def total_resistance(grade: Newton, rolling: Newton, bogging: Newton) -> Newton:
    r"""Return all that holds the stuck vehicle along its way out.

    .. math:: R = \max(0, R_g) + R_b \text{ if bogged, else } \max(0, R_g + R_r)

    Parameters
    ----------
    grade : float
        Grade resistance; negative where the way out leads downhill. [N]
    rolling : float
        Rolling resistance; the bog replaces it. [N]
    bogging : float
        Resistance of the bog; 0 when the vehicle is not bogged. [N]

    Returns
    -------
    float
        Total resistance, never negative; display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If the rolling or the bogging is negative, or a value is not finite.

    Notes
    -----
    Limits: whether manuals add grade to bogging could not be read.
    Safe side: high; an uphill grade is added to the bog, a downhill one not taken off.
    Source: derived here, sum of forces; the choice for the bog is ours.

    Examples
    --------
    >>> total_resistance(-500.0, 1400.0, 0.0), total_resistance(-500.0, 0.0, 20_000.0)
    (900.0, 20000.0)
    """
    require_finite(grade=grade)
    require_not_negative(rolling=rolling, bogging=bogging)
    if bogging > 0:
        return max(0.0, grade) + bogging
    return max(0.0, grade + rolling)


def runaway_force(grade: Newton, rolling: Newton) -> Newton:
    r"""Return the force with which a vehicle that rolls freely would run away.

    .. math:: F = \max(0, -(R_g + R_r))

    Parameters
    ----------
    grade : float
        Grade resistance; negative where the way out leads downhill. [N]
    rolling : float
        Rolling resistance. [N]

    Returns
    -------
    float
        Force along the way out that a hold line has to carry; 0 when none. [N]

    Raises
    ------
    OutOfRange
        If the rolling is negative, or a value is not finite.

    Notes
    -----
    Limits: a vehicle that is not bogged, held from rest; a run stopped short loads
    the line far more.
    Safe side: low where the surface rolls easier than its coefficient says.
    Source: derived here, sum of forces.

    Examples
    --------
    >>> runaway_force(-3000.0, 1400.0), runaway_force(-1000.0, 1400.0)
    (1600.0, 0.0)
    """
    require_finite(grade=grade)
    require_not_negative(rolling=rolling)
    return max(0.0, -(grade + rolling))


def rolls_back(slope: Radian, exit_off_uphill: Radian, coefficient: Ratio) -> YesNo:
    r"""Say whether the vehicle would roll back once the line goes slack.

    .. math:: \tan\theta \cos\varphi > c

    Parameters
    ----------
    slope : float
        Angle of the ground above the level. [rad]
    exit_off_uphill : float
        Angle from straight uphill to the way out. [rad]
    coefficient : float
        Rolling resistance for each unit of weight on the ground. [-]

    Returns
    -------
    bool
        True when it must be chocked or held before the line is slackened.

    Raises
    ------
    OutOfRange
        If the slope is not between level and vertical, the angle beyond a full turn,
        or the coefficient not between 0 and 1.

    Notes
    -----
    Limits: a vehicle that is not bogged, brakes off, straight back along its exit.
    Safe side: low where the surface rolls easier than its coefficient says.
    Source: derived here, grade against rolling.

    Examples
    --------
    >>> rolls_back(math.radians(10), 0.0, 0.14), rolls_back(math.radians(7), 0.0, 0.14)
    (True, False)
    """
    require_slope(slope)
    require_in_range(-FULL_TURN, FULL_TURN, exit_off_uphill=exit_off_uphill)
    require_in_range(0.0, 1.0, coefficient=coefficient)
    return tan(slope) * cos(exit_off_uphill) > coefficient
