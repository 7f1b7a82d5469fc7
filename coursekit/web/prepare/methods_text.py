"""Both methods of reckoning side by side, and the forces at each place, in words and drawn."""

from __future__ import annotations

from dataclasses import dataclass

from flask_babel import gettext as _

from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.rigging.methods import Compared, OnlyOne, by_both
from coursekit.rigging.polygons import PlaceForces, place_forces
from coursekit.rigging.solver import Solution
from coursekit.rigging.working import Reader, amount_of
from coursekit.scenario.model import Scenario
from coursekit.web.prepare.polygon_part import PolygonPart, polygon_part
from coursekit.web.worked import reader_of


@dataclass(frozen=True)
class MethodLine:
    """One quantity by both methods, how far they are apart, and why."""

    name: str
    by_vector: str
    by_field_rule: str
    difference: str
    said: tuple[str, ...]


@dataclass(frozen=True)
class MethodsText:
    """What both methods give; `refused` says why the field rule gives nothing."""

    refused: str
    lines: tuple[MethodLine, ...]
    same: tuple[str, ...]
    only_one: tuple[str, ...]


@dataclass(frozen=True)
class ForceLine:
    """The load on a place with its bearing, and the line parts that it comes from."""

    name: str
    load: str
    parts: tuple[str, ...]
    angle: str
    polygon: PolygonPart | None


def methods_text(scenario: Scenario, solution: Solution) -> MethodsText:
    """Return a rig by both methods."""
    reader = reader_of(scenario)
    both = by_both(scenario.situation, solution.rig)
    return MethodsText(
        "" if both.refused is None else reader.say(both.refused),
        tuple(_line(each, reader) for each in both.differing),
        tuple(reader.say(each.step.title) for each in both.agreeing),
        tuple(_only(only, reader) for only in both.only_one),
    )


def force_lines(scenario: Scenario, solution: Solution) -> tuple[ForceLine, ...]:
    """Return the forces at each place of a rig."""
    reader = reader_of(scenario)
    unit = units_of(scenario)[Kind.FORCE]
    return tuple(_forces(place, reader, unit) for place in place_forces(solution))


def _line(each: Compared, reader: Reader) -> MethodLine:
    step = each.step
    by_vector, by_field_rule = (
        reader.amount(amount_of(value, step.unit, step.rounds))
        for value in (each.by_vector, each.by_field_rule)
    )
    said = [message for message in (each.verdict, *each.reasons) if message is not None]
    return MethodLine(
        reader.say(step.title),
        by_vector,
        by_field_rule,
        "" if each.difference is None else f"{100.0 * each.difference:+.1f} %",
        tuple(reader.say(message) for message in said),
    )


def _only(only: OnlyOne, reader: Reader) -> str:
    said = reader.say(only.finding.message)
    if only.method == "vector":
        return _("Only by vectors: %(said)s", said=said)
    return _("Only by field rule: %(said)s", said=said)


def _forces(place: PlaceForces, reader: Reader, unit: str) -> ForceLine:
    def told(value: float, unit: str, rounds: str) -> str:
        return reader.amount(amount_of(value, unit, rounds))

    parts = tuple(
        _(
            "%(tension)s toward %(place)s, bearing %(bearing)s",
            tension=told(part.tension, "N", "up"),
            place=reader.names.get(part.toward, part.toward),
            bearing=told(part.bearing, "rad", "nearest"),
        )
        for part in place.parts
    )
    return ForceLine(
        reader.names.get(place.at, place.at),
        _(
            "%(load)s, bearing %(bearing)s",
            load=told(place.load, "N", "up"),
            bearing=told(place.bearing, "rad", "nearest"),
        ),
        parts,
        "" if place.angle is None else told(place.angle, "rad", "nearest"),
        polygon_part(place, reader, unit, parts),
    )
