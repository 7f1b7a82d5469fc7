"""Whether a set of numbers may be offered to a student.

It may where the same rigs are safe and do the job as at the scenario's own
numbers, the same item is the weakest, every task has an answer, no slip that
a task must catch comes near the truth, and a safe rig exists as the scenario says.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeGuard

from coursekit.mechanics.elementary import is_finite
from coursekit.mechanics.many import Array, Cases, Many, case_by_case
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Problems
from coursekit.rigging.search.cases import has_safe_rig
from coursekit.rigging.solver import Solution, solve
from coursekit.scenario.model import GO, Scenario
from coursekit.scenario.numbers import at_values
from coursekit.scenario.tasks import GIVEN_RIG, OWN_RIG, AnyTask, ItemTask, QuantityTask, Tolerance

# A slip that must be caught stays at least this many tolerances from the truth.
CAUGHT_AT = 2.0
# Without `catches`, a task must catch what lies beyond this many at its own numbers.
CATCHES_BEYOND = 3.0


@dataclass(frozen=True)
class Kind:
    """What kind of outcome a rig has: good or not, and what is weakest."""

    is_safe: bool
    does_the_job: bool
    weakest: str | None


@dataclass(frozen=True)
class Reference:
    """A scenario at its own numbers, as variations are held against it."""

    scenario: Scenario
    solutions: Mapping[str, Solution]
    kinds: Mapping[str, Kind]
    catches: Mapping[str, frozenset[str]]
    too_small: Mapping[str, frozenset[str]]

    @property
    def is_searched(self) -> bool:
        """Whether no named rig is good, so that a search has to say whether there is one."""
        return not any(solution.is_good for solution in self.solutions.values())


def is_good(solution: Solution) -> bool:
    """Whether a rig is safe, passes the school's own stops, and does the job."""
    return solution.is_good


def rig_of_task(task: AnyTask) -> str | None:
    """Return the name of the rig that a task is proven with, None where it needs none."""
    if not isinstance(task, QuantityTask | ItemTask):
        return None
    return GIVEN_RIG if task.rig == OWN_RIG else task.rig


def solutions_of(scenario: Scenario) -> dict[str, Solution]:
    """Return each named rig solved; Problems where one can't be."""
    return {name: solve(scenario.situation, rig) for name, rig in scenario.rigs.items()}


def reference_of(scenario: Scenario) -> Reference:
    """Return what every variation of a scenario is held against."""
    solutions = solutions_of(scenario)
    catches, too_small = {}, {}
    for task in scenario.tasks:
        rig = rig_of_task(task)
        if isinstance(task, QuantityTask) and rig is not None and rig in solutions:
            catches[task.id], too_small[task.id] = _caught(task, solutions[rig])
    return Reference(
        scenario,
        solutions,
        {name: kind_of(solution) for name, solution in solutions.items()},
        catches,
        too_small,
    )


def kind_of(solution: Solution) -> Kind:
    """Return the kind of outcome that a rig has."""
    weakest = solution.weakest
    return Kind(not solution.stops, solution.does_the_job, weakest.item if weakest else None)


def tolerances_away(tolerance: Tolerance, truth: float, value: float) -> float:
    """Return how many tolerances a value lies from the truth, on its own side.

    >>> round(tolerances_away(Tolerance(0.05, 0.10), 100.0, 80.0), 6)
    4.0
    """
    low, high = tolerance.band(truth)
    width = high - truth if value > truth else truth - low
    gap = abs(value - truth)
    if width <= 0.0:
        return math.inf if gap > 0.0 else 0.0
    return gap / width


def slip_distances(task: QuantityTask, solution: Solution) -> Iterator[tuple[str, float]]:
    """Yield each slip that a task can meet, and how far it lies from the truth.

    A slip that changes nothing on this rig is no slip here and is left out.
    """
    truth = solution.values.get(task.of)
    if not is_number(truth):
        return
    for slip in solution.chain.slips_at(task.of, solution.values):
        if is_number(slip.value) and abs(slip.value - truth) > 1e-9 * max(1.0, abs(truth)):
            yield slip.slip.key, tolerances_away(task.tolerance, truth, slip.value)


