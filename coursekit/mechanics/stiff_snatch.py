"""One kinetic pull on a rope that is no straight line, by the balance of its energy.

The stages are those of `snatch`: the rope stretches while the stuck vehicle stays put; past
its resistance the vehicle moves.  In each a mass runs against the tension less a constant
force, so that its speed follows from the work in the rope, whatever the rope's curve.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import Final

import numpy as np

from coursekit.mechanics.nomenclature import (
    Joule,
    Kilogram,
    Metre,
    MetrePerSecond,
    Newton,
    Newtons,
    Radian,
    Second,
    Seconds,
)
from coursekit.mechanics.ranges import (
    RIGHT_ANGLE,
    SMALLEST,
    require_not_negative,
    require_positive,
)
from coursekit.mechanics.rope import Law

SAMPLES: Final = 50
"""Points of a history between one event and the next."""

CLOSE: Final = 1e-13
"""Share of a value within which a root is found; float dust is a hundredth of it."""

STEPS: Final = 200
"""Far more than any curve was seen to need."""


@dataclass(frozen=True)
class StiffSwing:
    """A mass on a rope against a constant force, with so much energy above its rest.

    At rest the tension equals the force.  The phase of a tension tells how the energy is
    shared: at a right angle the mass stands still, and all of it is in the rope.
    """

    law: Law
    mass: Kilogram
    force: Newton
    energy: Joule

    def height(self, tension: Newton) -> Joule:
        """Return the energy that the rope and the force hold above their rest."""
        return max(0.0, _work(self.law, tension, self.force) - self._rest)

    @cached_property
    def _rest(self) -> Joule:
        return _work(self.law, self.force, self.force)

    @cached_property
    def highest(self) -> Newton:
        """The tension at the peak."""
        return self.tension_at(RIGHT_ANGLE)

    def phase(self, tension: Newton) -> Radian:
        """Return the phase of a tension on its way up, from a trough to the peak."""
        share = math.sqrt(self.height(tension) / self.energy)
        return math.copysign(math.asin(min(1.0, share)), tension - self.force)

    def tension_at(self, phase: Radian) -> Newton:
        """Return the tension at a phase; 0 where the rope would be slack."""
        wanted = math.sqrt(self.energy) * math.sin(phase)

        def beyond(tension: Newton) -> float:
            return math.copysign(math.sqrt(self.height(tension)), tension - self.force) - wanted

        if wanted < 0.0:
            return _root(0.0, self.force, beyond)
        high = max(self.force, self.law.reference)
        while beyond(high) < 0.0:
            high *= 2
        return _root(self.force, high, beyond)

    def rate(self, phase: Radian) -> MetrePerSecond:
        """Return how fast the rope stretches at a phase."""
        return math.sqrt(2 * self.energy / self.mass) * math.cos(phase)


@dataclass(frozen=True)
class StiffSnatch:
    """A moving vehicle on a rope of any law, and the vehicle that it snatches."""

    moving_mass: Kilogram
    stuck_mass: Kilogram
    speed: MetrePerSecond
    law: Law
    resistance: Newton
    drive: Newton

    def __post_init__(self) -> None:
        require_positive(moving_mass=self.moving_mass, stuck_mass=self.stuck_mass)
        require_not_negative(speed=self.speed, resistance=self.resistance, drive=self.drive)

    @cached_property
    def stretch(self) -> StiffSwing:
        """The swing while the stuck vehicle stays where it is."""
        moving = self.moving_mass * self.speed * self.speed / 2
        rest = _work(self.law, self.drive, self.drive)
        return StiffSwing(self.law, self.moving_mass, self.drive, moving - rest)

    @cached_property
    def run(self) -> StiffSwing:
        """The swing from the moment that the stuck vehicle moves."""
        moving = self.moving_mass * self.speed * self.speed / 2
        left = max(0.0, moving - _work(self.law, self.resistance, self.drive))
        mean = self.running_mean
        start = _work(self.law, self.resistance, mean) - _work(self.law, mean, mean)
        energy = max(0.0, start) + left * self.reduced_mass / self.moving_mass
        return StiffSwing(self.law, self.reduced_mass, mean, energy)

    @property
    def reduced_mass(self) -> Kilogram:
        """The mass with which the two vehicles move against each other."""
        return self.moving_mass * self.stuck_mass / (self.moving_mass + self.stuck_mass)

    @property
    def running_mean(self) -> Newton:
        """The tension at which both vehicles would speed up alike."""
        shares = self.drive * self.stuck_mass + self.resistance * self.moving_mass
        return shares / (self.moving_mass + self.stuck_mass)

    @property
    def held(self) -> Newton:
        """The peak if the stuck vehicle stayed where it is."""
        return self.stretch.highest

    @property
    def breaks_out(self) -> bool:
        """Whether the tension passes the resistance."""
        return self.held > self.resistance

    @property
    def peak(self) -> Newton:
        """The first peak of the tension."""
        return self.run.highest if self.breaks_out else self.held

    @property
    def lowest_speed(self) -> MetrePerSecond:
        """The closing speed above which the stuck vehicle moves."""
        needed = _work(self.law, self.resistance, self.drive)
        return math.sqrt(2 * max(0.0, needed) / self.moving_mass)

    def highest_speed(self, limit: Newton) -> MetrePerSecond | None:
        """Return the speed whose peak just meets a limit, None when even 0 passes it."""
        require_positive(limit=limit)
        needed = _work(self.law, min(limit, self.resistance), self.drive)
        if limit > self.resistance:
            mean = self.running_mean
            more = _work(self.law, limit, mean) - _work(self.law, self.resistance, mean)
            needed += more * self.moving_mass / self.reduced_mass
        return None if needed < 0 else math.sqrt(2 * needed / self.moving_mass)

    def history(self) -> tuple[Seconds, Newtons]:
        """Return times and tensions from taut to slack, or to the first trough."""
        times, tensions = [0.0], [0.0]
        for swing, first, last in self._stages():
            for step, tension in _path(swing, first, last):
                times.append(times[-1] + step)
                tensions.append(tension)
        return np.array(times), np.array(tensions)

    def _stages(self) -> Iterator[tuple[StiffSwing, Radian, Radian]]:
        stretch = self.stretch
        if stretch.energy < SMALLEST:
            return
        if not self.breaks_out:
            yield stretch, stretch.phase(0.0), _fall_to_slack(stretch)
            return
        yield stretch, stretch.phase(0.0), stretch.phase(self.resistance)
        run = self.run
        start, slack = run.phase(self.resistance), _fall_to_slack(run)
        stop = self._stop(run, start, slack)
        yield run, start, stop
        if stop < slack:
            held = self._held(run, stop)
            yield held, math.pi - held.phase(run.tension_at(stop)), _fall_to_slack(held)

    def _stop(self, run: StiffSwing, start: Radian, slack: Radian) -> Radian:
        """Return the phase at which the stuck vehicle stands again, or that of a slack rope."""
        speed, before, tension = 0.0, start, self.resistance
        phases = _phases(start, slack)[1:]
        for phase, (step, after) in zip(phases, _path(run, start, slack), strict=True):
            gained = ((tension + after) / 2 - self.resistance) / self.stuck_mass * step
            if speed + gained < 0.0 and phase > RIGHT_ANGLE:
                return before + (phase - before) * speed / -gained
            speed, before, tension = max(0.0, speed + gained), phase, after
        return slack

    def _held(self, run: StiffSwing, stop: Radian) -> StiffSwing:
        """Return the swing after the stuck vehicle has come to rest once more."""
        tension, rate = run.tension_at(stop), run.rate(stop)
        still = StiffSwing(self.law, self.moving_mass, self.drive, 0.0)
        moving = self.moving_mass * rate * rate / 2
        return StiffSwing(self.law, self.moving_mass, self.drive, moving + still.height(tension))


def _work(law: Law, tension: Newton, force: Newton) -> Joule:
    """Return the work in a rope less that of a constant force along its stretch."""
    return law.energy(tension) - force * law.stretch(tension)


def _root(low: Newton, high: Newton, rise: Callable[[Newton], float]) -> Newton:
    """Return where a function that rises from one tension to another passes 0.

    By false position, with the value at an end that stays halved (the Illinois rule).
    """
    below, above = rise(low), rise(high)
    enough = CLOSE * max(abs(below), abs(above))
    for _ in range(STEPS):
        if below >= 0.0 or above <= 0.0 or high - low <= CLOSE * high:
            break
        # Rounding may carry it past an end, where a tension would be less than none.
        middle = min(max(high - above * (high - low) / (above - below), low), high)
        value = rise(middle)
        if abs(value) <= enough:
            return middle
        if value < 0.0:
            low, below, above = middle, value, above / 2
        else:
            high, above, below = middle, value, below / 2
    return low if below >= 0.0 else high


def _fall_to_slack(swing: StiffSwing) -> Radian:
    """Return the phase, past the peak, at which the rope is slack or its tension least."""
    if swing.height(0.0) >= swing.energy:
        return math.pi + RIGHT_ANGLE
    return math.pi - swing.phase(0.0)


def _phases(first: Radian, last: Radian) -> list[Radian]:
    """Return even phases, the one next to the peak moved onto it."""
    even = [first + (last - first) * i / SAMPLES for i in range(SAMPLES + 1)]
    if first < RIGHT_ANGLE < last:
        inner = range(1, SAMPLES)
        even[min(inner, key=lambda i: abs(even[i] - RIGHT_ANGLE))] = RIGHT_ANGLE
    return even


def _path(swing: StiffSwing, first: Radian, last: Radian) -> Iterator[tuple[Second, Newton]]:
    """Yield the time from one point of a swing to the next, and the tension there."""
    before: Metre = swing.law.stretch(swing.tension_at(first))
    for one, other in pairwise(_phases(first, last)):
        tension = swing.tension_at(other)
        after = swing.law.stretch(tension)
        yield abs(after - before) / abs(swing.rate((one + other) / 2)), tension
        before = after
