"""The force-time chart of a kinetic pull, from the solved rig."""

from __future__ import annotations

from flask_babel import gettext as _

from coursekit.drawing.kinetic_chart import SnatchLoads, SnatchWords, SpeedWindow, kinetic_chart
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.rigging.chains.elastic import elastic_line
from coursekit.rigging.solver import Solution
from coursekit.scenario.model import Scenario
from coursekit.web import words

KINETIC = "kinetic"


def force_time_chart(scenario: Scenario, solution: Solution | None) -> bytes | None:
    """Return the chart as SVG in the scenario's units, None where no kinetic pull was solved."""
    snatch = snatch_of(scenario, solution) if solution else None
    return kinetic_chart(snatch, chart_words()) if snatch else None


def snatch_of(scenario: Scenario, solution: Solution) -> SnatchLoads | None:
    """Return what a kinetic pull does over time, None for any other and for no stretch."""
    values = solution.values
    if solution.rig.method != KINETIC or values.get("kinetic.peak") is None:
        return None
    elastic = elastic_line(solution.situation, solution.rig.pull_line)
    if elastic is None:
        return None
    times, forces = elastic.history(values)
    limit, weakest = _smallest_limit(solution)
    return SnatchLoads(
        tuple(times),
        tuple(forces),
        values["pull"],
        values["kinetic.peak"],
        values["kinetic.design"],
        limit,
        words.item_name(weakest),
        units_of(scenario)[Kind.FORCE],
        SpeedWindow(
            values["kinetic.speed"],
            values["kinetic.speed.lowest"],
            values["kinetic.speed.highest"],
            units_of(scenario)[Kind.SPEED],
        ),
    )


def chart_words() -> SnatchWords:
    """Return the words of the chart in the person's language."""
    return SnatchWords(
        title=_("Force in the rope"),
        within=_("The design load is within the smallest limit"),
        over=_("The design load is over the smallest limit"),
        unknown=_("No item of the load path has a limit"),
        breaks_out=_("The vehicle comes free"),
        stays=_("The vehicle stays stuck"),
        time=_("time from when the rope comes taut, s"),
        force=_("force, {unit}"),
        rope=_("rope, peak {load}"),
        resistance=_("resistance {load}"),
        design=_("design load {load}"),
        limit=_("smallest limit {load}, {item}"),
        beyond=_("over the limit"),
        speed=_("closing speed, {unit}"),
        driven=_("this pull {speed}"),
        window=_("window of speeds {lowest} to {highest}"),
        no_window=_("no window of speeds"),
    )


def _smallest_limit(solution: Solution) -> tuple[float | None, str]:
    items = [item for line in solution.lines for item in line.items]
    items += [item for place in solution.places for item in place.items]
    limits = [(item.limit, item.item) for item in items if item.limit is not None]
    return min(limits, default=(None, ""))
