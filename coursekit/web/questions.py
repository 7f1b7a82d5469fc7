"""What a task asks, as a question that stands at the head of its page."""

from __future__ import annotations

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l

from coursekit.assessment.practice import skill_of
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import (
    OWN_RIG,
    AnyTask,
    ItemTask,
    QuantityTask,
    RigTask,
)
from coursekit.web import words

QUANTITIES = {
    "weight": _l("What does the stuck vehicle weigh?"),
    "slope": _l("How steep is the ground?"),
    "resistance.grade": _l("How hard does the slope hold it back?"),
    "resistance.rolling": _l("How hard does the ground hold its wheels?"),
    "resistance.bogging": _l("How hard does the ground hold it down?"),
    "resistance.righting": _l("What pull rights it?"),
    "resistance.total": _l("What is the total resistance?"),
    "advantage.ideal": _l("What is the advantage of the rig, friction left out?"),
    "advantage.actual": _l("What is the advantage of the rig, friction counted?"),
    "pull": _l("What pull must the winch give?"),
    "pull.available": _l("What pull can the winch give on its working layer?"),
    "pull.available.end": _l("What pull can the winch still give at the end?"),
    "pull.stall": _l("What pull does the winch give when it stalls?"),
    "fleet_angle": _l("What is the fleet angle at the drum?"),
    "line.needed": _l("How long is the path of the line?"),
    "line.available": _l("How much line is there?"),
    "stand_off": _l("How far away does everybody stand?"),
    "kinetic.stiffness": _l("How stiff is the rope?"),
    "kinetic.speed": _l("What is the closing speed?"),
    "kinetic.peak": _l("What is the peak force in the rope?"),
    "kinetic.design": _l("What load must every item be held against?"),
    "kinetic.stretch": _l("How far does the line stretch at its peak?"),
    "kinetic.energy": _l("How much energy does the rope hold at its peak?"),
    "kinetic.speed.lowest": _l("What is the lowest speed that breaks it out?"),
    "kinetic.speed.highest": _l("What is the highest safe speed?"),
    "tow.pull": _l("What pull does the tow need?"),
    "tow.design": _l("What load must every item be held against?"),
    "tow.own_grade": _l("How hard does the slope hold the recovery vehicle back?"),
    "tow.own_rolling": _l("How hard does the ground hold the recovery vehicle's wheels?"),
    "tow.need": _l("What must the recovery vehicle's tyres push with?"),
    "tow.grip": _l("What can the recovery vehicle's tyres push with?"),
    "runaway": _l("How hard does it run away downhill?"),
    "hold.load": _l("What is the load on the hold line?"),
    "winch.paid_out": _l("How much line is paid out?"),
    "winch.layer": _l("On which layer does the winch work?"),
}
PLACE_QUESTIONS = {
    "load": _l("What is the load on %(place)s?"),
    "holds": _l("What does %(place)s hold?"),
    "use": _l("How much of its limit does %(place)s use?"),
    "holdfast": _l("What does %(place)s hold by the table?"),
    "tyres_need": _l("What must the tyres of %(place)s hold?"),
    "tyres_hold": _l("What can the tyres of %(place)s hold?"),
}
ITEM_QUESTIONS = {
    "use": _l("How much of its limit does %(item)s use?"),
    "limit": _l("What is the limit of %(item)s?"),
    "safety_factor": _l("What is the safety factor of %(item)s?"),
    "load": _l("What is the load on %(item)s?"),
    "angle": _l("What is the angle between the legs of %(item)s?"),
    "leg": _l("What is the load on each leg of %(item)s?"),
    "choke_share": _l("What share of its choker rating does %(item)s keep?"),
    "off_line_share": _l("What share of its rating does %(item)s keep off its line?"),
    "bend_share": _l("What share of its strength does %(item)s keep over its pulleys?"),
}


_GENERAL = {
    "weakest": _l("Which item uses most of its limit?"),
    "unfit": _l("Which gear must stay out of use?"),
    "decision": _l("Do you pull, or do you stop?"),
    "order": _l("In which order do you do it?"),
    "rig": _l("How do you rig it?"),
}


def question(scenario: Scenario, task: AnyTask) -> str:
    """Return the question of a task: the file's own words, else ours for what it asks."""
    if task.prompt:
        return task.prompt
    if isinstance(task, QuantityTask):
        return _of_quantity(scenario, task.of)
    return str(_GENERAL[skill_of(task)])


def question_of_skill(skill: str) -> str:
    """Return the question that a skill answers, whatever the scenario."""
    first, _dot, last = skill.partition(".")
    if skill in QUANTITIES:
        return str(QUANTITIES[skill])
    if first == "place" and last in PLACE_QUESTIONS:
        return str(PLACE_QUESTIONS[last]) % {"place": _("a place")}
    if first == "item" and last in ITEM_QUESTIONS:
        return str(ITEM_QUESTIONS[last]) % {"item": _("an item")}
    if first == "hold":
        return _of_hold_line(last)
    return str(_GENERAL.get(skill, skill))


def asks_to_build(scenario: Scenario) -> bool:
    """Whether the student is asked for a rig of their own."""
    return any(isinstance(task, RigTask) for task in scenario.tasks)


def about(scenario: Scenario, task: AnyTask) -> str:
    """Return what else the student must know of a task: whose rig it is about."""
    if isinstance(task, QuantityTask | ItemTask) and task.rig == OWN_RIG:
        return _("For the rig that you built.")
    if isinstance(task, QuantityTask | ItemTask) and not asks_to_build(scenario):
        return _("For the rig that is given.")
    return ""


def _of_quantity(scenario: Scenario, key: str) -> str:
    if key in QUANTITIES:
        return str(QUANTITIES[key])
    first, _dot, rest = key.partition(".")
    name, _dot, last = rest.rpartition(".")
    if first == "place":
        place = words.place_phrase(scenario.situation, name)
        return str(PLACE_QUESTIONS[last]) % {"place": place}
    if first == "hold":
        return _of_hold_line(rest)
    return str(ITEM_QUESTIONS[last]) % {"item": _item(scenario, name)}


def _of_hold_line(rest: str) -> str:
    """Return the question about one hold line: the first, or the one of a number."""
    number, _dot, name = rest.partition(".")
    if not number.isdigit():
        return _("For the hold line: %(question)s", question=QUANTITIES[rest])
    asked = QUANTITIES["hold.load" if name == "load" else name]
    return _("For hold line %(number)s: %(question)s", number=number, question=asked)


def _item(scenario: Scenario, name: str) -> str:
    """Return the name of an item of gear, or of a point of a vehicle."""
    if name in scenario.situation.gear:
        return words.item_name(name)
    return words.place_phrase(scenario.situation, name)
