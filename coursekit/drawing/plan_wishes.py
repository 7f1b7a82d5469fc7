"""What the plan has to say, and where each label would like to stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from textwrap import wrap

from coursekit.drawing.plan_frame import Point
from coursekit.drawing.plan_labels import Wish, spots_along, spots_around
from coursekit.drawing.plan_lines import Arrow, Part
from coursekit.drawing.plan_shapes import ANCHOR_REACH, BODY_WIDTH
from coursekit.drawing.plan_sheet import Sheet

LONGEST_LINE = 19
"""Letters of a name on one line."""
CLEAR = 4.0
"""Units left between a thing and its label."""
WEAKEST_REACH = 20.0
WEAKEST_SIGN = "\N{BLACK DIAMOND}"


def name_wishes(sheet: Sheet) -> Iterator[Wish]:
    """Yield the names of vehicles and anchors."""
    for stance in sheet.standing:
        x, y = sheet.frame.place(stance.vehicle.at)
        dx, dy = stance.middle
        lines = (*wrap(stance.vehicle.name, LONGEST_LINE), sheet.mass(stance))
        yield _named(lines, (x + dx, y + dy), BODY_WIDTH / 2 + CLEAR)
    for name, anchor in sheet.situation.anchors.items():
        lines = (*wrap(sheet.name(name), LONGEST_LINE), sheet.words.anchors[anchor.kind])
        yield _named(lines, sheet.frame.place(anchor.at), ANCHOR_REACH + CLEAR)


def load_wishes(sheet: Sheet, arrows: dict[str, Arrow]) -> Iterator[Wish]:
    """Yield the loads of places, or the question where one is asked."""
    for place in sheet.places:
        if place.at in arrows and place.load is not None:
            asked = place.at in sheet.shown.asked
            words = sheet.words.asked if asked else sheet.words.load
            text = words.format(load=sheet.load(place.load))
            yield _around("asked" if asked else "load", (text,), arrows[place.at].end, CLEAR)


def tension_wishes(sheet: Sheet, parts: Sequence[Part]) -> Iterator[Wish]:
    """Yield the tension of each part, and what a part is where that is not plain."""
    for part in parts:
        text = _tension(sheet, part)
        if text:
            spots = spots_along(part.start, part.end, (text,), part.side)
            middle = ((part.start[0] + part.end[0]) / 2, (part.start[1] + part.end[1]) / 2)
            yield Wish("tension", (text,), middle, spots, may_cross=True)


def weakest_wish(sheet: Sheet, at: Point) -> Wish:
    """Return the label of the weakest link."""
    weakest = sheet.solution.weakest if sheet.solution else None
    # Vehicles and anchors have their names beside them already.
    is_gear = weakest is not None and weakest.item in sheet.situation.gear
    name = wrap(sheet.name(weakest.item), LONGEST_LINE) if weakest and is_gear else ()
    lines = (f"{WEAKEST_SIGN} {sheet.words.weakest}", *name)
    return replace(_around("weakest", lines, at, WEAKEST_REACH), strong=1)


def exit_wish(sheet: Sheet, arrow: Arrow) -> Wish:
    """Return the word of the way out."""
    return _around("exit", (sheet.words.exit,), arrow.end, CLEAR)


def _tension(sheet: Sheet, part: Part) -> str:
    words = sheet.words
    if part.load is None or not sheet.shown.tensions:
        return words.hold if part.role == "hold" else ""
    load = sheet.load(part.load)
    if part.role == "hold":
        return words.hold_load.format(load=load)
    is_design = sheet.solution is not None and sheet.solution.rig.method != "winch"
    return words.design.format(load=load) if is_design else load


def _named(lines: Sequence[str], subject: Point, clear: float) -> Wish:
    """Return the label of a vehicle or anchor: its name, and one line of what it is."""
    return replace(_around("name", lines, subject, clear), strong=len(lines) - 1)


def _around(kind: str, lines: Sequence[str], subject: Point, clear: float) -> Wish:
    return Wish(kind, tuple(lines), subject, spots_around(subject, lines, clear), clear)
