"""Published and customary figures, each with its source on its line or in a field.

"Second-hand" is a figure read in a work that restates the source named; "from
memory" one that nobody has looked up again; "common practice, no source" says
what it says.  A school replaces figures by its scenarios and its policy.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from coursekit.mechanics.constants import SHORT_TON, STANDARD_GRAVITY
from coursekit.mechanics.nomenclature import Count, Newton, Ratio, Word

_ENGINEERING_TABLES = "general engineering tables, second-hand"
_ARMY_FRACTIONS = "Commonwealth army recovery fractions"
_NOON = "Noon, Engineering Analysis of Vehicular Accidents, 1994, second-hand"
_CUSTOM = "common practice, no source"


@dataclass(frozen=True)
class Surface:
    """What a surface costs a rolling wheel, and what grip it gives a tyre."""

    rolling: Ratio
    grip: Ratio
    rolling_source: str
    grip_source: str


SURFACES: Final[Mapping[str, Surface]] = MappingProxyType(
    {
        "asphalt": Surface(
            0.013,
            0.65,
            f"Wong, from memory; inside 0.010 to 0.015 of {_ENGINEERING_TABLES}",
            f"{_NOON}: dry asphalt",
        ),
        "gravel": Surface(
            0.02,
            0.35,
            f"rolled gravel, {_ENGINEERING_TABLES}",
            f"{_NOON}: gravel and dirt road",
        ),
        "firm-earth": Surface(
            0.05,
            0.35,
            f"Wong, from memory; inside 0.04 to 0.08 of {_ENGINEERING_TABLES}",
            f"{_NOON}: gravel and dirt road",
        ),
        "medium-earth": Surface(
            0.08,
            0.35,
            f"Gillespie, from memory; end of 0.04 to 0.08 of {_ENGINEERING_TABLES}",
            f"{_NOON}: gravel and dirt road",
        ),
        "wet-grass": Surface(
            0.14, 0.20, f"{_ARMY_FRACTIONS}: grass 1/7, from memory", f"{_NOON}: wet grass"
        ),
        "hard-wet-sand": Surface(
            0.17, 0.30, f"{_ARMY_FRACTIONS}: hard wet sand 1/6, second-hand", _CUSTOM
        ),
        "soft-wet-sand": Surface(
            0.20, 0.30, f"{_ARMY_FRACTIONS}: soft wet sand 1/5, from memory", _CUSTOM
        ),
        "loose-sand": Surface(
            0.30,
            0.30,
            f"Gillespie, from memory; inside 0.2 to 0.4 of {_ENGINEERING_TABLES}",
            _CUSTOM,
        ),
        "shallow-mud": Surface(
            0.33, 0.25, f"{_ARMY_FRACTIONS}: shallow mud 1/3, from memory", _CUSTOM
        ),
        "deep-mud": Surface(0.50, 0.25, f"{_ARMY_FRACTIONS}: bog 1/2, second-hand", _CUSTOM),
        "snow": Surface(
            0.20,
            0.20,
            f"middle of 0.1 to 0.3, {_ENGINEERING_TABLES}",
            f"{_NOON}: snow 0.20 to 0.25",
        ),
    }
)

LOWEST_GRIP: Final[Ratio] = 0.20
"""Taken where no surface is stated: the least of the table above."""

BOGGING: Final[Mapping[str, Ratio]] = MappingProxyType(
    # Wheel, fender and turret depth in US Army recovery manuals; from memory.
    {"none": 0.0, "hubs": 1.0, "sills": 2.0, "bonnet": 3.0}
)

RIGHTING: Final[Ratio] = 0.5
"""Pull over weight that rights a vehicle: overturned, US Army recovery manuals, from memory."""

PULLEY_EFFICIENCY: Final[Mapping[str, Ratio]] = MappingProxyType(
    {
        # Under 1/1.04 for anti-friction bearings, Wire Rope Users Manual, 4th ed., pp. 86-88.
        "pulley-block": 0.95,
        # Under 1/1.09 for plain bearings, same pages.
        "plain-pulley-block": 0.91,
        # Inside 0.55 to 0.78 as measured at 180 deg on rings that do not turn; second-hand.
        "pulley-ring": 0.70,
    }
)

DESIGN_FACTORS: Final[Mapping[str, Ratio]] = MappingProxyType(
    # Common practice, no source.
    {
        "winch-line": 2.0,
        "extension-line": 2.0,
        "kinetic-rope": 3.0,
        "kinetic-strap": 3.0,
        "soft-shackle": 5.0,
    }
)

OTHER_DESIGN_FACTOR: Final[Ratio] = 3.0
"""For every kind that `DESIGN_FACTORS` does not name; common practice, no source."""

ANCHOR_FACTOR: Final[Mapping[str, Ratio]] = MappingProxyType(
    # Common practice, no source.
    {"untested": 2.0, "tested": 1.0}
)

SPREAD: Final[Mapping[str, float]] = MappingProxyType(
    {"mass": 0.05, "rolling": 0.25, "slope": math.radians(1.0), "efficiency": 0.05}
)
"""How far estimates may lie from what is stated: a vehicle's mass with its load, the rolling
resistance and the efficiency of pulleys as shares, a slope in rad; common practice, no source."""

TOW_ALLOWANCE: Final[Ratio] = 2.0
"""For the jerks of a tow; common practice, no source."""

KINETIC_ALLOWANCE: Final[Ratio] = 1.3
"""Spring models read up to 30 % low in hard events: Weber, Analysis of Impact Force
Equations, International Technical Rescue Symposium, 2002."""

WET_NYLON: Final[Ratio] = 0.85
"""Strength that wet nylon keeps: UFC 4-159-03, Moorings, 2005, table 6-8."""

DEAD_WRAPS: Final[Mapping[str, Count]] = MappingProxyType(
    {
        # TM 9-2320-279-10-2, p. 2-660.
        "wire": 5,
        # Common practice, no source.
        "synthetic": 10,
    }
)

KINETIC_STRAIN: Final[Mapping[str, Ratio]] = MappingProxyType(
    # Strain at the breaking strength; common practice, no source.
    {"kinetic-rope": 0.30, "kinetic-strap": 0.20}
)

STRAP_RANGE: Final[tuple[Ratio, Ratio]] = (2.0, 3.0)
"""Strength of a kinetic strap over the lighter vehicle's gross weight: Australia, Consumer
Goods (Motor Vehicle Recovery Straps) Safety Standard 2017, F2017L01560."""


@dataclass(frozen=True)
class BowShackleRow:
    """A nominal size of carbon bow shackle and the WLL printed for it."""

    size: str
    wll: Newton


def _carbon(size: str, short_tons: float) -> BowShackleRow:
    return BowShackleRow(size, short_tons * SHORT_TON * STANDARD_GRAVITY)


# RR-C-271, grade A, second-hand.  To show, never to infer a limit from: the same
# size in alloy carries more, so the stamp on the shackle decides.
CARBON_BOW_SHACKLES: Final[tuple[BowShackleRow, ...]] = (
    _carbon("1/2 in", 2.0),
    _carbon("5/8 in", 3.25),
    _carbon("3/4 in", 4.75),
    _carbon("7/8 in", 6.5),
    _carbon("1 in", 8.5),
)


def design_factor(kind: Word) -> Ratio:
    """Return what the MBS of an item of this kind is divided by.

    Parameters
    ----------
    kind : str
        Kind of the item, such as winch-line.

    Returns
    -------
    float
        The divisor. [-]

    Raises
    ------
    Nothing: a kind without a row of its own gets `OTHER_DESIGN_FACTOR`.

    Notes
    -----
    Limits: for an item without a WLL; the maker's rating always goes first.
    Safe side: not shown; a school sets its own in its policy.
    Source: common practice, no source.

    Examples
    --------
    >>> design_factor("winch-line"), design_factor("tow-strap")
    (2.0, 3.0)
    """
    return DESIGN_FACTORS.get(kind, OTHER_DESIGN_FACTOR)
