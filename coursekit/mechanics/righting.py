"""A vehicle that lies on its side: what it takes to set it on its wheels."""

from __future__ import annotations

from coursekit.mechanics.nomenclature import Newton
from coursekit.mechanics.ranges import require_positive
from coursekit.mechanics.tables import RIGHTING


def righting_resistance(weight: Newton) -> Newton:
    r"""Return the pull that tips a vehicle from its side onto its wheels.

    .. math:: R_t = W / 2

    Parameters
    ----------
    weight : float
        Weight of the vehicle. [N]

    Returns
    -------
    float
        Pull at the start, the most of the whole way; display rounds it up. [N]

    Raises
    ------
    OutOfRange
        If the weight is not positive.

    Notes
    -----
    Limits: a level pull on the upper side, square to the vehicle, which does not slide; past
    its balance the vehicle falls by itself, and letting it down takes as much at most.
    Safe side: low where the centre of gravity stands higher than half the width.
    Source: overturned vehicle, US Army recovery manuals, from memory; derived here, W h / b
    for a centre of gravity h above the wheels and a width b, with h = b / 2.

    Examples
    --------
    >>> righting_resistance(20_000.0)
    10000.0
    """
    require_positive(weight=weight)
    return RIGHTING * weight
