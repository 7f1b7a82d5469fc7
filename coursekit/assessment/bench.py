"""The rigs of one variation, each solved once, with what its slips come to.

Papers of one variation share the given data: what does not hang on a student's own
answers is the same for all of them.
"""

from __future__ import annotations

from functools import cached_property

from coursekit.assessment.thrift import Thrift, thrift
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Problems, Show
from coursekit.rigging.rig import Rig
from coursekit.rigging.solver import Solution, solve
from coursekit.rigging.steps import SlipValue
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_good


class Bench:
    """Solves rigs of one scenario and words its numbers; nothing is worked out twice."""

    def __init__(self, scenario: Scenario, show: Show) -> None:
        self.scenario = scenario
        self._show = show
        self._worded: dict[tuple[float, str, str], str] = {}
        self._solved: dict[Rig, Solution | Problems | OutOfRange] = {}
        self._slips: dict[tuple[int, str], tuple[SlipValue, ...]] = {}

    def solution(self, rig: Rig) -> Solution:
        """Return a rig solved; raises Problems or OutOfRange as `solve` does, each time."""
        if rig not in self._solved:
            self._solved[rig] = self._tried(rig)
        found = self._solved[rig]
        if isinstance(found, Solution):
            return found
        raise found

    def slips(self, solution: Solution, key: str) -> tuple[SlipValue, ...]:
        """Return what each slip comes to at a step of a solution that this bench made."""
        at = (id(solution), key)
        if at not in self._slips:
            self._slips[at] = tuple(solution.chain.slips_at(key, solution.values))
        return self._slips[at]

    def show(self, value: float, unit: str, rounds: str) -> str:
        """Return a value as text (see `problems.Show`)."""
        at = (value, unit, rounds)
        if at not in self._worded:
            self._worded[at] = self._show(value, unit, rounds)
        return self._worded[at]

    def thrift(self, rig: Rig) -> Thrift:
        """Return with how many pieces a rig of this one's method counts as thrifty."""
        return thrift(self.scenario, rig.method, self._fewest_named)

    @cached_property
    def _fewest_named(self) -> float:
        rigs = self.scenario.rigs.values()
        return min(
            (rig.pieces for rig in rigs if is_good(self.solution(rig))), default=float("inf")
        )

    def _tried(self, rig: Rig) -> Solution | Problems | OutOfRange:
        try:
            return solve(self.scenario.situation, rig)
        except (Problems, OutOfRange) as error:
            return error
