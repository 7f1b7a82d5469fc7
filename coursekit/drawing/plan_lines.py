"""The lines of a rig on the sheet: parts, turns, loads, and where nobody stands."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from coursekit.drawing.plan_frame import Frame, Point, heading
from coursekit.drawing.plan_shapes import BODY_LENGTH, Stance
from coursekit.rigging.plan import LinePlan, plan_line, unit_vector
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import PlaceLoad, Solution

APART = 7.0
"""Units between two parts that run along each other."""
CORRIDOR = 15.0
"""Units to each side of the run beyond an end, which is drawn wider than a line is."""
ARROW = 38.0


@dataclass(frozen=True)
class Part:
    """One straight part of a line; `load` is its tension, None where it is not known.

    `side` points away from a part that runs beside it.
    """

    role: str
    start: Point
    end: Point
    load: float | None
    side: Point = (0.0, 0.0)


@dataclass(frozen=True)
class Arrow:
    """An arrow: the way out, or the load on a place."""

    kind: str
    start: Point
    end: Point


@dataclass(frozen=True)
class KeepOut:
    """Where nobody stands: all within `reach` of the paths, most of all in `dense`.

    `covers_sheet` says that the whole plan lies within it.
    """

    paths: tuple[str, ...]
    reach: float
    dense: tuple[str, ...]
    covers_sheet: bool


def laid_out(situation: Situation, rig: Rig | None) -> tuple[LinePlan, ...]:
    """Return the lines of a rig laid out on the ground."""
    return tuple(plan_line(situation, line) for line in (rig.lines if rig else ()))


def parts_of(plans: Sequence[LinePlan], solution: Solution | None, frame: Frame) -> list[Part]:
    """Return every part of every line; parts that run along each other lie side by side."""
    parts = []
    for number, plan in enumerate(plans):
        pull = None if solution is None else solution.lines[number].load
        points = [frame.place(at) for at in plan.positions]
        for (start, end), share in zip(pairwise(points), plan.tensions, strict=True):
            load = None if pull is None else pull * share
            parts.append(Part(plan.line.role, start, end, load))
    return _side_by_side(parts)


def load_arrow(place: PlaceLoad, at: Point) -> Arrow | None:
    """Return the load on a place as an arrow along its bearing."""
    if place.bearing is None:
        return None
    x, y = heading(unit_vector(place.bearing))
    return Arrow("load", rounded(at), rounded((at[0] + ARROW * x, at[1] + ARROW * y)))


def keep_out(
    plans: Sequence[LinePlan], standing: Sequence[Stance], stand_off: float, frame: Frame
) -> KeepOut:
    """Return the area within `stand_off` of any part of the rig, its vehicles included."""
    reach = round(stand_off * frame.scale, 1)
    lines = [[frame.place(at) for at in plan.positions] for plan in plans]
    used = {at.partition(".")[0] for plan in plans for at in plan.stations}
    bodies = [_spine(each, frame) for each in standing if f"{each.role}_vehicle" in used]
    dense = [polygon for line in lines for polygon in _dense(line, reach)]
    corners = [(x, y) for x in (0.0, frame.width) for y in (0.0, frame.height)]
    return KeepOut(
        tuple(path_of(line) for line in (*lines, *bodies)),
        reach,
        tuple(path_of(polygon) + "z" for polygon in dense),
        all(any(_distance(corner, line) <= reach for line in lines) for corner in corners),
    )


def path_of(points: Sequence[Point]) -> str:
    """Return a path through points.

    >>> path_of([(0.0, 1.0), (2.04, 3.0)])
    'M0,1L2,3'
    """
    return "M" + "L".join(f"{_short(x)},{_short(y)}" for x, y in points)


def rounded(point: Point) -> Point:
    """Return a point to a tenth of a unit."""
    return round(point[0], 1), round(point[1], 1)


def _short(number: float) -> str:
    return f"{round(number, 1) + 0.0:g}"


def _side_by_side(parts: Sequence[Part]) -> list[Part]:
    along: defaultdict[tuple[Point, ...], list[int]] = defaultdict(list)
    for number, part in enumerate(parts):
        along[tuple(sorted((rounded(part.start), rounded(part.end))))].append(number)
    moved = list(parts)
    for (one, other), numbers in along.items():
        length = math.dist(one, other)
        across = (other[1] - one[1]) / length, (one[0] - other[0]) / length
        for order, number in enumerate(numbers):
            moved[number] = _shifted(parts[number], across, order - (len(numbers) - 1) / 2)
    return moved


def _shifted(part: Part, across: Point, places: float) -> Part:
    """Return a part moved aside by so many places, and which side that is."""
    (x1, y1), (x2, y2) = part.start, part.end
    dx, dy = across[0] * places * APART, across[1] * places * APART
    sign = (places > 0) - (places < 0)
    return replace(
        part,
        start=rounded((x1 + dx, y1 + dy)),
        end=rounded((x2 + dx, y2 + dy)),
        side=(sign * across[0], sign * across[1]),
    )


def _spine(stance: Stance, frame: Frame) -> list[Point]:
    x, y = frame.place(stance.vehicle.at)
    dx, dy = stance.middle
    return [(x, y), (x + 2 * dx, y + 2 * dy)]


def _dense(line: Sequence[Point], reach: float) -> Iterator[list[Point]]:
    """Yield the inside of each angle, then the run beyond both ends."""
    for before, turn, after in zip(line, line[1:], line[2:], strict=False):
        yield [before, turn, after]
    for end, inner in ((line[0], line[1]), (line[-1], line[-2])):
        length = math.dist(end, inner)
        x, y = (end[0] - inner[0]) / length, (end[1] - inner[1]) / length
        # A vehicle may stand at the end, so the run goes on past it to the area's edge.
        run = reach + BODY_LENGTH
        far = (end[0] + run * x, end[1] + run * y)
        yield [
            (point[0] + side * CORRIDOR * y, point[1] - side * CORRIDOR * x)
            for point, side in ((end, 1), (far, 1), (far, -1), (end, -1))
        ]


def _distance(point: Point, line: Sequence[Point]) -> float:
    """Return how far a point lies from a path."""
    return min(_from_part(point, a, b) for a, b in pairwise(line))


def _from_part(point: Point, start: Point, end: Point) -> float:
    dx, dy = end[0] - start[0], end[1] - start[1]
    share = ((point[0] - start[0]) * dx + (point[1] - start[1]) * dy) / (dx * dx + dy * dy)
    share = min(1.0, max(0.0, share))
    return math.dist(point, (start[0] + share * dx, start[1] + share * dy))
