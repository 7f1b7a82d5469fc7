"""What an anchor may carry, and when a vehicle that serves as one drags."""

from __future__ import annotations

from coursekit.mechanics.elementary import cos, hypot, sin
from coursekit.mechanics.nomenclature import Newton, Radian, Ratio, YesNo
from coursekit.mechanics.ranges import (
    FULL_TURN,
    LARGEST,
    require_finite,
    require_in_range,
    require_positive,
    require_slope,
)

MOST_GRIP = 1.5


def anchor_limit(holds: Newton, factor: Ratio) -> Newton:
    r"""Return the most that an anchor may carry.

    .. math:: L = H / N

    Parameters
    ----------
    holds : float
        The assessor's figure for what the anchor holds. [N]
    factor : float
        Figure of `tables.ANCHOR_FACTOR`, or the school's own. [-]

    Returns
    -------
    float
        The limit; a capacity, so display rounds it down. [N]

    Raises
    ------
    OutOfRange
        If the figure is not positive or the factor below 1.

    Notes
    -----
    Limits: no published rule gives a tree's strength from its girth; attach low.
    Safe side: that of the assessor's figure.
    Source: common practice, no source.

    Examples
    --------
    >>> anchor_limit(60_000.0, 2.0)
    30000.0
    """
    require_positive(holds=holds)
    require_in_range(1.0, LARGEST, factor=factor)
    return holds / factor


def grip_capacity(weight: Newton, slope: Radian, grip: Ratio) -> Newton:
    r"""Return the force along the ground that a vehicle's tyres can hold.

    .. math:: F = \mu W \cos\theta

    Parameters
    ----------
    weight : float
        Weight of the vehicle. [N]
    slope : float
        Angle of the ground above the level. [rad]
    grip : float
        Tyre-ground friction that can be counted on. [-]

    Returns
    -------
    float
        Grip, of which the slope itself takes a share; display rounds it down. [N]

    Raises
    ------
    OutOfRange
        If the weight is not positive, the slope not between level and vertical, or the
        grip not between 0 and 1.5.

    Notes
    -----
    Limits: all wheels braked or driven; a line that runs along the ground.
    Safe side: high where a line that rises lifts the vehicle.
    Source: Coulomb friction; Tree Rescue Manual, Arboriculture Australia, 2022, p. 214.

    Examples
    --------
    >>> round(grip_capacity(29_420.0, 0.0, 0.35))
    10297
    """
    require_positive(weight=weight)
    require_slope(slope)
    require_in_range(0.0, MOST_GRIP, grip=grip)
    return grip * weight * cos(slope)


def tyre_force(
    force_east: Newton,
    force_north: Newton,
    vehicle_weight: Newton,
    slope: Radian,
    downhill_bearing: Radian,
) -> Newton:
    r"""Return the force along the ground that a vehicle's tyres must hold.

    .. math:: F = |\vec F + W \sin\theta \, \hat d|

    Parameters
    ----------
    force_east : float
        Eastward part of the rig's force on the vehicle. [N]
    force_north : float
        Northward part of the rig's force on the vehicle. [N]
    vehicle_weight : float
        Weight of the vehicle that must stay where it is. [N]
    slope : float
        Angle of the ground above the level. [rad]
    downhill_bearing : float
        Bearing of steepest descent, clockwise from north. [rad]

    Returns
    -------
    float
        The rig's force and the slope's share of the weight, as vectors; rounds up. [N]

    Raises
    ------
    OutOfRange
        If a force is not finite, the weight not positive, the slope not between level
        and vertical, or the bearing beyond a full turn.

    Notes
    -----
    Limits: a line that runs along the ground.
    Safe side: neither; what the tyres can hold is the other half.
    Source: statics; Tree Rescue Manual, Arboriculture Australia, 2022, p. 214.

    Examples
    --------
    >>> round(tyre_force(3_000.0, 4_000.0, 29_420.0, 0.0, 0.0))
    5000
    """
    require_finite(force_east=force_east, force_north=force_north)
    require_positive(vehicle_weight=vehicle_weight)
    require_slope(slope)
    require_in_range(-FULL_TURN, FULL_TURN, downhill_bearing=downhill_bearing)
    downhill = vehicle_weight * sin(slope)
    east = force_east + downhill * sin(downhill_bearing)
    north = force_north + downhill * cos(downhill_bearing)
    return hypot(east, north)


def drags(
    force_east: Newton,
    force_north: Newton,
    vehicle_weight: Newton,
    slope: Radian,
    downhill_bearing: Radian,
    grip: Ratio,
) -> YesNo:
    r"""Say whether a braked vehicle is dragged by the rig's force.

    .. math:: |\vec F + W \sin\theta \, \hat d| > \mu W \cos\theta

    Parameters
    ----------
    force_east : float
        Eastward part of the rig's force on the vehicle. [N]
    force_north : float
        Northward part of the rig's force on the vehicle. [N]
    vehicle_weight : float
        Weight of the vehicle that must stay where it is. [N]
    slope : float
        Angle of the ground above the level. [rad]
    downhill_bearing : float
        Bearing of steepest descent, clockwise from north. [rad]
    grip : float
        Tyre-ground friction that can be counted on. [-]

    Returns
    -------
    bool
        True when it drags.

    Raises
    ------
    OutOfRange
        If a force is not finite, the weight not positive, the slope not between level
        and vertical, the bearing beyond a full turn, or the grip not between 0 and 1.5.

    Notes
    -----
    Limits: all wheels braked, none chocked; a line that runs along the ground.
    Safe side: low where wheels are chocked; high where a line lifts the vehicle.
    Source: Coulomb friction; Tree Rescue Manual, Arboriculture Australia, 2022, p. 214.

    Examples
    --------
    >>> drags(10_300.0, 0.0, 29_420.0, 0.0, 0.0, 0.35)
    True
    """
    needed = tyre_force(force_east, force_north, vehicle_weight, slope, downhill_bearing)
    return needed > grip_capacity(vehicle_weight, slope, grip)
