"""One rig in many cases: the numbers that vary as arrays, and what it shows in each.

The rig is solved by `solver.solve` and no second solver: `mechanics.many` lets the
same chain and the same rules run over arrays and parts the cases where they differ.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from coursekit.mechanics.many import Array, Cases, case_by_case, each
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Problems
from coursekit.rigging.chains.build import chain_of, lay_out
from coursekit.rigging.findings import Finding, is_good
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import Solution, solve
from coursekit.rigging.soundness import rig_problems

Mask = NDArray[np.bool_]
# Puts one number for each field, a float or a `Many`, into a situation and a rig.
Place = Callable[[Mapping[str, Any]], tuple[Situation, Rig]]


@dataclass(frozen=True)
class Alike:
    """Cases that show the same findings and the same weakest item; values are arrays."""

    cases: Cases
    solution: Solution


@dataclass(frozen=True)
class Unsolved:
    """Cases in which the rig can't be solved, and why."""

    cases: Cases
    reason: str


@dataclass(frozen=True)
class SolvedCases:
    """A rig solved in many cases."""

    count: int
    alike: tuple[Alike, ...]
    unsolved: tuple[Unsolved, ...]

    def value(self, key: str) -> Array:
        """Return a quantity in each case; NaN where it has no meaning or is no number."""
        values = np.full(self.count, np.nan)
        for group in self.alike:
            values[group.cases] = each(group.solution.values.get(key), len(group.cases))
        return values

    def shows(self, rule: str) -> Mask:
        """Return the cases in which a rule finds something."""
        return self.where(lambda solution: any(f.rule == rule for f in solution.findings))

    def where(self, holds: Callable[[Solution], bool]) -> Mask:
        """Return the cases whose solution has a property that all alike share."""
        mask = np.zeros(self.count, dtype=bool)
        for group in self.alike:
            mask[group.cases] = holds(group.solution)
        return mask

    def findings(self) -> Iterator[tuple[Cases, tuple[Finding, ...]]]:
        """Yield cases with what they show; a number in a message is an array."""
        for group in self.alike:
            yield group.cases, group.solution.findings


def good_cases(place: Place, fields: Mapping[str, Array]) -> Mask:
    """Return the cases in which a rig is safe, passes the school's stops, and does the job.

    Sooner than all that `solve_cases` tells; a case that can't be solved is not good.
    """

    def holds(numbers: Mapping[str, Any]) -> bool:
        try:
            situation, rig = place(numbers)
            if rig_problems(situation, rig):
                return False
            layout = lay_out(situation, rig)
            chain = chain_of(layout)
            return is_good(layout, chain, chain.fold())
        except OutOfRange:
            return False

    good = np.zeros(len(next(iter(fields.values()))), dtype=bool)
    for cases, is_so in case_by_case(holds, fields):
        good[cases] = is_so
    return good


def solve_cases(place: Place, fields: Mapping[str, Array]) -> SolvedCases:
    """Solve a rig in many cases at once.

    `fields` holds, by a name of the caller's own, a number for each case in SI.
    """
    alike, unsolved = [], []

    def solved(numbers: Mapping[str, Any]) -> Solution | str:
        try:
            solution = solve(*place(numbers))
            _ = solution.weakest  # alike means that the same item is the weakest
        except (Problems, OutOfRange) as error:
            return str(error)
        return solution

    for cases, found in case_by_case(solved, fields):
        if isinstance(found, str):
            unsolved.append(Unsolved(cases, found))
        else:
            alike.append(Alike(cases, found))
    count = len(next(iter(fields.values())))
    return SolvedCases(count, tuple(alike), tuple(unsolved))
