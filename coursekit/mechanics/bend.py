"""What a bend over a pin or a sheave leaves of a wire rope's strength."""

from __future__ import annotations

from coursekit.mechanics.elementary import sqrt
from coursekit.mechanics.nomenclature import Metre, Ratio
from coursekit.mechanics.ranges import require_positive


def bent_share(bend: Metre, diameter: Metre) -> Ratio | None:
    r"""Return the share of its strength that a wire rope keeps over a pin or a sheave.

    .. math:: s = 1 - 0.5 / \sqrt{D / d}

    Parameters
    ----------
    bend : float
        Diameter of the pin or sheave, at the bottom of its groove. [m]
    diameter : float
        Diameter of the rope. [m]

    Returns
    -------
    float or None
        The share; None where the bend is thinner than the rope. [-]

    Raises
    ------
    OutOfRange
        If a diameter is not positive.

    Notes
    -----
    Limits: wire rope alone; no readable figure for synthetic line over small pins.
    Safe side: neither; the figure is that of a rope at rest on the bend.
    Source: IMCA M 179 formula, in 0027/ND rev 11, section 7.8.1, table 7-1.

    Examples
    --------
    >>> bent_share(0.04, 0.01)
    0.75
    """
    require_positive(bend=bend, diameter=diameter)
    return None if bend < diameter else 1 - 0.5 / sqrt(bend / diameter)
