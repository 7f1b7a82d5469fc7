"""The kinetic pull: a moving vehicle, a stretching rope, a stuck vehicle.

One line of motion, a weightless undamped rope of constant stiffness, a stuck vehicle that
stays put until the tension passes its resistance and is then held back by just that.  A hard
event reads up to 30 % low, so the design load puts `tables.KINETIC_ALLOWANCE` on the peak.
"""

from __future__ import annotations

from collections.abc import Sequence

from coursekit.mechanics.elementary import sqrt
from coursekit.mechanics.nomenclature import (
    Joule,
    Kilogram,
    Metre,
    MetrePerSecond,
    Newton,
    NewtonPerMetre,
    Newtons,
    Ratio,
    Seconds,
    YesNo,
)
from coursekit.mechanics.ranges import require_in_range, require_not_negative, require_positive
from coursekit.mechanics.snatch import Snatch


def linear_stiffness(load_at_strain: Newton, strain: Ratio, length: Metre) -> NewtonPerMetre:
    r"""Return the stiffness of a rope from one point of its stretch.

    .. math:: k = \frac{F}{\varepsilon L}

    Parameters
    ----------
    load_at_strain : float
        Tension at which the strain was measured. [N]
    strain : float
        Stretch over unstretched length. [-]
    length : float
        Unstretched length between bearing points. [m]

    Returns
    -------
    float
        Tension for each metre of stretch. [N/m]

    Raises
    ------
    OutOfRange
        If the load or the length is not positive, or the strain not in 0.0001 to 1.

    Notes
    -----
    Limits: a secant; nylon stiffens as it stretches, and more with work.
    Safe side: high for a gentle pull, low for a hard one or a worked rope.
    Source: definition; UFC 4-159-03, Moorings, 2005, table 6-8 lists EA so.

    Examples
    --------
    >>> round(linear_stiffness(60_000.0, 0.20, 9.0))
    33333
    """
    require_positive(load_at_strain=load_at_strain, length=length)
    require_in_range(0.0001, 1.0, strain=strain)
    return load_at_strain / (strain * length)


def series_stiffness(stiffnesses: Sequence[NewtonPerMetre]) -> NewtonPerMetre:
    r"""Return the stiffness of parts joined end to end.

    .. math:: k = \left(\sum_i 1/k_i\right)^{-1}

    Parameters
    ----------
    stiffnesses : sequence of float
        Stiffness of each part; at least one. [N/m]

    Returns
    -------
    float
        Stiffness of the whole. [N/m]

    Raises
    ------
    OutOfRange
        If a stiffness is not positive, or there is none.

    Notes
    -----
    Limits: parts that carry the same tension. Safe side: high if parts are left out.
    Source: definition, springs in series.

    Examples
    --------
    >>> series_stiffness([60_000.0, 30_000.0])
    20000.0
    """
    for stiffness in stiffnesses:
        require_positive(stiffness=stiffness)
    compliance = sum(1 / stiffness for stiffness in stiffnesses)
    require_positive(stiffnesses=compliance)
    return 1 / compliance


def peak_tension(
    moving_mass: Kilogram,
    stuck_mass: Kilogram,
    speed: MetrePerSecond,
    stiffness: NewtonPerMetre,
    resistance: Newton,
    drive: Newton,
) -> Newton:
    r"""Return the highest tension of the rope.

    .. math:: T = P + \sqrt{P^2 + m_1 k v^2} \text{ while } T \le R \text{, else }
        T = T^* + \sqrt{(R - T^*)^2 + k m_e u^2}, \quad u^2 = v^2 + (2 P R - R^2)/(k m_1), \quad
        T^* = (P m_2 + R m_1)/(m_1 + m_2), \quad m_e = m_1 m_2/(m_1 + m_2)

    Parameters
    ----------
    moving_mass : float
        Mass of the vehicle that runs up. [kg]
    stuck_mass : float
        Mass of the stuck vehicle. [kg]
    speed : float
        Closing speed when the rope comes taut. [m/s]
    stiffness : float
        Tension for each metre of stretch. [N/m]
    resistance : float
        Total that holds the stuck vehicle, along the line of the pull. [N]
    drive : float
        Net drive force that the moving vehicle keeps on. [N]

    Returns
    -------
    float
        First peak of the tension; a load, so display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If a mass or the stiffness is not positive, or another value negative.

    Notes
    -----
    Limits: as the module says; a later peak was never found higher, but not excluded.
    Safe side: low, up to 30 % in hard events: hold 1.3 times it against limits.
    Source: derived here from energy, as for climbing ropes; Weber, ITRS, 2002, for 30 %.

    Examples
    --------
    >>> round(peak_tension(2500.0, 3000.0, 3.0, 50_000.0, 20_000.0, 0.0), 1)
    31772.7
    """
    return Snatch(moving_mass, stuck_mass, speed, stiffness, resistance, drive).peak


