"""The swing that the tension of a weightless linear rope makes.

Between one event and the next (the stuck vehicle breaks out, stops, the rope goes
slack) the tension is a cosine about a mean, so every instant and every peak has a
closed form and nothing is stepped through time.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from coursekit.mechanics.elementary import acos, atan2, hypot, sin
from coursekit.mechanics.nomenclature import (
    Newton,
    NewtonPerSecond,
    Newtons,
    NewtonSecond,
    RadianPerSecond,
    Second,
    Seconds,
)


@dataclass(frozen=True)
class Swing:
    """A tension that is `start` at time 0, changes at `rate`, and swings about `mean`."""

    mean: Newton
    start: Newton
    rate: NewtonPerSecond
    frequency: RadianPerSecond

    @property
    def amplitude(self) -> Newton:
        """How far the tension swings to either side of its mean."""
        return hypot(self.start - self.mean, self.rate / self.frequency)

    @property
    def highest(self) -> Newton:
        """The tension at the peak."""
        return self.mean + self.amplitude

    @property
    def peak_time(self) -> Second:
        """When the tension peaks: after the start if it rises there, before if it falls."""
        phase = atan2(self.rate / self.frequency, self.start - self.mean)
        return phase / self.frequency

    def rises_to(self, tension: Newton) -> Second:
        """Return when the tension passes a value on its way up to the peak."""
        return max(0.0, self.peak_time - self._from_peak(tension))

    def falls_to(self, tension: Newton) -> Second:
        """Return when the tension has fallen to a value, or to its trough if that is higher."""
        return self.peak_time + self._from_peak(tension)

    def tensions(self, times: Seconds) -> Newtons:
        """Return the tension at each of the times."""
        cosines: Newtons = np.cos(self.frequency * (times - self.peak_time))
        return self.mean + self.amplitude * cosines

    def rate_at(self, time: Second) -> NewtonPerSecond:
        """Return how fast the tension changes at a time."""
        angle = self.frequency * (time - self.peak_time)
        return -self.amplitude * self.frequency * sin(angle)

    def impulse(self, time: Second) -> NewtonSecond:
        """Return the tension summed over the time since the start."""
        end = sin(self.frequency * (time - self.peak_time))
        begin = sin(-self.frequency * self.peak_time)
        return self.mean * time + self.amplitude / self.frequency * (end - begin)

    def _from_peak(self, tension: Newton) -> Second:
        share = (tension - self.mean) / self.amplitude
        return acos(min(1.0, max(-1.0, share))) / self.frequency
