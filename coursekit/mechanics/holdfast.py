"""What pickets and buried logs hold, by the published tables."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from coursekit.mechanics.constants import FOOT, POUND_FORCE
from coursekit.mechanics.nomenclature import Metre, Newton, NewtonPerSquareMetre, Ratio
from coursekit.mechanics.ranges import require_not_negative, require_positive

PICKETS: Final[Mapping[str, Newton]] = MappingProxyType(
    # Pickets of 3 in by 5 ft, driven 3 to 4 ft, leaning 15 deg back, 3 to 6 ft apart in line
    # with the pull and lashed together, in undisturbed loam: US Navy 14251, chapter 6.
    {
        "1": 700 * POUND_FORCE,
        "1-1-1": 1_800 * POUND_FORCE,
        "3-2-1": 4_000 * POUND_FORCE,
    }
)

LEADS: Final = ("1:1", "1:2", "1:3", "1:4")
"""Slopes of the line from a buried log to the surface, rise to run."""

HOLDING_POWER: Final[Mapping[Metre, Mapping[str, NewtonPerSquareMetre]]] = MappingProxyType(
    # By mean depth of the log, in loamy soil: TM 5-5420-278-10, pp. 0035-22 and -23, table 9.
    # Its digits run together in the text that was read; they are split so that the power
    # rises with the depth and with a flatter line.
    {
        depth * FOOT: {
            lead: power * POUND_FORCE / FOOT**2 for lead, power in zip(LEADS, row, strict=True)
        }
        for depth, row in {
            3: (950, 1_300, 1_450, 1_500),
            4: (1_750, 2_200, 2_600, 2_700),
            5: (2_800, 3_600, 4_000, 4_100),
            6: (3_800, 5_100, 5_800, 6_000),
            7: (5_100, 7_000, 8_000, 8_400),
        }.items()
    }
)

SOILS: Final[Mapping[str, Ratio]] = MappingProxyType(
    # What the soil makes of the power in loam, same table.  Its factor of 5 for hardpan and
    # rock is left out: there the log, not the soil, decides.
    {"loam": 1.0, "wet-sand": 0.5}
)

TRENCH: Final[Metre] = FOOT
"""Length of log that has no soil before it, where the cable's trench is; same page."""

SLENDEREST_LOG: Final[Ratio] = 5.0
SLENDEREST_TIMBER: Final[Ratio] = 9.0
"""Length over the diameter of a log, and over the thickness of a timber; same page."""


def deadman_holds(
    holding_power: NewtonPerSquareMetre, face: Metre, log: Metre, trench: Metre
) -> Newton:
    r"""Return what a buried log holds.

    .. math:: H = p \, D_f (L - T)

    Parameters
    ----------
    holding_power : float
        What the soil in front of the log bears, of `HOLDING_POWER`. [N/m^2]
    face : float
        Height of the log's face; its diameter where it is round. [m]
    log : float
        Length of the log. [m]
    trench : float
        Length of it that the trench of the cable leaves without soil. [m]

    Returns
    -------
    float
        What it holds; a capacity, so display rounds it down. [N]

    Raises
    ------
    OutOfRange
        If the power, the face or the log is not positive, or the trench negative.

    Notes
    -----
    Limits: firm soil; a log up to 5 times its diameter, a timber 9 times its thickness.
    Safe side: yes; a log no longer than its trench holds nothing.
    Source: TM 5-5420-278-10, p. 0035-22, solved for the cable's strength.

    Examples
    --------
    >>> deadman_holds(400_000.0, 0.5, 2.25, 0.25)
    400000.0
    """
    require_positive(holding_power=holding_power, face=face, log=log)
    require_not_negative(trench=trench)
    return holding_power * face * max(0.0, log - trench)
