"""Proof that a scenario can be solved as it says, at its own numbers and all others.

Proof is by the scenario's own named rigs, and by a search for all others.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Problem, Problems, Where
from coursekit.rigging.search import FoundRig, Search, safe_rigs
from coursekit.scenario.examination import (
    Examination,
    Progress,
    Variations,
    examine,
    variations_of,
)
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import (
    Reference,
    is_go,
    is_good,
    is_number,
    reference_of,
    rig_of_task,
)
from coursekit.scenario.tasks import ItemTask, QuantityTask
from coursekit.scenario.traps import IdleTrap, idle_traps

# Beyond this many variations a stated sample is examined instead of all.
MOST_EXAMINED = 5_000
# So few that drawing numbers for a student would often fail.
LEAST_SHARE_OFFERED = 0.05

__all__ = ["MOST_EXAMINED", "Progress", "Proof", "prove"]


@dataclass(frozen=True)
class Proof:
    """What was examined of a scenario, and what stands against it.

    `weakest` is that of each named rig at the scenario's own numbers; `weakest_in` what is
    its weakest in some variation.  `near` counts, by task and slip, the variations in which
    a slip that must be caught comes too near the truth.  `found` are the safe rigs of a
    search at the scenario's own numbers, `safe_layouts` the fewest and the most of them in
    the variations that can be offered; `searched_all` is false where a search met its bound.
    """

    scenario: Scenario
    problems: tuple[Problem, ...]
    variations: int
    examined: int
    offered: int
    good_rigs: tuple[str, ...]
    weakest: tuple[tuple[str, str | None], ...]
    refused: tuple[tuple[str, int], ...] = ()
    too_small: tuple[tuple[str, tuple[str, ...]], ...] = ()
    weakest_in: tuple[tuple[str, tuple[str, ...]], ...] = ()
    near: tuple[tuple[str, str, int], ...] = ()
    found: tuple[FoundRig, ...] = ()
    layouts: int = 0
    safe_layouts: tuple[int, int] = (0, 0)
    searched_all: bool = True
    idle_traps: tuple[IdleTrap, ...] = ()

    @property
    def is_proven(self) -> bool:
        """Whether nothing stands against the scenario."""
        return not self.problems

    @property
    def is_sample(self) -> bool:
        """Whether only a sample of the variations was examined."""
        return self.examined < self.variations


def prove(scenario: Scenario, progress: Progress | None = None, most: int = MOST_EXAMINED) -> Proof:
    """Examine a scenario and, where its numbers vary, its variations.

    `progress` is told how many variations are examined, of how many.
    """
    try:
        reference = reference_of(scenario)
    except (Problems, OutOfRange) as error:
        return _unsolved(scenario, error)
    found = safe_rigs(scenario.situation)
    proof = _at_own_numbers(reference, found)
    if not scenario.vary:
        return replace(proof, idle_traps=idle_traps(reference, found))
    variations = variations_of(scenario, most)
    examination = examine(reference, variations, progress)
    always_near = frozenset(
        which for which, count in examination.near.items() if count == variations.examined
    )
    traps = idle_traps(reference, found, always_near)
    return replace(_over(proof, variations, examination), idle_traps=traps)


def _at_own_numbers(reference: Reference, found: Search) -> Proof:
    safe = len(found.rigs)
    return Proof(
        reference.scenario,
        tuple(_own_problems(reference, found)),
        1,
        1,
        1,
        tuple(name for name, solved in reference.solutions.items() if is_good(solved)),
        tuple((name, kind.weakest) for name, kind in reference.kinds.items()),
        too_small=tuple(
            (task, tuple(sorted(keys))) for task, keys in reference.too_small.items() if keys
        ),
        found=tuple(found.rigs),
        layouts=found.examined,
        safe_layouts=(safe, safe),
        searched_all=found.is_complete,
    )


def _over(proof: Proof, variations: Variations, found: Examination) -> Proof:
    examined, offered = variations.examined, int(found.offered.sum())
    too_few = not proof.problems and offered < LEAST_SHARE_OFFERED * examined
    counts = found.safe.counts[found.offered] if offered else found.safe.counts
    return replace(
        proof,
        problems=(_too_few(offered, examined),) if too_few else proof.problems,
        safe_layouts=(int(counts.min()), int(counts.max())),
        searched_all=proof.searched_all and found.safe.is_complete,
        variations=variations.total,
        examined=examined,
        offered=offered,
        refused=tuple(found.refused.most_common()),
        weakest_in=tuple(found.weakest.items()),
        near=tuple((task, slip, count) for (task, slip), count in found.near.most_common()),
    )


def _unsolved(scenario: Scenario, error: Problems | OutOfRange) -> Proof:
    if isinstance(error, Problems):
        problems = error.items
    else:
        problems = (Problem(Where("rigs"), str(error), "Keep the numbers within the range"),)
    return Proof(scenario, problems, 1, 0, 0, (), ())


def _own_problems(reference: Reference, found: Search) -> Iterator[Problem]:
    good = [name for name, solution in reference.solutions.items() if is_good(solution)]
    if is_go(reference) and not good and not found.rigs:
        yield _no_good_rig(reference, found)
    if not is_go(reference) and not good and found.rigs:
        yield _found_after_all(found.rigs[0])
    if not is_go(reference) and good:
        yield Problem(
            Where(f"rigs.{good[0]}"),
            f"The scenario is a no-go, and the rig {good[0]} is safe and does the job",
            "Write expect: go, or change what makes it a no-go",
        )
    yield from _tasks_without_answer(reference)
    yield from _unknown_slips(reference)


def _found_after_all(rig: FoundRig) -> Problem:
    line = rig.rig.pull_line
    way = ", ".join((line.start, *(f"{turn.by} at {turn.at}" for turn in line.pulleys), line.to.at))
    return Problem(
        Where("expect"),
        f"The scenario is a no-go, and a search finds a safe rig: {rig.rig.method}, {way}",
        "Write expect: go, or change what makes it a no-go",
    )


def _no_good_rig(reference: Reference, found: Search) -> Problem:
    searched = f"a search of {found.examined} layouts finds none"
    if not reference.solutions:
        return Problem(
            Where("rigs"),
            f"No rig is named, and {searched} that is safe and does the job",
            "Add the gear or the anchor that is missing, or write expect: no-go",
        )
    name, solution = next(iter(reference.solutions.items()))
    against = "; ".join(f"{f.rule}: {f.message}" for f in solution.findings[:3])
    return Problem(
        Where(f"rigs.{name}"),
        f"No named rig is safe and does the job, and {searched} ({name}: {against})",
        "Mend a rig, or write expect: no-go",
    )


def _tasks_without_answer(reference: Reference) -> Iterator[Problem]:
    for number, task in enumerate(reference.scenario.tasks):
        rig = rig_of_task(task)
        if rig is None or not isinstance(task, QuantityTask | ItemTask):
            continue
        solution = reference.solutions.get(rig)
        has_answer = solution is not None and (
            solution.weakest is not None
            if isinstance(task, ItemTask)
            else is_number(solution.values.get(task.of))
        )
        if not has_answer:
            yield Problem(
                Where(f"tasks.{number}.of"),
                f"{task.of} has no value with the rig {rig}",
                "Ask for a quantity that this rig has, or name such a rig",
            )


def _unknown_slips(reference: Reference) -> Iterator[Problem]:
    for number, task in enumerate(reference.scenario.tasks):
        rig = rig_of_task(task)
        if not isinstance(task, QuantityTask) or rig is None or rig not in reference.solutions:
            continue
        solution = reference.solutions[rig]
        if task.of not in solution.chain:
            continue
        known = {slip.slip.key for slip in solution.chain.slips_at(task.of, solution.values)}
        for name in task.catches:
            if name not in known:
                yield Problem(
                    Where(f"tasks.{number}.catches"),
                    f"No slip on the way to {task.of} is called {name}",
                    f"Take one of: {', '.join(sorted(known))}",
                )


def _too_few(offered: int, examined: int) -> Problem:
    return Problem(
        Where("vary"),
        f"Only {offered} of {examined} variations can be offered",
        "Narrow the ranges, or let weakest_may_change be true",
    )