def breaks_out(
    moving_mass: Kilogram,
    stuck_mass: Kilogram,
    speed: MetrePerSecond,
    stiffness: NewtonPerMetre,
    resistance: Newton,
    drive: Newton,
) -> YesNo:
    r"""Say whether the pull moves the stuck vehicle.

    .. math:: P + \sqrt{P^2 + m_1 k v^2} > R

    Parameters
    ----------
    moving_mass : float
        Mass of the vehicle that runs up. [kg]
    stuck_mass : float
        Mass of the stuck vehicle; it must be stated, though it does not matter. [kg]
    speed : float
        Closing speed when the rope comes taut. [m/s]
    stiffness : float
        Tension for each metre of stretch. [N/m]
    resistance : float
        Total that holds the stuck vehicle, along the line of the pull. [N]
    drive : float
        Net drive force that the moving vehicle keeps on. [N]

    Returns
    -------
    bool
        True when the peak passes the resistance.

    Raises
    ------
    OutOfRange
        If a mass or the stiffness is not positive, or another value negative.

    Notes
    -----
    Limits: as the module says; to move is not yet to come free. Safe side: neither.
    Source: derived here, energy of a spring and a mass.

    Examples
    --------
    >>> breaks_out(2500.0, 3000.0, 3.0, 50_000.0, 40_000.0, 0.0)
    False
    """
    return Snatch(moving_mass, stuck_mass, speed, stiffness, resistance, drive).breaks_out


def lowest_speed(
    moving_mass: Kilogram, stiffness: NewtonPerMetre, resistance: Newton, drive: Newton
) -> MetrePerSecond:
    r"""Return the closing speed above which the stuck vehicle moves.

    .. math:: v = \sqrt{\max(0, R^2 - 2 P R) / (m_1 k)}

    Parameters
    ----------
    moving_mass : float
        Mass of the vehicle that runs up. [kg]
    stiffness : float
        Tension for each metre of stretch. [N/m]
    resistance : float
        Total that holds the stuck vehicle, along the line of the pull. [N]
    drive : float
        Net drive force that the moving vehicle keeps on. [N]

    Returns
    -------
    float
        The speed; 0 where the drive alone breaks it out. [m/s]

    Raises
    ------
    OutOfRange
        If the mass or the stiffness is not positive, or another value negative.

    Notes
    -----
    Limits: as the module says. Safe side: low; a real rope loses energy.
    Source: derived here, the inverse of the fixed-end peak.

    Examples
    --------
    >>> round(lowest_speed(2500.0, 50_000.0, 40_000.0, 0.0), 4)
    3.5777
    """
    require_positive(moving_mass=moving_mass, stiffness=stiffness)
    require_not_negative(resistance=resistance, drive=drive)
    squared = resistance * (resistance - 2 * drive) / (moving_mass * stiffness)
    return sqrt(max(0.0, squared))