def is_number(value: object) -> TypeGuard[float]:
    """Whether a solved value is a finite number, not a flag and not missing."""
    if isinstance(value, bool) or not isinstance(value, int | float | Many):
        return False
    return is_finite(value)


def _caught(task: QuantityTask, solution: Solution) -> tuple[frozenset[str], frozenset[str]]:
    distances: dict[str, float] = {}
    for key, away in slip_distances(task, solution):
        distances[key] = min(away, distances.get(key, math.inf))
    if task.catches:
        wanted = frozenset(task.catches)
    else:
        wanted = frozenset(key for key, away in distances.items() if away > CATCHES_BEYOND)
    return wanted, frozenset(distances) - wanted


@dataclass(frozen=True)
class Judged:
    """What is found of one set of numbers, or of many that are alike in all of it.

    `near` names each task with a slip that it must catch and that comes too near the truth.
    """

    refusals: tuple[str, ...]
    kinds: Mapping[str, Kind] = field(default_factory=dict)
    near: tuple[tuple[str, str], ...] = ()


def refusals(reference: Reference, varied: Scenario) -> tuple[str, ...]:
    """Return why a variation may not be offered; empty where it may."""
    against = judged(reference, varied).refusals
    if against or not reference.is_searched:
        return against
    return () if has_safe_rig(varied.situation) == is_go(reference) else (other_answer(reference),)


def is_go(reference: Reference) -> bool:
    """Whether the scenario says that a safe rig exists."""
    return reference.scenario.expect == GO


def other_answer(reference: Reference) -> str:
    """Return why numbers can't be offered that make a go a no-go, or the other way round."""
    return "no safe rig exists" if is_go(reference) else "a safe rig exists"


def judged_cases(
    reference: Reference, numbers: Mapping[str, Array]
) -> Iterator[tuple[Cases, Judged]]:
    """Yield variations by their place in the arrays of each field, with what is found of them."""

    def together(values: Mapping[str, Any]) -> Judged:
        return judged(reference, at_values(reference.scenario, values))

    return case_by_case(together, numbers)


def judged(reference: Reference, varied: Scenario) -> Judged:
    """Return what is found of a variation by the scenario's named rigs and its tasks."""
    try:
        solutions = solutions_of(varied)
        kinds = {name: kind_of(solution) for name, solution in solutions.items()}
        changes = (*_changes(reference, kinds), *_unanswered(reference, solutions))
        near = tuple(_near(reference, solutions))
    except (Problems, OutOfRange) as error:
        return Judged((str(error),))
    met = (f"in the task {task} the slip {slip} comes too near the truth" for task, slip in near)
    return Judged((*changes, *met), kinds, near)


def _changes(reference: Reference, kinds: Mapping[str, Kind]) -> Iterator[str]:
    for name, found in kinds.items():
        wanted = reference.kinds[name]
        if (wanted.is_safe, wanted.does_the_job) != (found.is_safe, found.does_the_job):
            yield f"the rig {name} changes from safe to unsafe, or from doing the job to not"
        elif not reference.scenario.weakest_may_change and wanted.weakest != found.weakest:
            yield f"in the rig {name} {found.weakest} becomes the weakest"


def _asked(
    reference: Reference, solutions: Mapping[str, Solution]
) -> Iterator[tuple[QuantityTask, Solution]]:
    for task in reference.scenario.tasks:
        rig = rig_of_task(task)
        if isinstance(task, QuantityTask) and rig is not None and rig in solutions:
            yield task, solutions[rig]


def _unanswered(reference: Reference, solutions: Mapping[str, Solution]) -> Iterator[str]:
    for task, solution in _asked(reference, solutions):
        if not is_number(solution.values.get(task.of)):
            yield f"the task {task.id} has no answer"


def _near(reference: Reference, solutions: Mapping[str, Solution]) -> Iterator[tuple[str, str]]:
    """Yield each task with a slip that it must catch and that comes too near the truth."""
    for task, solution in _asked(reference, solutions):
        for slip, away in slip_distances(task, solution):
            if slip in reference.catches[task.id] and away < CAUGHT_AT:
                yield task.id, slip
