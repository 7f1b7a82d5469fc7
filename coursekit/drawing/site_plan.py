"""The site plan as data for its template: every coordinate ready, every word placed.

North is up and one scale serves the whole sheet.  Vehicles and anchors are drawn
larger than they are, but gear is joined exactly where they stand: the drawn end
of a vehicle is its position.  Loads round up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from coursekit.drawing.plan_description import describe_plan
from coursekit.drawing.plan_frame import Box, Footprint, Point, frame_of, heading
from coursekit.drawing.plan_labels import Ground, Label, Wish, place_labels, strokes_of
from coursekit.drawing.plan_lines import (
    Arrow,
    KeepOut,
    Part,
    keep_out,
    laid_out,
    load_arrow,
    parts_of,
    rounded,
)
from coursekit.drawing.plan_shapes import ANCHOR_REACH, BODY_WIDTH, Body, Mark, Stance, stances
from coursekit.drawing.plan_sheet import Sheet, Shown
from coursekit.drawing.plan_strip import Strip, contour_paths, keep_out_notes, strip_of
from coursekit.drawing.plan_wishes import (
    exit_wish,
    load_wishes,
    name_wishes,
    tension_wishes,
    weakest_wish,
)
from coursekit.drawing.plan_words import PlanWords
from coursekit.rigging.plan import LinePlan, unit_vector
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import Solution

EXIT = 46.0
"""Length of the arrow of the way out, in units."""
BESIDE = BODY_WIDTH / 2 + 9
"""How far beside the vehicle's middle it runs."""
ROOMS = (0.0, 40.0, 80.0, 120.0, 160.0)
"""Height added until every label has its place."""
HEAD = 12.0
"""Width of an arrow's head."""
WEAKEST_SHARE = 0.25
"""How far along its first part a line is marked as the weakest link."""


@dataclass(frozen=True)
class SitePlan:
    """The plan as the template draws it, from the back to the front."""

    title: str
    description: str
    width: float
    height: float
    contours: tuple[str, ...]
    area: KeepOut | None
    parts: tuple[Part, ...]
    turns: tuple[Point, ...]
    bodies: tuple[Body, ...]
    marks: tuple[Mark, ...]
    arrows: tuple[Arrow, ...]
    weakest: Point | None
    labels: tuple[Label, ...]
    strip: Strip

    @property
    def full_height(self) -> float:
        """The height of the map and of the strip below it."""
        return round(self.height + self.strip.height, 1)


def site_plan(
    situation: Situation,
    rig: Rig | None = None,
    solution: Solution | None = None,
    shown: Shown | None = None,
    words: PlanWords | None = None,
) -> SitePlan:
    """Return the plan of a situation, with a rig in it and its loads where they are known."""
    rig = solution.rig if solution is not None else rig
    shown, words = shown or Shown(), words or PlanWords()
    standing, plans = stances(situation, rig), laid_out(situation, rig)
    reach = solution.values["stand_off"] if solution and shown.whole_area else 0.0
    footprints = [*_footprints(situation, standing), *_spread(standing, plans, reach)]
    for room in ROOMS:
        frame = frame_of(footprints, room)
        plan = _drawn(Sheet(situation, plans, solution, shown, words, standing, frame))
        if not any(label.clashes for label in plan.labels):
            break
    return plan


def _footprints(situation: Situation, standing: tuple[Stance, ...]) -> Iterator[Footprint]:
    """Yield what must be in view: vehicles, anchors, and the way out on either side."""
    for stance in standing:
        yield stance.footprint
    out = heading(unit_vector(situation.stuck.exit or 0.0))
    for side in (BESIDE, -BESIDE):
        tip = out[0] * EXIT - out[1] * side, out[1] * EXIT + out[0] * side
        yield Footprint(situation.stuck.at, Box.around(tip, 6.0, 6.0))
    for anchor in situation.anchors.values():
        yield Footprint(anchor.at, Box.around((0.0, 0.0), 2 * ANCHOR_REACH, 2 * ANCHOR_REACH))


def _spread(
    standing: tuple[Stance, ...], plans: tuple[LinePlan, ...], reach: float
) -> Iterator[Footprint]:
    """Yield what lies `reach` metres off the vehicles and stations of the rig."""
    stations = [Footprint(at, Box(0.0, 0.0, 0.0, 0.0)) for plan in plans for at in plan.positions]
    for each in (*stations, *(stance.footprint for stance in standing)):
        east, north = each.at
        for dx, dy in ((reach, 0.0), (-reach, 0.0), (0.0, reach), (0.0, -reach)):
            yield Footprint((east + dx, north + dy), each.takes)


