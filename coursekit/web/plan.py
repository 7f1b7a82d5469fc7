"""The site plan of a scenario in the person's language, with the names of the brief."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace

from flask_babel import gettext as _

from coursekit.drawing.plan_sheet import Shown
from coursekit.drawing.plan_words import PlanWords
from coursekit.drawing.site_plan import SitePlan, site_plan
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Problems
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.rigging.rig import Rig
from coursekit.rigging.solver import Solution, solve
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import QuantityTask
from coursekit.web import words


def plain_plan(scenario: Scenario) -> SitePlan:
    """Return the plan of the ground, without any rig."""
    return site_plan(scenario.situation, shown=_shown(scenario), words=plan_words())


def asking_plan(scenario: Scenario, rig: Rig, asked: Collection[str] = ()) -> SitePlan:
    """Return the plan with a rig, and no number that a task may ask for.

    The area where nobody stands is hatched unless a task asks how far it reaches.
    """
    silent = _shown(scenario, loud=False, asked=asked)
    asks_area = any(
        isinstance(task, QuantityTask) and task.of == "stand_off" for task in scenario.tasks
    )
    solution = None if asks_area else solved(scenario, rig)
    return site_plan(scenario.situation, rig, solution, silent, plan_words())


def solved(scenario: Scenario, rig: Rig | None) -> Solution | None:
    """Return a rig solved, None for none and for one beyond what the formulas reach."""
    try:
        return None if rig is None else solve(scenario.situation, rig)
    except (Problems, OutOfRange):
        return None


def solved_plan(scenario: Scenario, solution: Solution, *, whole_area: bool = False) -> SitePlan:
    """Return the plan with a solved rig and all its loads.

    `whole_area` draws it small enough for all of the area where nobody stands.
    """
    shown = replace(_shown(scenario), whole_area=whole_area)
    return site_plan(scenario.situation, solution.rig, solution, shown, plan_words())


def names_of(scenario: Scenario) -> dict[str, str]:
    """Return the name of each item, point and anchor, by id."""
    situation = scenario.situation
    places = [
        *situation.anchors,
        *(f"{name}.{point}" for name, v in situation.vehicles() for point in v.points),
        *(f"{name}.winch" for name, v in situation.vehicles() if v.winch),
    ]
    gear = {item: words.item_name(item) for item in situation.gear}
    return gear | {place: words.place_name(situation, place) for place in places}


def _shown(scenario: Scenario, *, loud: bool = True, asked: Collection[str] = ()) -> Shown:
    return Shown(
        tensions=loud,
        loads=loud,
        weakest=loud,
        unit=units_of(scenario)[Kind.FORCE],
        length=units_of(scenario)[Kind.LENGTH],
        stand_off=loud,
        asked=asked,
        names=names_of(scenario),
        given=scenario.shown,
    )


def plan_words() -> PlanWords:
    """Return the words of the plan in the person's language."""
    return PlanWords(
        title=_("Site plan"),
        north=_("N"),
        exit=_("way out"),
        level=_("level ground"),
        slope=_("{slope} down"),
        contours=_("contours every {height}"),
        keep_out=_("keep out within {distance} of the rig"),
        keep_out_hidden=_("keep out of the hatched area"),
        farther=_("(farther than this plan shows)"),
        never=_("never inside an angle or in line"),
        load=_("load {load}"),
        asked=_("load ?"),
        weakest=_("weakest link"),
        hold=_("hold line"),
        hold_load=_("hold {load}"),
        design=_("design {load}"),
        anchors={kind: str(word) for kind, word in words.KINDS.items()},
        described=_("North is up."),
        described_stuck=_("{vehicle} is to leave toward {bearing}, {slope}."),
        described_level=_("the ground is level"),
        described_slope=_("the ground falls {slope} toward {bearing}"),
        described_other=_("{vehicle} stands {distance} away toward {bearing}."),
        described_anchor=_("{name}, {kind}, stands {distance} away toward {bearing}."),
        described_line=_("The line runs from {start} {legs}."),
        described_hold=_("A hold line runs from {start} {legs}."),
        described_leg=_("to {station}"),
        described_tension=_("with {load} to {station}"),
        described_load=_("{name} carries {load} toward {bearing}."),
        described_weakest=_("The weakest link is {item}."),
        described_area=_("Nobody stands within {distance} of any part of the rig."),
    )
