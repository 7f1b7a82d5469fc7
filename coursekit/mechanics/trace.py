"""A force over time, sample by sample: as a load cell wrote it, or as it was solved."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from coursekit.mechanics.nomenclature import Newton, Newtons, Ratio, Second, Seconds

HALVINGS: Final = 60
"""Enough to find a level to the last digit of a float."""


@dataclass(frozen=True, eq=False)
class ForceTrace:
    """Forces at rising times, two samples at least, in s and N.

    >>> trace = ForceTrace(np.array([0.0, 0.1, 0.2]), np.array([0.0, 5.0, 2.0]))
    >>> trace.peak, trace.peak_time, round(trace.rate)
    (5.0, 0.1, 10)
    """

    times: Seconds
    forces: Newtons

    @property
    def highest(self) -> int:
        """The number of the highest sample, the first of several alike."""
        return int(np.argmax(self.forces))

    @property
    def peak(self) -> Newton:
        """The highest force."""
        return float(self.forces[self.highest])

    @property
    def peak_time(self) -> Second:
        """When it was that high."""
        return float(self.times[self.highest])

    @property
    def rate(self) -> float:
        """Samples in a second, by the usual interval."""
        return 1.0 / float(np.median(np.diff(self.times)))

    @property
    def interval_at_peak(self) -> Second:
        """The longer of the two intervals that meet at the highest sample."""
        first = max(0, self.highest - 1)
        return float(np.diff(self.times[first : self.highest + 2]).max())

    @property
    def flat_time(self) -> Second:
        """How long it stays at its highest sample: a cell at the end of its range does.

        >>> cut = ForceTrace(np.array([0.0, 0.1, 0.2, 0.3]), np.array([1.0, 5.0, 5.0, 2.0]))
        >>> cut.flat_time
        0.1
        """
        falls = np.flatnonzero(self.forces[self.highest :] < self.peak)
        last = self.highest + int(falls[0]) - 1 if falls.size else -1
        return float(self.times[last] - self.peak_time)

    def missed_share(self, interval: Second) -> Ratio:
        """Return the share of this peak that samples so far apart may miss.

        The worst samples stand astride the peak, equally high: the force is above
        their level for just one interval.  Only the hump of the peak counts, to where the
        force turns.  Source: derived here; for a swing it is 1 - cos(w dt / 2).

        >>> swing = ForceTrace(t := np.linspace(0.0, np.pi, 2001), np.sin(t))
        >>> round(swing.missed_share(0.2), 4), round(1 - float(np.cos(0.1)), 4)
        (0.005, 0.005)
        """
        if interval >= self.times[-1] - self.times[0]:
            return 1.0
        low, high = 0.0, self.peak
        for _ in range(HALVINGS):
            level = (low + high) / 2
            low, high = (low, level) if self._time_above(level) < interval else (level, high)
        return 1.0 - low / self.peak

    def thinned(self, most: int) -> ForceTrace:
        """Return at most so many samples that look the same: lows and highs of each stretch.

        >>> many = ForceTrace(t := np.linspace(0.0, 9.0, 9001), np.sin(t))
        >>> few = many.thinned(100)
        >>> few.times.size <= 100, few.peak == many.peak
        (True, True)
        """
        if self.times.size <= most:
            return self
        edges = np.linspace(0, self.times.size, most // 2 + 1).astype(int)
        kept = {
            int(first + pick(self.forces[first:last]))
            for first, last in pairwise(edges)
            for pick in (np.argmin, np.argmax)
        }
        chosen = sorted(kept)
        return ForceTrace(self.times[chosen], self.forces[chosen])

    def _time_above(self, level: Newton) -> Second:
        top = self.highest
        rising = np.minimum.accumulate(self.forces[top::-1])[::-1]
        falling = np.minimum.accumulate(self.forces[top:])[::-1]
        rises = np.interp(level, rising, self.times[: top + 1])
        falls = np.interp(level, falling, self.times[top:][::-1])
        return float(falls - rises)
