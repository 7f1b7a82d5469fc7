"""What a task is about, as a few words in the middle of a sentence."""

from __future__ import annotations

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l

from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import (
    GIVEN_RIG,
    OWN_RIG,
    AnyTask,
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
)
from coursekit.web.plan import names_of, solved

NAMED = {
    RigTask: _l("the rig"),
    ItemTask: _l("the weakest item"),
    ItemsTask: _l("the gear to leave out"),
    ChoiceTask: _l("the decision"),
    OrderTask: _l("the order"),
}


OF_PLACE = {
    "load": _l("the load on %(name)s"),
    "holds": _l("what %(name)s may carry"),
    "use": _l("the use of %(name)s"),
    "holdfast": _l("what %(name)s holds by the table"),
    "tyres_need": _l("what the tyres of %(name)s must hold"),
    "tyres_hold": _l("what the tyres of %(name)s can hold"),
    "limit": _l("the limit of %(name)s"),
    "safety_factor": _l("the safety factor of %(name)s"),
    "angle": _l("the angle between the legs of %(name)s"),
    "leg": _l("the load on each leg of %(name)s"),
    "choke_share": _l("what the angle of choke leaves of %(name)s"),
    "off_line_share": _l("what the angle off its line leaves of %(name)s"),
    "bend_share": _l("what the bend over pulleys leaves of %(name)s"),
}


def subject(scenario: Scenario, task: AnyTask) -> str:
    """Return what a task is about, such as `the load on oak`."""
    if not isinstance(task, QuantityTask):
        return str(NAMED[type(task)])
    first, _dot, rest = task.of.partition(".")
    name, _dot, last = rest.rpartition(".")
    if first in ("place", "item") and last in OF_PLACE:
        return str(OF_PLACE[last]) % {"name": names_of(scenario).get(name, name)}
    return _of_step(scenario, task)


def _of_step(scenario: Scenario, task: QuantityTask) -> str:
    rig = GIVEN_RIG if task.rig == OWN_RIG else task.rig
    solution = solved(scenario, scenario.rigs.get(rig))
    if solution is None or task.of not in solution.chain:
        return _("the quantity %(name)s", name=task.of)
    return _("the %(name)s", name=solution.chain.step(task.of).name)
