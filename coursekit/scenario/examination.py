"""What is found of a scenario's variations, all of them or a stated sample, at once."""

from __future__ import annotations

import itertools
import math
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coursekit.mechanics.many import Array
from coursekit.rigging.search.cases import SafeLayouts, safe_layouts
from coursekit.scenario.model import Scenario
from coursekit.scenario.numbers import at_values
from coursekit.scenario.offer import Reference, is_go, judged_cases, other_answer
from coursekit.scenario.vary import drawn_indices

Progress = Callable[[int, int], None]
Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class Variations:
    """The numbers of the variations that are examined: an array for each varied field."""

    total: int
    fields: Mapping[str, Array]

    @property
    def examined(self) -> int:
        """How many are examined."""
        return len(next(iter(self.fields.values())))


def variations_of(scenario: Scenario, most: int) -> Variations:
    """Return every variation of a scenario that has some; a sample where there are more."""
    total = math.prod(grid.count for grid in scenario.vary)
    places = np.array(list(_indices(scenario, min(total, most), total)), dtype=np.intp)
    fields = {
        grid.field: np.array([grid.value(index) for index in range(grid.count)])[places[:, number]]
        for number, grid in enumerate(scenario.vary)
    }
    return Variations(total, fields)


def _indices(scenario: Scenario, examined: int, total: int) -> Iterator[tuple[int, ...]]:
    if examined == total:
        yield from itertools.product(*(range(grid.count) for grid in scenario.vary))
    else:
        yield from (drawn_indices(scenario, seed) for seed in range(examined))


@dataclass(frozen=True)
class Examination:
    """What was found: which variations can be offered, and what stands against the others.

    `safe` counts the safe layouts of each variation; `weakest` holds, for each named rig,
    the items that are its weakest somewhere, the most frequent first; `near` counts the
    variations in which a task's slip comes too near.
    """

    offered: Mask
    refused: Counter[str]
    safe: SafeLayouts
    weakest: Mapping[str, tuple[str, ...]]
    near: Counter[tuple[str, str]]


def _safe_layouts(
    scenario: Scenario, variations: Variations, progress: Progress | None
) -> SafeLayouts:
    examined = variations.examined

    def tell(done: int, layouts: int) -> None:
        if progress is not None:
            progress(examined - examined * (layouts - done) // (2 * layouts), examined)

    return safe_layouts(
        lambda values: at_values(scenario, values).situation, variations.fields, tell
    )


def examine(
    reference: Reference, variations: Variations, progress: Progress | None = None
) -> Examination:
    """Examine variations; `progress` is told how many of how many are done.

    The half of it is told when all are judged, the rest as layouts are searched.
    """
    offered = np.zeros(variations.examined, dtype=bool)
    refused, near = Counter[str](), Counter[tuple[str, str]]()
    weakest: dict[str, Counter[str]] = {name: Counter() for name in reference.kinds}
    done = 0
    for cases, found in judged_cases(reference, variations.fields):
        alike = len(cases)
        offered[cases] = not found.refusals
        refused.update(dict.fromkeys(found.refusals, alike))
        near.update(dict.fromkeys(found.near, alike))
        for name, kind in found.kinds.items():
            weakest[name].update({kind.weakest: alike} if kind.weakest else {})
        done += alike
        if progress is not None:
            progress(done // 2, variations.examined)
    safe = _safe_layouts(reference.scenario, variations, progress)
    if reference.is_searched:
        other = (safe.counts > 0) != is_go(reference)
        refused.update({other_answer(reference): int(other.sum())} if other.any() else {})
        offered &= ~other
    items = {name: tuple(item for item, _ in seen.most_common()) for name, seen in weakest.items()}
    return Examination(offered, refused, safe, items, near)
