"""A worked solution as plain text, for a terminal of 80 columns."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import TextWrapper

from coursekit.cli.report import CAUTION
from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.methods import BothMethods, Compared, OnlyOne, by_both
from coursekit.rigging.polygons import PlaceForces, place_forces
from coursekit.rigging.solver import Solution
from coursekit.rigging.working import Reader, ToldStep, amount_of, tell, worked_solution
from coursekit.scenario.model import Scenario

WIDTH = 80
ROUNDED = (
    "Numbers stand rounded, loads up and capacities down; each step is worked out with "
    "unrounded ones."
)
NAMES = {"vector": "by vectors", "field-rule": "by field rule"}


def worked_report(scenario: Scenario, solution: Solution, numbers: str) -> str:
    """Return a solved rig worked out: its steps, the forces at its places, both methods."""
    reader = Reader(shower(units_of(scenario)))
    both = by_both(scenario.situation, solution.rig)
    verdict = "SAFE as far as these rules go." if solution.is_safe else "NOT SAFE."
    findings = [f"{found.severity}: {reader.say(found.message)}" for found in solution.findings]
    parts = [
        [f"{scenario.id}: {scenario.title}", *_wrapped(numbers), "", verdict],
        [line for finding in findings for line in _wrapped(finding, "  ")],
        _wrapped(ROUNDED),
        *_steps(solution, reader),
        ["FORCES AT EACH PLACE", *_forces(solution, reader)],
        ["BOTH METHODS SIDE BY SIDE", *_methods(both, reader)],
        _wrapped(CAUTION),
    ]
    return "\n\n".join("\n".join(part) for part in parts if part)


def _steps(solution: Solution, reader: Reader) -> Iterator[list[str]]:
    for part in worked_solution(solution):
        lines = [reader.say(part.title).upper()]
        for step in part.steps:
            lines += _step(tell(step, reader))
        yield lines


def _step(step: ToldStep) -> Iterator[str]:
    rounding = f"  ({step.rounding})" if step.rounding else ""
    yield ""
    yield from _wrapped(f"{step.name}: {step.value}{rounding}", "  ")
    yield from _wrapped(step.formula, "    ")
    if step.put_in:
        yield from _wrapped(f"= {step.put_in}", "      ")
    if step.numbers:
        yield from _wrapped(f"with {'; '.join(step.numbers)}", "    ")
    yield from _wrapped(f"Source: {step.source}", "    ")
    if step.limits:
        yield from _wrapped(f"Holds: {step.limits}", "    ")


def _forces(solution: Solution, reader: Reader) -> Iterator[str]:
    for place in place_forces(solution):
        yield from _force(place, reader)


def _force(place: PlaceForces, reader: Reader) -> Iterator[str]:
    def said(value: float, unit: str, rounds: str) -> str:
        return reader.amount(amount_of(value, unit, rounds))

    load, bearing = said(place.load, "N", "up"), said(place.bearing, "rad", "nearest")
    yield from _wrapped(f"{place.at}: {load}, bearing {bearing}", "  ")
    for part in place.parts:
        tension = said(part.tension, "N", "up")
        bearing = said(part.bearing, "rad", "nearest")
        yield from _wrapped(f"{tension} toward {part.toward}, bearing {bearing}", "    ")
    if place.angle is not None:
        yield f"    angle between the parts {said(place.angle, 'rad', 'nearest')}"


def _methods(both: BothMethods, reader: Reader) -> Iterator[str]:
    if both.refused is not None:
        yield from _wrapped(reader.say(both.refused), "  ")
        return
    yield f"  {'':<30}{'by vectors':>14}{'by field rule':>16}{'differs by':>13}"
    for each in both.differing:
        yield from _differing(each, reader)
    same = ", ".join(reader.say(each.step.title) for each in both.agreeing)
    yield from _wrapped(f"The same by both: {same}.", "  ")
    for only in both.only_one:
        yield from _wrapped(_only(only, reader), "  ")


def _differing(each: Compared, reader: Reader) -> Iterator[str]:
    step = each.step
    one, other = (
        reader.amount(amount_of(value, step.unit, step.rounds))
        for value in (each.by_vector, each.by_field_rule)
    )
    share = "" if each.difference is None else f"{100.0 * each.difference:+.1f} %"
    *above, last = _wrapped(reader.say(step.title), "  ", 30)
    yield from above
    yield f"{last:<32}{one:>14}{other:>16}{share:>13}"
    for said in (each.verdict, *each.reasons):
        if said is not None:
            yield from _wrapped(reader.say(said), "    ")


def _only(only: OnlyOne, reader: Reader) -> str:
    found = only.finding
    said = reader.say(found.message)
    return f"Only {NAMES[only.method]}, {found.severity} {found.rule}: {said}"


def _wrapped(text: str, indent: str = "", width: int = WIDTH) -> list[str]:
    wrapper = TextWrapper(width, initial_indent=indent, subsequent_indent=f"{indent}  ")
    return wrapper.wrap(text)
