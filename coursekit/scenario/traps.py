"""Traps that never bite: what a scenario lays out and no student can fall for.

An unfit item is idle where it would stand in no safe rig even if it were sound: nobody
is tempted to take it.  A slip that a task must catch is idle where it changes nothing
at the scenario's own numbers, or comes too near the truth in every variation.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from coursekit.rigging.search import Search, safe_rigs
from coursekit.scenario.offer import Reference, rig_of_task, slip_distances
from coursekit.scenario.tasks import QuantityTask


@dataclass(frozen=True)
class IdleTrap:
    """One trap that never bites: an item, or a slip with its task."""

    item: str | None = None
    task: str | None = None
    slip: str | None = None

    def __str__(self) -> str:
        return self.item or f"{self.task} ({self.slip})"


def idle_traps(
    reference: Reference, own: Search, always_near: frozenset[tuple[str, str]] = frozenset()
) -> tuple[IdleTrap, ...]:
    """Return the traps of a scenario that never bite; `own` is its search as it stands."""
    return (*_idle_items(reference, own), *_idle_slips(reference, always_near))


def _idle_items(reference: Reference, own: Search) -> Iterator[IdleTrap]:
    situation = reference.scenario.situation
    ways = _ways(own)
    for name, item in situation.gear.items():
        if not item.condition:
            continue
        gear = {**situation.gear, name: replace(item, condition=())}
        if _ways(safe_rigs(replace(situation, gear=gear))) == ways:
            yield IdleTrap(item=name)


def _ways(search: Search) -> int:
    return sum(rig.assignments for rig in search.rigs)


def _idle_slips(
    reference: Reference, always_near: frozenset[tuple[str, str]]
) -> Iterator[IdleTrap]:
    for task in reference.scenario.tasks:
        rig = rig_of_task(task)
        if not isinstance(task, QuantityTask) or rig is None or rig not in reference.solutions:
            continue
        met = {key for key, _ in slip_distances(task, reference.solutions[rig])}
        for slip in task.catches:
            if slip not in met or (task.id, slip) in always_near:
                yield IdleTrap(task=task.id, slip=slip)
