"""Whether a paper that was written by one version of a scenario can be marked by another."""

from __future__ import annotations

from dataclasses import replace

from coursekit.problems import Message
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import (
    OWN_RIG,
    AnyTask,
    ChoiceTask,
    ItemTask,
    OrderTask,
    QuantityTask,
)


def misfit(written: Scenario, corrected: Scenario) -> Message | None:
    """Return why a paper can't be marked by a corrected version, None where it can.

    Both are given with the student's own numbers in place.  Key, tolerance, marks and scheme
    may change; what the student was given, and what was asked, may not: an answer is right
    or wrong for the question that was put.
    """
    return _other_data(written, corrected) or next(
        (
            found
            for task in corrected.tasks
            if (found := _other_task(written, corrected, task)) is not None
        ),
        None,
    )


def _other_data(written: Scenario, corrected: Scenario) -> Message | None:
    for field in sorted({*written.shown, *corrected.shown}):
        was, is_now = written.shown.get(field), corrected.shown.get(field)
        if was != is_now:
            return Message(
                "The student worked with {field} {was}; this version has {now}.",
                {"field": field, "was": was or "none", "now": is_now or "none"},
            )
    # The school's policy is part of the key: it says what stops a paper, not what was given.
    if replace(written.situation, policy=corrected.situation.policy) != corrected.situation:
        return Message("This version gives the student something else to work with.")
    return None


def _other_task(written: Scenario, corrected: Scenario, task: AnyTask) -> Message | None:
    was = next((one for one in written.tasks if one.id == task.id), None)
    if was is None:
        return Message("Task {task} was not asked then.", {"task": task.id})
    if type(was) is not type(task) or _asked(was) != _asked(task):
        return Message("Task {task} asked something else then.", {"task": task.id})
    rig = getattr(task, "rig", OWN_RIG)
    if rig != OWN_RIG and written.rigs.get(rig) != corrected.rigs.get(rig):
        return Message("Task {task} asked about another rig then.", {"task": task.id})
    return None


def _asked(task: AnyTask) -> object:
    """Return what a task asks, without what its key accepts."""
    if isinstance(task, QuantityTask | ItemTask):
        return task.of, task.rig
    if isinstance(task, ChoiceTask):
        return frozenset(task.options)
    if isinstance(task, OrderTask):
        return frozenset(task.items)
    return None
