"""What a pull off its line leaves of a shackle's rating."""

from __future__ import annotations

import math
from typing import Final

from coursekit.mechanics.nomenclature import Radian, Ratio
from coursekit.mechanics.ranges import require_in_range
from coursekit.mechanics.sling import ANGLE_DUST

OFF_LINE_STEPS: Final[tuple[tuple[Radian, Ratio], ...]] = (
    # Angle up to which, share of the rating.  Bands of ASME B30.26 as copied in WAC
    # 296-155-33905; percentages from memory, met by several trade pages at 45 and 90 deg.
    (math.radians(5), 1.0),
    (math.radians(45), 0.7),
    (math.radians(90), 0.5),
)


def off_line_share(angle_off: Radian) -> Ratio | None:
    r"""Return the share of its rating that a shackle keeps when pulled off its line.

    .. math:: s = 1, 0.7, 0.5 \text{ up to } 5, 45, 90 deg

    Parameters
    ----------
    angle_off : float
        Angle of the load off the line from pin to bow, in the plane of the bow. [rad]

    Returns
    -------
    float or None
        The share; None above 90 deg, where it may carry nothing. [-]

    Raises
    ------
    OutOfRange
        If the angle is not between 0 and 180 deg.

    Notes
    -----
    Limits: steel shackles with their pin home, loaded on the bow, never on the pin.
    Safe side: yes, by steps, never between them: 5.5 deg counts with the band from 6 on.
    Source: ASME B30.26 bands as in WAC 296-155-33905; percentages from memory.

    Examples
    --------
    >>> off_line_share(0.0), off_line_share(math.radians(30))
    (1.0, 0.7)
    """
    require_in_range(0.0, math.pi, angle_off=angle_off)
    shares = (share for most, share in OFF_LINE_STEPS if angle_off <= most + ANGLE_DUST)
    return next(shares, None)
