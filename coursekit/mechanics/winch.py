"""The winch drum: wraps, layers, and the pull that each layer leaves."""

from __future__ import annotations

import math
from typing import Final

from coursekit.mechanics.elementary import atan, sqrt
from coursekit.mechanics.nomenclature import Count, Metre, Newton, Radian, Ratio
from coursekit.mechanics.ranges import (
    LARGEST,
    require_finite,
    require_in_range,
    require_not_negative,
    require_positive,
)

FILL_DUST: Final[Ratio] = 1e-9
"""A layer overfull by no more than this share is still full: rounding, not line."""


def wrap_length(drum: Metre, rope: Metre, layer: Count) -> Metre:
    r"""Return the length of one wrap on a layer.

    .. math:: l_n = \pi (B + (2n - 1) d)

    Parameters
    ----------
    drum : float
        Diameter of the bare drum. [m]
    rope : float
        Diameter of the line. [m]
    layer : int
        Layer, 1 on the drum itself. [count]

    Returns
    -------
    float
        Length of line in the wrap. [m]

    Raises
    ------
    OutOfRange
        If a diameter is not positive or the layer below 1.

    Notes
    -----
    Limits: round wraps side by side, layers that lie on top of each other.
    Safe side: long where layers nest, so a real layer holds less line.
    Source: derived here; TM 9-2320-279-10-2, table 2-7 for the same geometry.

    Examples
    --------
    >>> round(wrap_length(0.064, 0.010, 1), 4)
    0.2325
    """
    require_positive(drum=drum, rope=rope)
    require_in_range(1, LARGEST, layer=layer)
    return math.pi * (drum + (2 * layer - 1) * rope)


def layer_pull(first_layer_pull: Newton, drum: Metre, rope: Metre, layer: Count) -> Newton:
    r"""Return the pull that a winch has on a layer of its drum.

    .. math:: F_n = F_1 \frac{B + d}{B + (2n - 1) d}

    Parameters
    ----------
    first_layer_pull : float
        Rated pull on the first layer. [N]
    drum : float
        Diameter of the bare drum. [m]
    rope : float
        Diameter of the line. [m]
    layer : int
        Layer that the line comes off, 1 on the drum itself. [count]

    Returns
    -------
    float
        Pull on that layer; a capacity, so display rounds it down. [N]

    Raises
    ------
    OutOfRange
        If the pull or a diameter is not positive, or the layer below 1.

    Notes
    -----
    Limits: constant torque; a tired battery or a hot motor gives less.
    Safe side: low where layers nest.
    Source: TM 9-2320-279-10-2, table 2-7, which it meets within 0.1 %.

    Examples
    --------
    >>> round(layer_pull(42_000.0, 0.064, 0.010, 3))
    27263
    """
    require_positive(first_layer_pull=first_layer_pull)
    return first_layer_pull * wrap_length(drum, rope, 1) / wrap_length(drum, rope, layer)


def layer_of_outermost_wrap(
    stored_length: Metre, drum: Metre, rope: Metre, wraps_per_layer: Count
) -> Count:
    r"""Return the layer that holds the outermost wrap left on the drum.

    .. math:: n = \left\lceil \frac{2s}{B + \sqrt{B^2 + 4 d s}} \right\rceil,
        \quad s = \frac{S}{\pi w}

    Parameters
    ----------
    stored_length : float
        Line left on the drum; 0 or below when none is left. [m]
    drum : float
        Diameter of the bare drum. [m]
    rope : float
        Diameter of the line. [m]
    wraps_per_layer : int
        Wraps that lie side by side. [count]

    Returns
    -------
    int
        The layer that works; 1 when nothing is left. [count]

    Raises
    ------
    OutOfRange
        If the stored length is not finite, a diameter not positive, or there is less
        than 1 wrap on a layer.

    Notes
    -----
    Limits: line spooled evenly; a line heaped on one side sits layers higher.
    Safe side: a layer filled exactly counts as itself, not as the next.
    Source: derived here, sum of the wraps of full layers, pi w (n B + n^2 d).

    Examples
    --------
    >>> layer_of_outermost_wrap(10.0, 0.064, 0.010, 8)
    4
    """
    require_finite(stored_length=stored_length)
    require_positive(drum=drum, rope=rope)
    require_in_range(1, LARGEST, wraps_per_layer=wraps_per_layer)
    spread = max(0.0, stored_length) * (1 - FILL_DUST) / (math.pi * wraps_per_layer)
    layers = 2 * spread / (drum + sqrt(drum * drum + 4 * rope * spread))
    return max(1, math.ceil(layers))


def dead_wrap_length(drum: Metre, rope: Metre, dead_wraps: Count) -> Metre:
    r"""Return the line that the wraps which stay on the drum take.

    .. math:: L = n \pi (B + d)

    Parameters
    ----------
    drum : float
        Diameter of the bare drum. [m]
    rope : float
        Diameter of the line. [m]
    dead_wraps : int
        Wraps that stay on the drum. [count]

    Returns
    -------
    float
        Length of line that cannot be paid out. [m]

    Raises
    ------
    OutOfRange
        If a diameter is not positive or the count negative.

    Notes
    -----
    Limits: all wraps are taken to lie on the first layer.
    Safe side: a little short where they spill onto a second.
    Source: derived here; the count is that of TM 9-2320-279-10-2, p. 2-660, for wire.

    Examples
    --------
    >>> round(dead_wrap_length(0.064, 0.010, 10), 3)
    2.325
    """
    require_not_negative(dead_wraps=dead_wraps)
    return dead_wraps * wrap_length(drum, rope, 1)


def fleet_angle(drum_width: Metre, lead: Metre) -> Radian:
    r"""Return the widest angle at which line runs onto a drum.

    .. math:: \delta = \arctan\frac{w}{2 L}

    Parameters
    ----------
    drum_width : float
        Width of the drum between its flanges. [m]
    lead : float
        Line from the drum to where it is first led. [m]

    Returns
    -------
    float
        Angle off square to the drum, with the line at a flange. [rad]

    Raises
    ------
    OutOfRange
        If the width or the lead is not positive.

    Notes
    -----
    Limits: the line is led from straight before the middle of the drum.
    Safe side: low where the winch does not face its line.
    Source: definition; NSW dogging and rigging guide, fleet angles, leads of 19 and 12 half
    widths.

    Examples
    --------
    >>> round(math.degrees(fleet_angle(1.0, 9.5)), 2)
    3.01
    """
    require_positive(drum_width=drum_width, lead=lead)
    return atan(drum_width / (2 * lead))
