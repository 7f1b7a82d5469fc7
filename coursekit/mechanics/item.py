"""Limit, use and safety factor of one piece of gear."""

from __future__ import annotations

from coursekit.mechanics.nomenclature import Newton, Ratio
from coursekit.mechanics.ranges import (
    LARGEST,
    require_in_range,
    require_not_negative,
    require_positive,
)


def item_limit(
    wll: Newton | None,
    mbs: Newton | None,
    hitch_factor: Ratio | None,
    design_factor: Ratio,
) -> Newton | None:
    r"""Return the most that an item may carry as it is rigged.

    .. math:: L = f \, WLL \text{, or else } f \, MBS / N

    Parameters
    ----------
    wll : float or None
        Working load limit; None when the item shows none. [N]
    mbs : float or None
        Minimum breaking strength; None when the item shows none. [N]
    hitch_factor : float or None
        What the hitch multiplies the rating by; None when the hitch has no rating. [-]
    design_factor : float
        What the MBS is divided by when there is no WLL. [-]

    Returns
    -------
    float or None
        The limit, a capacity, so display rounds it down; None when there is none. [N]

    Raises
    ------
    OutOfRange
        If a rating or the hitch factor is not positive, or the design factor below 1.

    Notes
    -----
    Limits: an item that is fit, used as its maker allows; never inferred from size.
    Safe side: the WLL goes before a higher figure from the MBS.
    Source: ASME B30.9 and B30.26 for the order, second-hand; factors of practice.

    Examples
    --------
    >>> item_limit(None, 88_000.0, 1.0, 2.0)
    44000.0
    >>> item_limit(30_000.0, 210_000.0, 0.8, 5.0)
    24000.0
    >>> item_limit(None, None, 1.0, 3.0) is None
    True
    """
    _require_ratings(wll=wll, mbs=mbs, hitch_factor=hitch_factor)
    require_in_range(1.0, LARGEST, design_factor=design_factor)
    if hitch_factor is None:
        return None
    if wll is not None:
        return wll * hitch_factor
    return None if mbs is None else mbs * hitch_factor / design_factor


def safety_factor(mbs: Newton | None, hitch_factor: Ratio | None, load: Newton) -> Ratio | None:
    r"""Return how many times the load an item would stand before it may break.

    .. math:: N = f \, MBS / F

    Parameters
    ----------
    mbs : float or None
        Minimum breaking strength; None when the item shows none. [N]
    hitch_factor : float or None
        What the hitch multiplies the rating by; None when the hitch has no rating. [-]
    load : float
        What the item carries. [N]

    Returns
    -------
    float or None
        The factor, a capacity, so display rounds it down; None when there is no MBS, no
        rating for the hitch, or no load. [-]

    Raises
    ------
    OutOfRange
        If the MBS or the hitch factor is not positive, or the load negative.

    Notes
    -----
    Limits: strength as new; wear, knots and bends take from it.
    Safe side: no; a worn item breaks below its MBS.
    Source: definition, ASME B30.26 design factor, second-hand.

    Examples
    --------
    >>> safety_factor(88_000.0, 1.0, 22_000.0)
    4.0
    """
    _require_ratings(mbs=mbs, hitch_factor=hitch_factor)
    require_not_negative(load=load)
    if mbs is None or hitch_factor is None or load == 0:
        return None
    return mbs * hitch_factor / load


def use(load: Newton, limit: Newton | None) -> Ratio | None:
    r"""Return the share of its limit that something carries.

    .. math:: u = F / L

    Parameters
    ----------
    load : float
        What it carries. [N]
    limit : float or None
        The most that it may carry; None when it has no rating. [N]

    Returns
    -------
    float or None
        The share; above 1 it is overloaded; None where there is no limit. [-]

    Raises
    ------
    OutOfRange
        If the load is negative or the limit not positive.

    Notes
    -----
    Limits: compares unrounded numbers; rounding belongs to the display.
    Safe side: neither.
    Source: definition.

    Examples
    --------
    >>> use(22_000.0, 44_000.0)
    0.5
    """
    require_not_negative(load=load)
    _require_ratings(limit=limit)
    return None if limit is None else load / limit


def _require_ratings(**values: float | None) -> None:
    require_positive(**{name: value for name, value in values.items() if value is not None})
