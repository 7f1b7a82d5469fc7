"""The plan in sentences, for those who do not see it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from coursekit.drawing.plan_sheet import Sheet
from coursekit.rigging.plan import bearing_of, distance
from coursekit.rigging.vehicle import Position


def describe_plan(sheet: Sheet) -> str:
    """Return everything that the plan shows, in words."""
    return " ".join((sheet.words.described, *_ground(sheet), *_rig(sheet), *_loads(sheet)))


def _ground(sheet: Sheet) -> Iterator[str]:
    words, ground, stuck = sheet.words, sheet.situation.ground, sheet.situation.stuck
    slope = words.described_level
    if ground.downhill is not None and ground.slope > 0.0:
        slope = words.described_slope.format(slope=sheet.slope, bearing=_bearing(ground.downhill))
    for stance in sheet.standing:
        vehicle = f"{stance.vehicle.name}, {sheet.mass(stance)},"
        if stance.role == "stuck":
            bearing = _bearing(stuck.exit or 0.0)
            yield words.described_stuck.format(vehicle=vehicle, bearing=bearing, slope=slope)
        else:
            yield words.described_other.format(vehicle=vehicle, **_way(sheet, stance.vehicle.at))
    for name, anchor in sheet.situation.anchors.items():
        yield words.described_anchor.format(
            name=sheet.name(name), kind=words.anchors[anchor.kind], **_way(sheet, anchor.at)
        )


def _rig(sheet: Sheet) -> Iterator[str]:
    words = sheet.words
    for number, plan in enumerate(sheet.plans):
        pull = sheet.solution.lines[number].load if sheet.solution else None
        legs = []
        for (_, station), share in zip(pairwise(plan.stations), plan.tensions, strict=True):
            hidden = pull is None or not sheet.shown.tensions
            text = words.described_leg if hidden else words.described_tension
            load = "" if pull is None else sheet.load(pull * share)
            legs.append(text.format(station=sheet.name(station), load=load))
        sentence = words.described_hold if plan.line.role == "hold" else words.described_line
        yield sentence.format(start=sheet.name(plan.stations[0]), legs=" ".join(legs))


def _loads(sheet: Sheet) -> Iterator[str]:
    words, shown = sheet.words, sheet.shown
    for place in sheet.places:
        if place.load is not None and place.bearing is not None and place.at not in shown.asked:
            yield words.described_load.format(
                name=sheet.name(place.at),
                load=sheet.load(place.load),
                bearing=_bearing(place.bearing),
            )
    weakest = sheet.solution.weakest if sheet.solution else None
    if weakest is not None and shown.weakest:
        yield words.described_weakest.format(item=sheet.name(weakest.item))
    if sheet.told_stand_off is not None:
        yield words.described_area.format(distance=sheet.told_stand_off)


def _way(sheet: Sheet, there: Position) -> dict[str, str]:
    """Return how far away and which way a position is, seen from the stuck vehicle."""
    here = sheet.situation.stuck.at
    bearing = bearing_of((there[0] - here[0], there[1] - here[1]))
    return {
        "distance": sheet.length(distance(here, there)),
        "bearing": _bearing(bearing),
    }


def _bearing(angle: float) -> str:
    return f"{round(math.degrees(angle)) % 360:03d}°"
