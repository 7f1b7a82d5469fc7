"""Ropes that stiffen: how far they stretch under a tension, and what work that takes.

A rope is known by one point and an exponent, or by a table of points; nylon is no straight
line.  Both are read from the tension, so that parts joined end to end simply add up.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Protocol

from coursekit.mechanics.nomenclature import Joule, Metre, Newton, Ratio
from coursekit.mechanics.ranges import (
    LARGEST,
    SMALLEST,
    OutOfRange,
    require_in_range,
    require_not_negative,
    require_positive,
)

STIFFEST: Final[Ratio] = 10.0
"""Exponents from 1, a straight line, to this: nylon from rest to break needs 3 to 4."""


def power_law_stretch(
    tension: Newton, load_at_strain: Newton, strain: Ratio, length: Metre, stiffening: Ratio
) -> Metre:
    r"""Return how far a rope stretches whose tension is a power of its stretch.

    .. math:: e = \varepsilon L \, (T / F)^{1/n}, \text{ from } T = a e^n

    Parameters
    ----------
    tension : float
        Pull in the rope. [N]
    load_at_strain : float
        Tension at which the strain was measured. [N]
    strain : float
        Stretch over unstretched length. [-]
    length : float
        Unstretched length between bearing points. [m]
    stiffening : float
        Exponent of the stretch in the tension; 1 is a straight line. [-]

    Returns
    -------
    float
        Stretch of the rope. [m]

    Raises
    ------
    OutOfRange
        If the tension is negative, the load or length not positive, the strain not in
        0.0001 to 1, or the exponent not in 1 to 10.

    Notes
    -----
    Limits: loading, without creep or loss; one exponent for the whole way.
    Safe side: a worked rope stretches less, and peaks higher, than one as new.
    Source: definition of a power law; nylon stiffens: UFC 4-159-03, 2005, table 6-8.

    Examples
    --------
    >>> power_law_stretch(32_500.0, 130_000.0, 0.30, 9.0, 2.0)
    1.35
    """
    require_not_negative(tension=tension)
    require_positive(load_at_strain=load_at_strain, length=length)
    require_in_range(0.0001, 1.0, strain=strain)
    require_in_range(1.0, STIFFEST, stiffening=stiffening)
    return strain * length * math.pow(tension / load_at_strain, 1 / stiffening)


def power_law_energy(
    tension: Newton, load_at_strain: Newton, strain: Ratio, length: Metre, stiffening: Ratio
) -> Joule:
    r"""Return the work in a rope whose tension is a power of its stretch.

    .. math:: U = \frac{T e}{n + 1}

    Parameters
    ----------
    tension : float
        Pull in the rope. [N]
    load_at_strain : float
        Tension at which the strain was measured. [N]
    strain : float
        Stretch over unstretched length. [-]
    length : float
        Unstretched length between bearing points. [m]
    stiffening : float
        Exponent of the stretch in the tension; 1 is a straight line. [-]

    Returns
    -------
    float
        Work from slack to the tension; display rounds it up. [J]

    Raises
    ------
    OutOfRange
        If the tension is negative, the load or length not positive, the strain not in
        0.0001 to 1, or the exponent not in 1 to 10.

    Notes
    -----
    Limits: loading, without creep or loss; one exponent for the whole way.
    Safe side: high as what a parted rope sets free; a real rope keeps a part as heat.
    Source: derived here, the integral of a power law.

    Examples
    --------
    >>> power_law_energy(32_500.0, 130_000.0, 0.30, 9.0, 2.0)
    14625.0
    """
    stretch = power_law_stretch(tension, load_at_strain, strain, length, stiffening)
    return tension * stretch / (stiffening + 1)


def tabulated_stretch(
    tension: Newton, loads: Sequence[Newton], strains: Sequence[Ratio], length: Metre
) -> Metre:
    r"""Return how far a rope stretches by a table of its loads and strains.

    .. math:: e = L \, \varepsilon(T), \text{ straight between } (0, 0) \text{ and the points}

    Parameters
    ----------
    tension : float
        Pull in the rope. [N]
    loads : sequence of float
        Tensions of the points, rising from above 0. [N]
    strains : sequence of float
        Strain at each of them, rising from above 0. [-]
    length : float
        Unstretched length between bearing points. [m]

    Returns
    -------
    float
        Stretch of the rope. [m]

    Raises
    ------
    OutOfRange
        If the tension is negative, the length not positive, or the points do not rise
        from above 0, one strain of 1 at most for each load.

    Notes
    -----
    Limits: past the last point the last part goes on straight.
    Safe side: low as a peak past the last point, where a rope stiffens further.
    Source: definition, linear interpolation.

    Examples
    --------
    >>> tabulated_stretch(30_000.0, [10_000.0, 50_000.0], [0.05, 0.15], 10.0)
    1.0
    """
    _require_curve(tension, loads, strains)
    require_positive(length=length)
    points = [(0.0, 0.0), *zip(loads, strains, strict=True)]
    (low, start), (high, end) = _part_at(tension, loads, points)
    return length * (start + (end - start) * (tension - low) / (high - low))


def tabulated_energy(
    tension: Newton, loads: Sequence[Newton], strains: Sequence[Ratio], length: Metre
) -> Joule:
    r"""Return the work in a rope by a table of its loads and strains.

    .. math:: U = L \int_0^{\varepsilon(T)} F \, d\varepsilon, \text{ by trapezia}

    Parameters
    ----------
    tension : float
        Pull in the rope. [N]
    loads : sequence of float
        Tensions of the points, rising from above 0. [N]
    strains : sequence of float
        Strain at each of them, rising from above 0. [-]
    length : float
        Unstretched length between bearing points. [m]

    Returns
    -------
    float
        Work from slack to the tension; display rounds it up. [J]

    Raises
    ------
    OutOfRange
        If the tension is negative, the length not positive, or the points do not rise
        from above 0, one strain of 1 at most for each load.

    Notes
    -----
    Limits: past the last point the last part goes on straight.
    Safe side: high as what a parted rope sets free; a real rope keeps a part as heat.
    Source: definition, area under straight parts.

    Examples
    --------
    >>> tabulated_energy(30_000.0, [10_000.0, 50_000.0], [0.05, 0.15], 10.0)
    12500.0
    """
    stretch = tabulated_stretch(tension, loads, strains, length)
    below = [(0.0, 0.0)]
    below += [
        (load, length * strain)
        for load, strain in zip(loads, strains, strict=True)
        if load < tension
    ]
    parts = pairwise([*below, (tension, stretch)])
    return sum((low + high) / 2 * (end - start) for (low, start), (high, end) in parts)


def _part_at(
    tension: Newton, loads: Sequence[Newton], points: Sequence[tuple[Newton, Ratio]]
) -> tuple[tuple[Newton, Ratio], tuple[Newton, Ratio]]:
    number = min(bisect_left(loads, tension), len(loads) - 1)
    return points[number], points[number + 1]


def _require_curve(tension: Newton, loads: Sequence[Newton], strains: Sequence[Ratio]) -> None:
    require_not_negative(tension=tension)
    if not loads or len(loads) != len(strains):
        raise OutOfRange("strains", len(strains), max(1, len(loads)), max(1, len(loads)))
    for name, values, most in (("loads", loads, LARGEST), ("strains", strains, 1.0)):
        before = 0.0
        for value in values:
            require_in_range(SMALLEST, most, **{name: value})
            if value <= before:
                raise OutOfRange(name, value, before, most)
            before = value


class Law(Protocol):
    """How one part of a line, or all of it, answers to its tension."""

    @property
    def reference(self) -> Newton:
        """Return a tension of the size that the part is made for."""

    def stretch(self, tension: Newton) -> Metre:
        """Return how far it stretches."""

    def energy(self, tension: Newton) -> Joule:
        """Return the work that it takes to stretch it."""


@dataclass(frozen=True)
class PowerLaw:
    """A part known by one point and an exponent, 1 for a straight line."""

    load_at_strain: Newton
    strain: Ratio
    length: Metre
    stiffening: Ratio = 1.0

    @property
    def reference(self) -> Newton:
        """The load of its point."""
        return self.load_at_strain

    def stretch(self, tension: Newton) -> Metre:
        """Return how far it stretches."""
        return power_law_stretch(
            tension, self.load_at_strain, self.strain, self.length, self.stiffening
        )

    def energy(self, tension: Newton) -> Joule:
        """Return the work that it takes to stretch it."""
        return power_law_energy(
            tension, self.load_at_strain, self.strain, self.length, self.stiffening
        )


@dataclass(frozen=True)
class Tabulated:
    """A part known by a table of points."""

    loads: tuple[Newton, ...]
    strains: tuple[Ratio, ...]
    length: Metre

    @property
    def reference(self) -> Newton:
        """The load of its last point."""
        return self.loads[-1]

    def stretch(self, tension: Newton) -> Metre:
        """Return how far it stretches."""
        return tabulated_stretch(tension, self.loads, self.strains, self.length)

    def energy(self, tension: Newton) -> Joule:
        """Return the work that it takes to stretch it."""
        return tabulated_energy(tension, self.loads, self.strains, self.length)


@dataclass(frozen=True)
class InSeries:
    """Parts joined end to end: one tension, and the stretch and the work add up."""

    parts: tuple[Law, ...]

    @property
    def reference(self) -> Newton:
        """The largest of its parts' own."""
        return max(part.reference for part in self.parts)

    def stretch(self, tension: Newton) -> Metre:
        """Return how far all of it stretches."""
        return sum(part.stretch(tension) for part in self.parts)

    def energy(self, tension: Newton) -> Joule:
        """Return the work that it takes to stretch all of it."""
        return sum(part.energy(tension) for part in self.parts)
