"""How far a rig's numbers may lie from the stated ones, since mass, ground and gear are estimates.

Each estimate is taken as most likely where it is stated, and never beyond its spread: a
triangular distribution, as the Guide to the expression of uncertainty in measurement
(JCGM 100:2008, 4.3.9, from memory) advises where values near the bounds are less likely.
The samples are a Latin hypercube: each estimate meets every one of its strata once, in an
order drawn from the seed by SHAKE-256, so that they are the same on every machine.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from coursekit.mechanics.many import Array
from coursekit.mechanics.nomenclature import Newton, Ratio
from coursekit.rigging.cases import SolvedCases, solve_cases
from coursekit.rigging.chains.build import LINE_KEYS
from coursekit.rigging.estimates import ESTIMATES, misjudged
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation

SAMPLES: Final = 10_000
# A rope that stiffens is solved for its peak case by case.
SAMPLES_OF_CURVES: Final = 500
SHARES: Final = (5.0, 50.0, 95.0)
MIDDLE: Final = 0.5


@dataclass(frozen=True)
class Reach:
    """The range of one load: the values that 5, 50 and 95 % of the cases stay below."""

    key: str
    low: Newton
    middle: Newton
    high: Newton


@dataclass(frozen=True)
class Passing:
    """The share of cases in which an item, or an anchor, is past its limit."""

    item: str
    at: str | None
    share: Ratio


@dataclass(frozen=True)
class Uncertainty:
    """What becomes of a rig over the spread of its estimates.

    `matters` holds, for each estimate, the squared correlation of its deviation with the
    load of the pull line, the greatest first: where effects add, that is the share of the
    variance that this estimate brings in, as the law of propagation of uncertainty has it.
    """

    samples: int
    seed: int
    reaches: tuple[Reach, ...]
    passing: tuple[Passing, ...]
    matters: tuple[tuple[str, Ratio], ...]
    unsafe: Ratio
    stuck: Ratio

    @property
    def load(self) -> Reach:
        """The range of the force in the line that pulls."""
        return self.reaches[-1]


def uncertainty_of(situation: Situation, rig: Rig, seed: int) -> Uncertainty:
    """Return what becomes of a sound rig over the spread of its estimates."""
    curved = any(
        item.stretch is not None and not item.stretch.is_straight
        for name in rig.items()
        if (item := situation.gear.get(name)) is not None
    )
    samples = SAMPLES_OF_CURVES if curved and rig.method == "kinetic" else SAMPLES
    off = deviations(seed, samples)

    def place(numbers: Mapping[str, Any]) -> tuple[Situation, Rig]:
        return misjudged(situation, numbers), rig

    solved = solve_cases(place, off)
    key = LINE_KEYS[rig.method]
    load = solved.value(key)
    return Uncertainty(
        samples,
        seed,
        tuple(_reach(k, solved) for k in dict.fromkeys(("resistance.total", "pull", key))),
        tuple(sorted(_passing(solved), key=lambda passing: -passing.share)),
        _matters(off, load),
        float(1.0 - solved.where(lambda solution: not solution.stops).mean()),
        float(1.0 - solved.where(lambda solution: solution.does_the_job).mean()),
    )


def deviations(seed: int, samples: int) -> dict[str, Array]:
    """Return how far each estimate is off in each sample, as a share of its spread, -1 to 1.

    >>> off = deviations(1, 1000)
    >>> sorted(off), bool(abs(off["mass"].mean()) < 1e-9)
    (['efficiency', 'mass', 'rolling', 'slope'], True)
    """
    strata = (np.arange(samples) + 0.5) / samples
    lower, upper = np.sqrt(2.0 * strata), np.sqrt(2.0 * (1.0 - strata))
    triangular = np.where(strata < MIDDLE, lower - 1.0, 1.0 - upper)
    return {name: triangular[_order(f"{seed}:{name}", samples)] for name in ESTIMATES}


def _order(counter: str, samples: int) -> Any:
    digest = hashlib.shake_256(counter.encode()).digest(8 * samples)
    return np.argsort(np.frombuffer(digest, dtype=">u8"), kind="stable")


def _reach(key: str, solved: SolvedCases) -> Reach:
    values = solved.value(key)
    known = values[~np.isnan(values)]
    low, middle, high = np.percentile(known, SHARES) if len(known) else [float("nan")] * 3
    return Reach(key, float(low), float(middle), float(high))


def _passing(solved: SolvedCases) -> Iterator[Passing]:
    layout = next((group.solution.layout for group in solved.alike), None)
    if layout is None:
        return
    for name, at in {mount.item.id: mount.at for mount in layout.mounts}.items():
        yield Passing(name, at, float((solved.value(f"item.{name}.use") > 1.0).mean()))
    for at in layout.places:
        uses = solved.value(f"place.{at}.use")
        if not np.isnan(uses).all():
            yield Passing(at, at, float((uses > 1.0).mean()))


def _matters(off: Mapping[str, Array], load: Array) -> tuple[tuple[str, Ratio], ...]:
    known = ~np.isnan(load)
    if not known.any() or np.ptp(load[known]) == 0.0:
        return tuple((name, 0.0) for name in off)
    shares = [
        (name, float(np.corrcoef(values[known], load[known])[0, 1] ** 2))
        for name, values in off.items()
    ]
    return tuple(sorted(shares, key=lambda share: -share[1]))
