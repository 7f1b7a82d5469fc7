"""Strands: what a task shows of a student, so that each of them can have its own minimum."""

from __future__ import annotations

from coursekit.scenario.tasks import (
    AnyTask,
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
)

STRANDS = ("resistance", "line", "anchor", "kinetic", "kit", "rig", "decision")
# By the first word of a quantity's name; what is not named here is of the line and its pull.
_FAMILIES = {
    "weight": "resistance",
    "resistance": "resistance",
    "runaway": "resistance",
    "place": "anchor",
    "kinetic": "kinetic",
    "item": "kit",
    # Where people stand is decided, whatever was worked out for it.
    "stand_off": "decision",
}
_KINDS = {
    RigTask: "rig",
    ItemTask: "kit",
    ItemsTask: "kit",
    ChoiceTask: "decision",
    OrderTask: "decision",
}


def strand_of(task: AnyTask) -> str:
    """Return the strand of a task: the one that it names, else that of what it asks for.

    >>> strand_of(QuantityTask("total", 3.0, of="resistance.total"))
    'resistance'
    >>> strand_of(QuantityTask("total", 3.0, of="resistance.total", strand="decision"))
    'decision'
    >>> strand_of(OrderTask("steps", 2.0)), strand_of(QuantityTask("pull", 2.0, of="pull.stall"))
    ('decision', 'line')
    """
    if task.strand is not None:
        return task.strand
    if isinstance(task, QuantityTask):
        return _FAMILIES.get(task.of.partition(".")[0], "line")
    return _KINDS[type(task)]
