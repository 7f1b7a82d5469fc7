"""Usual mistakes by name: of one task, and those that a paper makes in several."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from flask_babel import gettext as _

from coursekit.assessment.diagnosis import habits
from coursekit.rigging.solver import Solution
from coursekit.rigging.steps import SlipValue
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import GIVEN_RIG, OWN_RIG, AnyTask, QuantityTask
from coursekit.services.answering import TaskResult
from coursekit.web.plan import solved
from coursekit.web.subjects import subject

UNIT_SLIP = "unit-slip"


def mistake_name(task: AnyTask, solution: Solution | None, key: str) -> str:
    """Return the name of a usual mistake in a task, from its key."""
    if key == UNIT_SLIP:
        return _("another unit taken")
    found = slip_value(task, solution, key)
    return key.replace("-", " ") if found is None else found.slip.title.text(_)


def solution_of(scenario: Scenario, task: AnyTask) -> Solution | None:
    """Return the rig that a quantity is asked of, solved at the scenario's own numbers."""
    if not isinstance(task, QuantityTask):
        return None
    name = GIVEN_RIG if task.rig == OWN_RIG else task.rig
    found = solved(scenario, scenario.rigs.get(name))
    return found if found is not None and task.of in found.chain else None


def slip_value(task: AnyTask, solution: Solution | None, key: str) -> SlipValue | None:
    """Return a usual mistake of a task with the number that it leads to, None where it has none."""
    if not isinstance(task, QuantityTask) or solution is None:
        return None
    values = solution.chain.slips_at(task.of, solution.values)
    return next((found for found in values if found.slip.key == key), None)


def habit_texts(scenario: Scenario, results: Sequence[TaskResult]) -> Iterator[str]:
    """Yield a line for each usual mistake that the answers to two tasks or more agree with."""
    for key in habits(result.slips for result in results):
        made = [scenario.task(result.task_id) for result in results if key in result.slips]
        yield _(
            "More than once: %(mistake)s (%(tasks)s). Look at that step first.",
            mistake=mistake_name(made[0], solution_of(scenario, made[0]), key),
            tasks=", ".join(subject(scenario, task) for task in made),
        )
