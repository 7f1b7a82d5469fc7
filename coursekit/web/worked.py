"""Worked solutions in the words of the page's reader."""

from __future__ import annotations

from dataclasses import dataclass

from flask_babel import gettext as _

from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.solver import Solution
from coursekit.rigging.working import Reader, ToldStep, tell, worked_solution, worked_step
from coursekit.scenario.model import Scenario
from coursekit.web.plan import names_of


@dataclass(frozen=True)
class ToldPart:
    """The steps of one part of a worked solution."""

    title: str
    steps: tuple[ToldStep, ...]


def worked_steps(scenario: Scenario, solution: Solution, key: str) -> tuple[ToldStep, ...]:
    """Return the steps that lead to a quantity, in the order of solving."""
    reader = reader_of(scenario)
    steps = solution.chain.working(key)
    return tuple(tell(worked_step(solution, step), reader) for step in steps)


def worked_parts(scenario: Scenario, solution: Solution) -> tuple[ToldPart, ...]:
    """Return every step of a solved rig that has a value, part by part."""
    reader = reader_of(scenario)
    return tuple(
        ToldPart(reader.say(part.title), tuple(tell(step, reader) for step in part.steps))
        for part in worked_solution(solution)
    )


def reader_of(scenario: Scenario) -> Reader:
    """Return how a worked solution speaks to the person who reads the page."""
    return Reader(shower(units_of(scenario)), _, names_of(scenario))