def highest_speed(
    limit: Newton,
    moving_mass: Kilogram,
    stuck_mass: Kilogram,
    stiffness: NewtonPerMetre,
    resistance: Newton,
    drive: Newton,
) -> MetrePerSecond | None:
    r"""Return the closing speed whose peak just meets a limit.

    .. math:: v^2 = (F^2 - 2 P F)/(k m_1) \text{ while } F \le R \text{, else }
        v^2 = ((F - T^*)^2 - (R - T^*)^2)/(k m_e) - (2 P R - R^2)/(k m_1)

    Parameters
    ----------
    limit : float
        The most that the peak may be. [N]
    moving_mass : float
        Mass of the vehicle that runs up. [kg]
    stuck_mass : float
        Mass of the stuck vehicle. [kg]
    stiffness : float
        Tension for each metre of stretch. [N/m]
    resistance : float
        Total that holds the stuck vehicle, along the line of the pull. [N]
    drive : float
        Net drive force that the moving vehicle keeps on. [N]

    Returns
    -------
    float or None
        The speed, so display rounds it down; None when even v = 0 passes it. [m/s]

    Raises
    ------
    OutOfRange
        If the limit, a mass or the stiffness is not positive, or another value negative.

    Notes
    -----
    Limits: as the module says; divide the limit by the allowance first.
    Safe side: no; start low, and after three tries change the plan.
    Source: derived here, the inverse of `peak_tension`.

    Examples
    --------
    >>> round(highest_speed(40_000.0, 2500.0, 3000.0, 50_000.0, 20_000.0, 0.0), 4)
    3.9328
    """
    require_positive(limit=limit)
    standing = Snatch(moving_mass, stuck_mass, 0.0, stiffness, resistance, drive)
    squared = standing.lost(min(limit, resistance))
    if limit > resistance:
        reduced = moving_mass * stuck_mass / (moving_mass + stuck_mass)
        above = limit + resistance - 2 * standing.running_mean
        squared += (limit - resistance) * above / (stiffness * reduced)
    return None if squared < 0 else sqrt(squared)


def stored_energy(tension: Newton, stiffness: NewtonPerMetre) -> Joule:
    r"""Return the energy that a stretched rope holds.

    .. math:: E = \frac{T^2}{2 k}

    Parameters
    ----------
    tension : float
        Pull in the rope. [N]
    stiffness : float
        Tension for each metre of stretch. [N/m]

    Returns
    -------
    float
        Energy, set free when something parts; display rounds it up. [J]

    Raises
    ------
    OutOfRange
        If the tension is negative or the stiffness not positive.

    Notes
    -----
    Limits: no distance to stand at may be computed from it. Safe side: high.
    Source: definition, linear spring.

    Examples
    --------
    >>> stored_energy(25_000.0, 50_000.0)
    6250.0
    """
    require_not_negative(tension=tension)
    require_positive(stiffness=stiffness)
    return tension * tension / (2 * stiffness)


def force_history(
    moving_mass: Kilogram,
    stuck_mass: Kilogram,
    speed: MetrePerSecond,
    stiffness: NewtonPerMetre,
    resistance: Newton,
    drive: Newton,
) -> tuple[Seconds, Newtons]:
    r"""Return the tension over time, from taut over the first peak to the release.

    .. math:: T(t) = T_0 + A \cos(\omega (t - t_{peak})) \text{ between events}

    Parameters
    ----------
    moving_mass : float
        Mass of the vehicle that runs up. [kg]
    stuck_mass : float
        Mass of the stuck vehicle. [kg]
    speed : float
        Closing speed when the rope comes taut. [m/s]
    stiffness : float
        Tension for each metre of stretch. [N/m]
    resistance : float
        Total that holds the stuck vehicle, along the line of the pull. [N]
    drive : float
        Net drive force that the moving vehicle keeps on. [N]

    Returns
    -------
    tuple of ndarray, shape (n,)
        Times since the rope came taut, and the tension at each. [s, N]

    Raises
    ------
    OutOfRange
        If a mass or the stiffness is not positive, or another value negative.

    Notes
    -----
    Limits: as the module says; ends at slack, or at the first trough if it stays taut.
    Safe side: as `peak_tension`, which its highest value equals.
    Source: derived here, oscillation by stages between events.

    Examples
    --------
    >>> times, tensions = force_history(2500.0, 3000.0, 3.0, 50_000.0, 20_000.0, 0.0)
    >>> round(float(tensions.max()), 1), round(abs(float(tensions[-1])), 6)
    (31772.7, 0.0)
    """
    return Snatch(moving_mass, stuck_mass, speed, stiffness, resistance, drive).history()