def _drawn(sheet: Sheet) -> SitePlan:
    frame, words = sheet.frame, sheet.words
    parts = tuple(parts_of(sheet.plans, sheet.solution, frame))
    loads = {place.at: load_arrow(place, sheet.point(place.at)) for place in sheet.places}
    arrows = {at: arrow for at, arrow in loads.items() if arrow is not None}
    way_out = _way_out(sheet, parts)
    weakest = _weakest(sheet, parts)
    area = _area(sheet)
    return SitePlan(
        title=words.title,
        description=describe_plan(sheet),
        width=frame.width,
        height=round(frame.height, 1),
        contours=contour_paths(sheet),
        area=area,
        parts=parts,
        turns=tuple(rounded(sheet.point(at)) for plan in sheet.plans for at in plan.stations[1:-1]),
        bodies=tuple(stance.body(frame) for stance in sheet.standing),
        marks=tuple(_marks(sheet)),
        arrows=(*arrows.values(), way_out),
        weakest=weakest,
        labels=_labels(sheet, parts, arrows, way_out, weakest),
        strip=strip_of(sheet, keep_out_notes(area, sheet.told_stand_off, words)),
    )


def _marks(sheet: Sheet) -> Iterator[Mark]:
    for name, anchor in sheet.situation.anchors.items():
        yield Mark(name, anchor.kind, *rounded(sheet.frame.place(anchor.at)))


def _area(sheet: Sheet) -> KeepOut | None:
    if sheet.stand_off is None:
        return None
    return keep_out(sheet.plans, sheet.standing, sheet.stand_off, sheet.frame)


def _way_out(sheet: Sheet, parts: tuple[Part, ...]) -> Arrow:
    """Return the arrow of the way out, on the side that has more room."""
    x, y = heading(unit_vector(sheet.situation.stuck.exit or 0.0))
    at = sheet.frame.place(sheet.situation.stuck.at)
    anchors = [sheet.frame.place(anchor.at) for anchor in sheet.situation.anchors.values()]
    busy = (*strokes_of((part.start, part.end) for part in parts), *anchors)
    arrows = []
    for side in (BESIDE, -BESIDE):
        start = at[0] - y * side, at[1] + x * side
        arrows.append(
            Arrow("exit", rounded(start), rounded((start[0] + x * EXIT, start[1] + y * EXIT)))
        )
    return max(
        arrows, key=lambda arrow: min((math.dist(arrow.end, point) for point in busy), default=0.0)
    )


def _weakest(sheet: Sheet, parts: tuple[Part, ...]) -> Point | None:
    """Return where the weakest link is: at its place, or on the line that it is part of."""
    weakest = sheet.solution.weakest if sheet.solution and sheet.shown.weakest else None
    if weakest is None:
        return None
    if weakest.at is not None:
        return rounded(sheet.point(weakest.at))
    first = 0
    for plan in sheet.plans:
        if weakest.item in plan.line.made_of:
            break
        first += len(plan.stations) - 1
    (x1, y1), (x2, y2) = parts[first].start, parts[first].end
    return rounded((x1 + WEAKEST_SHARE * (x2 - x1), y1 + WEAKEST_SHARE * (y2 - y1)))


def _labels(
    sheet: Sheet,
    parts: tuple[Part, ...],
    arrows: dict[str, Arrow],
    way_out: Arrow,
    weakest: Point | None,
) -> tuple[Label, ...]:
    wishes: list[Wish] = [*name_wishes(sheet), *load_wishes(sheet, arrows)]
    wishes += tension_wishes(sheet, parts)
    wishes += [weakest_wish(sheet, weakest)] if weakest is not None else []
    wishes.append(exit_wish(sheet, way_out))
    strokes = [(part.start, part.end) for part in parts]
    strokes += [(arrow.start, arrow.end) for arrow in (*arrows.values(), way_out)]
    reach = 2 * ANCHOR_REACH
    shapes = [box for stance in sheet.standing for box in stance.boxes(sheet.frame)]
    shapes += [Box.around((mark.x, mark.y), reach, reach) for mark in _marks(sheet)]
    shapes += [Box.around(arrow.end, HEAD, HEAD) for arrow in (*arrows.values(), way_out)]
    if weakest is not None:
        shapes.append(Box.around(weakest, reach, reach))
    return place_labels(wishes, Ground(sheet.frame.box, tuple(shapes), strokes_of(strokes)))
