"""Fresh numbers for each student: the same on every machine, from digest and seed.

A variation is offered only where `offer.refusals` has nothing against it.
"""

from __future__ import annotations

import hashlib
import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass

from coursekit.problems import CoursekitError
from coursekit.scenario.model import Scenario
from coursekit.scenario.numbers import at_indices, texts_at
from coursekit.scenario.offer import reference_of, refusals

# How often numbers are drawn for one seed before the scenario is given up.
MOST_DRAWS = 400


class Unsolvable(CoursekitError, ValueError):
    """No variation of a scenario can be offered; `scenario` names it."""

    def __init__(self, scenario: str) -> None:
        self.scenario = scenario
        super().__init__(scenario)

    def __str__(self) -> str:
        return (
            f"{self.scenario}: no numbers were found that can be offered. "
            "Narrow the ranges under vary, and see what check says of them."
        )


@dataclass(frozen=True)
class Variation:
    """A scenario with one student's numbers in place, as they read them."""

    scenario: Scenario
    seed: int
    values: Mapping[str, str]


def vary(scenario: Scenario, seed: int) -> Variation:
    """Return the variation of a seed; a scenario without `vary` has one for all.

    Raises
    ------
    Unsolvable
        If no numbers that can be offered are found.
    """
    if not scenario.vary:
        return Variation(scenario, seed, {})
    reference = reference_of(scenario)
    for draw in range(MOST_DRAWS):
        indices = drawn_indices(scenario, seed, draw)
        varied = at_indices(scenario, indices)
        if not refusals(reference, varied):
            return Variation(varied, seed, texts_at(scenario, indices))
    raise Unsolvable(scenario.id)


def vary_unlike(
    scenario: Scenario, seen: Collection[Mapping[str, str]], seeds: Iterable[int]
) -> Variation | None:
    """Return the first variation of the seeds that has other numbers than all that were seen.

    None where the seeds bring nothing new, as for a scenario with one variation.

    Raises
    ------
    Unsolvable
        If no numbers that can be offered are found.
    """
    known = {_key(values) for values in seen}
    if math.prod(grid.count for grid in scenario.vary) <= len(known):
        return None
    offered = (vary(scenario, seed) for seed in seeds)
    return next((one for one in offered if _key(one.values) not in known), None)


def _key(values: Mapping[str, str]) -> frozenset[tuple[str, str]]:
    return frozenset(values.items())


def read_variation(scenario: Scenario, values: Mapping[str, str]) -> Scenario | None:
    """Return the scenario with the numbers of a variation as they were read.

    None where they are not those of its own grids: it may have had other ranges then.
    """
    indices = [grid.index_of(values.get(grid.field, "")) for grid in scenario.vary]
    found = tuple(index for index in indices if index is not None)
    if len(found) != len(indices) or len(found) != len(values):
        return None
    return at_indices(scenario, found)


def drawn_indices(scenario: Scenario, seed: int, draw: int = 0) -> tuple[int, ...]:
    """Return a place on each grid, drawn from a SHA-256 counter over digest and seed."""
    return tuple(
        _drawn(f"{scenario.digest}:{seed}:{draw}:{number}", grid.count)
        for number, grid in enumerate(scenario.vary)
    )


def _drawn(counter: str, count: int) -> int:
    digest = hashlib.sha256(counter.encode()).digest()
    return int.from_bytes(digest[:16], "big") % count
