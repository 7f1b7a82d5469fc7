"""One task of a scenario, asked by itself."""

from __future__ import annotations

from dataclasses import replace

from coursekit.rigging.rig import Rig
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import (
    GIVEN_RIG,
    OWN_RIG,
    AnyTask,
    ItemTask,
    QuantityTask,
    RigTask,
)


def alone(scenario: Scenario, task_id: str) -> tuple[Scenario, AnyTask]:
    """Return a scenario with one task of it, which rests on no other and on the given rig."""
    task = _of_the_given_rig(scenario.task(task_id))
    return replace(scenario, tasks=(task,)), task


def rig_about(scenario: Scenario, task: AnyTask) -> Rig | None:
    """Return the rig that a task by itself is about, None where it is about none.

    `scenario` holds all its tasks.  A decision or an order is about the given rig, but where
    a rig is to be built it was asked without one, and one of the file would be an answer.
    """
    if isinstance(task, QuantityTask | ItemTask):
        return scenario.rigs.get(GIVEN_RIG if task.rig == OWN_RIG else task.rig)
    if any(isinstance(one, RigTask) for one in scenario.tasks):
        return None
    return scenario.given_rig


def _of_the_given_rig(task: AnyTask) -> AnyTask:
    if not isinstance(task, QuantityTask | ItemTask):
        return task
    rig = GIVEN_RIG if task.rig == OWN_RIG else task.rig
    # A prompt about one's own rig would mislead where the rig is given.
    prompt = "" if task.rig == OWN_RIG else task.prompt
    return replace(task, rig=rig, after=(), prompt=prompt)
