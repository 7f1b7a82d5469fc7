"""Fatigue by a power law: lives, pulls weighted by load, cumulative damage."""

from __future__ import annotations

from collections.abc import Iterable
from math import fsum, inf

from coursekit.mechanics.nomenclature import Newton, Ratio
from coursekit.mechanics.ranges import require_not_negative, require_positive


def load_life(load: Newton, mbs: Newton, life_at_mbs: Ratio, exponent: Ratio) -> Ratio:
    r"""Return the number of pulls at one load that would use up a line's life.

    .. math:: N = K \left(\frac{F}{\mathrm{MBS}}\right)^{-m}

    Parameters
    ----------
    load : float
        Load of every pull. [N]
    mbs : float
        Minimum breaking strength of the line. [N]
    life_at_mbs : float
        Life at a load equal to the breaking strength, K. [-]
    exponent : float
        Steepness of the curve, m. [-]

    Returns
    -------
    float
        Pulls to the end of the life; a capacity, so display rounds it down. [-]

    Raises
    ------
    OutOfRange
        If the load is negative, or another figure not positive.

    Notes
    -----
    Limits: constant load from slack, no heat, grit, cuts or sunlight, which
    rule in the field. Safe side: low.
    Source: form N = K R^-M of API RP 2SK, Design and Analysis of
    Stationkeeping Systems for Floating Structures; no K and m for a nylon
    recovery rope is published.

    Examples
    --------
    >>> round(load_life(71_500.0, 130_000.0, 1_000 * 0.55**5, 5.0))
    1000
    """
    require_not_negative(load=load)
    require_positive(mbs=mbs, life_at_mbs=life_at_mbs, exponent=exponent)
    if load == 0.0:
        return inf
    return float(life_at_mbs * (load / mbs) ** -exponent)


def load_weight(load: Newton, reference_load: Newton, exponent: Ratio) -> Ratio:
    r"""Return how many pulls at the reference load one pull is worth.

    .. math:: w = \left(\frac{F}{F_\mathrm{ref}}\right)^m

    Parameters
    ----------
    load : float
        Load of the pull. [N]
    reference_load : float
        Load of the pull that counts as one. [N]
    exponent : float
        Steepness of the fatigue curve, m. [-]

    Returns
    -------
    float
        Weight of the pull; it wears, so display rounds it up. [-]

    Raises
    ------
    OutOfRange
        If the load is negative, or another figure not positive.

    Notes
    -----
    Limits: the weighted count W over the life at the reference load is the
    damage of `miner_damage`. Safe side: high.
    Source: follows from N = K R^-M, see `load_life`.

    Examples
    --------
    >>> round(load_weight(65_000.0, 39_000.0, 5.0), 6)
    12.860082
    """
    require_not_negative(load=load)
    require_positive(reference_load=reference_load, exponent=exponent)
    return float((load / reference_load) ** exponent)


def miner_damage(pulls: Iterable[tuple[Ratio, Ratio]]) -> Ratio:
    r"""Return the share of a life that a mix of loads has used.

    .. math:: D = \sum \frac{n_i}{N_i}

    Parameters
    ----------
    pulls : iterable of pairs of float
        For each load the number of pulls, and the life at that load. [-]

    Returns
    -------
    float
        Damage, 1 at the end of the life; display rounds it up. [-]

    Raises
    ------
    OutOfRange
        If a number of pulls is negative, or a life not positive.

    Notes
    -----
    Limits: the order of loads is ignored; observed damage at failure is
    often 0.33 to 3. Safe side: high.
    Source: M. A. Miner, Cumulative Damage in Fatigue, J. Appl. Mech. 12 (1945)
    A159-A164, after A. Palmgren (1924); citation from memory.

    Examples
    --------
    >>> miner_damage([(5, 10.0), (25, 100.0)])
    0.75
    """
    return fsum(_share_of_life(count, life) for count, life in pulls)


def _share_of_life(count: Ratio, life: Ratio) -> Ratio:
    require_not_negative(count=count)
    require_positive(life=life)
    return count / life
