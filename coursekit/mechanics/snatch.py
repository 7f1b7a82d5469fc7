"""One kinetic pull as a chain of swings of its tension.

The rope stretches while the stuck vehicle stays put; past its resistance the vehicle
moves; it may stop again before the rope goes slack.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from coursekit.mechanics.elementary import sqrt
from coursekit.mechanics.nomenclature import (
    Kilogram,
    MetrePerSecond,
    Newton,
    NewtonPerMetre,
    Newtons,
    Second,
    Seconds,
)
from coursekit.mechanics.oscillation import Swing
from coursekit.mechanics.ranges import SMALLEST, require_not_negative, require_positive

SAMPLES: Final = 60
"""Points of a history between one event and the next."""

HALVINGS: Final = 60
"""Enough to find an instant to the last digit of a float."""


@dataclass(frozen=True)
class Snatch:
    """A moving vehicle on a rope of constant stiffness, and the vehicle that it snatches."""

    moving_mass: Kilogram
    stuck_mass: Kilogram
    speed: MetrePerSecond
    stiffness: NewtonPerMetre
    resistance: Newton
    drive: Newton

    def __post_init__(self) -> None:
        require_positive(
            moving_mass=self.moving_mass, stuck_mass=self.stuck_mass, stiffness=self.stiffness
        )
        require_not_negative(speed=self.speed, resistance=self.resistance, drive=self.drive)

    @property
    def stretch(self) -> Swing:
        """The swing while the stuck vehicle stays where it is."""
        frequency = sqrt(self.stiffness / self.moving_mass)
        return Swing(self.drive, 0.0, self.stiffness * self.speed, frequency)

    @property
    def breaks_out(self) -> bool:
        """Whether the tension passes the resistance."""
        return self.stretch.highest > self.resistance

    @property
    def run(self) -> Swing:
        """The swing from the moment that the stuck vehicle moves."""
        compliance = 1 / self.moving_mass + 1 / self.stuck_mass
        closing = sqrt(max(0.0, self.speed * self.speed - self.lost(self.resistance)))
        return Swing(
            self.running_mean,
            self.resistance,
            self.stiffness * closing,
            sqrt(self.stiffness * compliance),
        )

    @property
    def running_mean(self) -> Newton:
        """The tension at which both vehicles would speed up alike."""
        shares = self.drive * self.stuck_mass + self.resistance * self.moving_mass
        return shares / (self.moving_mass + self.stuck_mass)

    @property
    def peak(self) -> Newton:
        """The first peak of the tension."""
        return (self.run if self.breaks_out else self.stretch).highest

    def lost(self, tension: Newton) -> float:
        """Return the squared speed that is lost, in m^2/s^2, until the rope has a tension."""
        return tension * (tension - 2 * self.drive) / (self.stiffness * self.moving_mass)

    def history(self) -> tuple[Seconds, Newtons]:
        """Return times and tensions from taut to slack, or to the first trough."""
        times, tensions = [np.zeros(1)], [np.zeros(1)]
        elapsed = 0.0
        for swing, duration in self._swings():
            instants = _instants(swing, duration)
            times.append(elapsed + instants)
            tensions.append(swing.tensions(instants))
            elapsed += duration
        return np.concatenate(times), np.concatenate(tensions)

    def _swings(self) -> Iterator[tuple[Swing, Second]]:
        stretch, run = self.stretch, self.run
        if stretch.amplitude < SMALLEST:
            return
        if not self.breaks_out:
            yield stretch, stretch.falls_to(0.0)
            return
        yield stretch, stretch.rises_to(self.resistance)
        if not self._stops_within(run.falls_to(0.0)):
            yield run, run.falls_to(0.0)
            return
        stop = self._stop_time()
        yield run, stop
        start = float(run.tensions(np.array([stop]))[0])
        held = Swing(self.drive, start, run.rate_at(stop), stretch.frequency)
        yield held, held.falls_to(0.0)

    def _stops_within(self, time: Second) -> bool:
        return self.run.impulse(time) < self.resistance * time

    def _stop_time(self) -> Second:
        """When the stuck vehicle comes to rest: it slows only once the tension is below R."""
        early, late = self.run.falls_to(self.resistance), self.run.falls_to(0.0)
        for _ in range(HALVINGS):
            middle = (early + late) / 2
            early, late = (early, middle) if self._stops_within(middle) else (middle, late)
        return late


def _instants(swing: Swing, duration: Second) -> Seconds:
    """Return instants after the start, the peak among them if it falls inside."""
    if duration <= 0:
        return np.zeros(0)
    even = np.linspace(0.0, duration, SAMPLES)[1:]
    if not 0 < swing.peak_time < duration:
        return even
    return np.unique(np.append(even, swing.peak_time))
