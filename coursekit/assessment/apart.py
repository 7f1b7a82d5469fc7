"""Numbers that keep usual mistakes apart, so that an answer tells which one was made.

A seed keeps its numbers for ever; what is chosen here is the seed.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import combinations, islice

from coursekit.assessment.diagnosis import APART
from coursekit.rigging.solver import Solution
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_number, rig_of_task, solutions_of
from coursekit.scenario.tasks import QuantityTask
from coursekit.scenario.vary import Variation, vary

# Each is drawn and proven while a student waits.
MOST_COMPARED = 4


def vary_apart(scenario: Scenario, seeds: Iterable[int]) -> Variation:
    """Return the variation of one of the first few seeds: that with the fewest mistakes alike.

    Raises
    ------
    Unsolvable
        If no numbers that can be offered are found.
    """
    most = MOST_COMPARED if scenario.vary else 1
    drawn = [vary(scenario, seed) for seed in islice(seeds, most)]
    return min(drawn, key=lambda one: mistakes_alike(one.scenario)) if most > 1 else drawn[0]


def mistakes_alike(scenario: Scenario) -> int:
    """Return how many pairs of slips one answer can meet, over the quantities that are asked."""
    solutions = solutions_of(scenario)
    return sum(
        _alike(task, solutions[rig])
        for task in scenario.tasks
        if isinstance(task, QuantityTask) and (rig := rig_of_task(task)) in solutions
    )


def _alike(task: QuantityTask, solution: Solution) -> int:
    truth = solution.values.get(task.of)
    if task.of not in solution.chain or not is_number(truth):
        return 0
    found: dict[str, float] = {}
    for one in solution.chain.slips_at(task.of, solution.values):
        # By a zero no slip is told.
        if not is_number(one.value) or one.value == 0.0:
            continue
        if not task.tolerance.accepts(one.value, truth):
            found.setdefault(one.slip.key, float(one.value))
    return sum(
        abs(one - other) <= APART * max(abs(one), abs(other))
        for one, other in combinations(found.values(), 2)
    )
