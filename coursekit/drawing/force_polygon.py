"""The force polygon of a place: its line parts head to tail, and the resultant that closes them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from coursekit.drawing.plan_frame import WIDTH, Box, Footprint, Frame, Point, frame_of
from coursekit.drawing.plan_labels import (
    Ground,
    Label,
    Wish,
    place_labels,
    spots_around,
    strokes_of,
)
from coursekit.mechanics.nomenclature import Newton
from coursekit.rigging.plan import Vector, dot, scaled, total

ROW = 42.0
"""Height of the row below, with north and the scale."""
LONGEST_BAR = 110.0
FLAT = 12.0
"""Strokes nearer to one line than this would lie on each other."""
LANE = 14.0
"""How far beside each other the strokes of a flat polygon stand."""
SHORTEST = 3.0
"""A shorter stroke is drawn as a point: it has no direction to show."""

# The frame is made for metres, a few tens of them: the longest reach becomes so many.
_REACH = 20.0
_ROOM = Box(-20.0, -12.0, 20.0, 12.0)


@dataclass(frozen=True)
class Stroke:
    """A side as it is drawn, in units; `kind` is "side" or "resultant"."""

    kind: str
    start: Point
    end: Point

    @property
    def is_point(self) -> bool:
        """Whether it is too short for an arrow."""
        return math.dist(self.start, self.end) < SHORTEST

    @property
    def middle(self) -> Point:
        """Its middle."""
        return (self.start[0] + self.end[0]) / 2, (self.start[1] + self.end[1]) / 2


@dataclass(frozen=True)
class ForcePolygon:
    """A force polygon in its place: strokes, labels, and the bar of `bar_force` newtons.

    A flat one has its strokes side by side; the others close head to tail.
    """

    width: float
    height: float
    strokes: tuple[Stroke, ...]
    labels: tuple[Label, ...]
    flat: bool
    scale: float
    bar_force: Newton

    @property
    def full_height(self) -> float:
        """The height with the row below."""
        return self.height + ROW

    @property
    def bar(self) -> float:
        """The length of the scale bar."""
        return round(self.bar_force * self.scale, 1)


def force_polygon(
    sides: Sequence[Vector], words: Sequence[tuple[str, ...]], unit: Newton
) -> ForcePolygon | None:
    """Return the polygon of some forces (east and north, N); None where there are none.

    `words` are the lines of each side's label, then the resultant's.  The scale
    bar is a round number of `unit`, in newtons.

    Source: the force polygon of graphic statics.  Limits: forces on the plan.

    >>> drawn = force_polygon([(0.0, 4e3), (3e3, 0.0)], [("1",), ("2",), ("both",)], 1e3)
    >>> drawn.bar_force, len(drawn.strokes), drawn.flat
    (1000.0, 3, False)
    """
    corners = list(accumulate(sides, lambda one, other: total((one, other)), initial=(0.0, 0.0)))
    reach = max(math.dist(one, other) for one in corners for other in corners)
    if reach == 0.0:
        return None
    lanes = _lanes(corners, reach)
    frame = _frame(corners, reach)
    scale = frame.scale * _REACH / reach
    strokes = _strokes([frame.place(scaled(at, _REACH / reach)) for at in corners], lanes)
    return ForcePolygon(
        frame.width,
        frame.height,
        strokes,
        _labels(strokes, words, frame.box),
        any(any(lane) for lane in lanes),
        scale,
        round_force(LONGEST_BAR / scale, unit),
    )


def round_force(most: Newton, unit: Newton) -> Newton:
    """Return the largest force of 1, 2 or 5 times a power of ten of the unit that is in bounds.

    >>> round_force(7300.0, 1000.0), round_force(430.0, 1000.0)
    (5000.0, 200.0)
    """
    power = 10.0 ** math.floor(math.log10(most / unit))
    return (
        unit * power * max(step for step in (1, 2, 5) if step == 1 or step * power * unit <= most)
    )


def _frame(corners: Sequence[Vector], reach: Newton) -> Frame:
    return frame_of(Footprint(scaled(corner, _REACH / reach), _ROOM) for corner in corners)


def _lanes(corners: Sequence[Vector], reach: Newton) -> list[Point]:
    """Return how far each stroke, the resultant last, stands beside its true place.

    Only the strokes of a flat polygon do: forward ones stay, backward ones and
    the resultant take lanes of their own.
    """
    one, other = max(((a, b) for a in corners for b in corners), key=lambda pair: math.dist(*pair))
    way = scaled((other[0] - one[0], other[1] - one[1]), 1.0 / reach)
    across = (way[1], -way[0])
    offs = [dot((at[0] - one[0], at[1] - one[1]), across) for at in corners]
    if max(offs) > -min(offs):
        # The lanes stand on the side to which the corners don't bend.
        across = scaled(across, -1.0)
    if (max(offs) - min(offs)) / reach * (WIDTH - 60.0) >= FLAT:
        return [(0.0, 0.0)] * len(corners)
    runs = [dot(b, way) - dot(a, way) for a, b in pairwise(corners)]
    turns_back = min(runs) < 0.0 < max(runs)
    numbers = [int(turns_back and run < 0.0) for run in runs]
    # Across on the ground is up or down on the sheet: its second part changes sign.
    return [
        (number * LANE * across[0], -number * LANE * across[1])
        for number in (*numbers, 1 + turns_back)
    ]


def _strokes(points: Sequence[Point], lanes: Sequence[Point]) -> tuple[Stroke, ...]:
    ends = [*(("side", a, b) for a, b in pairwise(points)), ("resultant", points[0], points[-1])]
    return tuple(
        Stroke(kind, _moved(start, lane), _moved(end, lane))
        for (kind, start, end), lane in zip(ends, lanes, strict=True)
    )


def _moved(point: Point, by: Point) -> Point:
    return round(point[0] + by[0], 1), round(point[1] + by[1], 1)


def _labels(
    strokes: Sequence[Stroke], words: Sequence[tuple[str, ...]], sheet: Box
) -> tuple[Label, ...]:
    wishes = [
        Wish(stroke.kind, lines, stroke.middle, spots_around(stroke.middle, lines, 4.0))
        for stroke, lines in zip(strokes, words, strict=True)
    ]
    inked = strokes_of((stroke.start, stroke.end) for stroke in strokes)
    return place_labels(wishes, Ground(sheet, (), inked))
