"""Where the words of the plan go: near what they name, over nothing else.

Each label has a list of spots, the best first; the cheapest takes it.  Covering
another label costs more than any distance, so labels overlap only on a sheet
with no room left.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from coursekit.drawing.plan_frame import Box, Point

TEXT = 13.0
"""Height of the text, in units; see `plan_frame.WIDTH`."""
LINE = 16.0
BORDER = 4.0
GAP = 2.0
EDGE = 3.0
FAR = 16.0
"""A label that stands this far off is tied to what it names by a leader."""

# Widths over height, on the wide side of the usual system fonts.
_WIDTHS = {
    **dict.fromkeys("iljtfrI.,:;'|!()[]-/ ", 0.42),
    **dict.fromkeys("mwMW@%", 0.98),
    **dict.fromkeys("ABCDEFGHJKLNOPQRSTUVXYZ", 0.75),
}
_OTHER = 0.63

_LABEL_COST, _OUTSIDE_COST, _SHAPE_COST, _STROKE_COST = 1e6, 1e5, 1e3, 15.0
_RINGS = (0.0, 9.0, 18.0, 30.0, 45.0, 65.0, 90.0, 120.0)
_SIDES = tuple(math.radians(15 * turn) for turn in (
    6, 18, 0, 12, 3, 9, 15, 21, 5, 7, 17, 19, 1, 23, 11, 13, 4, 8, 16, 20, 2, 22, 10, 14
))  # fmt: skip


@dataclass(frozen=True)
class Wish:
    """A label that wants a place: its lines, what it names, and the spots it would take.

    What it names reaches `clear` round the subject; its first `strong` lines are names.
    """

    kind: str
    lines: tuple[str, ...]
    subject: Point
    spots: tuple[Point, ...]
    clear: float = 0.0
    strong: int = 0
    may_cross: bool = False


@dataclass(frozen=True)
class Label:
    """A label in its place; `leader` is a line to what it names, where that is far off.

    It `clashes` where the sheet has no room to keep it clear of shapes and labels.
    """

    kind: str
    lines: tuple[str, ...]
    box: Box
    leader: tuple[Point, Point] | None = None
    strong: int = 0
    clashes: bool = False

    @property
    def rows(self) -> tuple[tuple[str, float, bool], ...]:
        """Each line, the height of its foot, and whether it is a name; centred on the box."""
        top = self.box.top + BORDER / 2
        return tuple(
            (text, round(top + LINE * (i + 0.78), 1), i < self.strong)
            for i, text in enumerate(self.lines)
        )

    @property
    def centre(self) -> float:
        """The middle across."""
        return round(self.box.middle[0], 1)


@dataclass(frozen=True)
class Ground:
    """What labels must not cover: shapes never, strokes only where it can't be helped."""

    sheet: Box
    shapes: tuple[Box, ...]
    strokes: tuple[Point, ...]


def text_width(text: str) -> float:
    """Return how wide a text is drawn at most.

    >>> text_width("9.35 kN") < text_width("loaded utility")
    True
    """
    return TEXT * sum(_WIDTHS.get(letter, _OTHER) for letter in text)


def size_of(lines: Sequence[str]) -> tuple[float, float]:
    """Return the width and height of a label with its border."""
    return max(map(text_width, lines)) + 2 * BORDER, LINE * len(lines) + BORDER


def spots_around(point: Point, lines: Sequence[str], clear: float) -> tuple[Point, ...]:
    """Return middles for a label round a point, `clear` of it: near before far, below first."""
    width, height = size_of(lines)
    return tuple(
        (
            point[0] + math.cos(side) * (clear + ring + width / 2),
            point[1] + math.sin(side) * (clear + ring + height / 2),
        )
        for ring in _RINGS
        for side in _SIDES
    )


def spots_along(
    start: Point, end: Point, lines: Sequence[str], side: Point = (0.0, 0.0)
) -> tuple[Point, ...]:
    """Return middles for a label on a line part, its middle first; then beside it.

    `side` is the side on which it stands even at first, where parts run side by side.
    """
    shares = (0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74)
    width, height = size_of(lines)
    off = abs(side[0]) * width / 2 + abs(side[1]) * height / 2 + BORDER
    on = tuple(
        (x + side[0] * off, y + side[1] * off)
        for x, y in (_between(start, end, share) for share in shares)
    )
    if any(side):
        return (*on, *spots_around(on[0], lines, BORDER))
    return (*on, *(spot for middle in on[:3] for spot in spots_around(middle, lines, 4.0)))


def along(start: Point, end: Point, step: float = 6.0) -> Iterator[Point]:
    """Yield points of a stroke, close enough that no label slips between them."""
    count = max(1, int(math.dist(start, end) // step))
    yield from (_between(start, end, i / count) for i in range(count + 1))


def strokes_of(paths: Iterable[Sequence[Point]]) -> tuple[Point, ...]:
    """Return the points of all strokes of some paths."""
    return tuple(point for path in paths for a, b in pairwise(path) for point in along(a, b))


def place_labels(wishes: Iterable[Wish], ground: Ground) -> tuple[Label, ...]:
    """Return every label in its place, the first wishes served first."""
    placed: list[Label] = []
    for wish in wishes:
        placed.append(_placed(wish, ground, [label.box for label in placed]))
    return tuple(placed)


def _placed(wish: Wish, ground: Ground, taken: Sequence[Box]) -> Label:
    width, height = size_of(wish.lines)
    best, least = ground.sheet, math.inf
    for order, spot in enumerate(wish.spots):
        if order >= least:
            break
        box = _inside(Box.around(spot, width, height), ground.sheet)
        cost = order + _cost(box, wish, ground, taken)
        if cost < least:
            best, least = box, cost
    rounded = Box(*(round(side, 1) for side in (best.left, best.top, best.right, best.bottom)))
    return Label(
        wish.kind, wish.lines, rounded, _leader(wish, rounded), wish.strong, least >= _SHAPE_COST
    )


def _cost(box: Box, wish: Wish, ground: Ground, taken: Sequence[Box]) -> float:
    around = box.grown(GAP)
    cost = _LABEL_COST * sum(around.meets(other) for other in taken)
    cost += _SHAPE_COST * sum(around.meets(shape) for shape in ground.shapes)
    cost += 0.0 if ground.sheet.holds(box) else _OUTSIDE_COST
    if wish.may_cross:
        return cost
    inside = (around.left < x < around.right and around.top < y < around.bottom
              for x, y in ground.strokes)  # fmt: skip
    return cost + _STROKE_COST * sum(inside)


def _inside(box: Box, sheet: Box) -> Box:
    """Push a box that hangs over the edge back onto the sheet."""
    x, y = box.middle
    across = (sheet.left + box.width / 2 + EDGE, sheet.right - box.width / 2 - EDGE)
    down = (sheet.top + box.height / 2 + EDGE, sheet.bottom - box.height / 2 - EDGE)
    middle = min(max(x, across[0]), across[1]), min(max(y, down[0]), down[1])
    return Box.around(middle, box.width, box.height)


def _leader(wish: Wish, box: Box) -> tuple[Point, Point] | None:
    foot = box.nearest(wish.subject)
    away = math.dist(foot, wish.subject)
    if away <= wish.clear + FAR:
        return None
    return _rounded(_between(wish.subject, foot, wish.clear / away)), _rounded(foot)


def _between(start: Point, end: Point, share: float) -> Point:
    return start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1])


def _rounded(point: Point) -> Point:
    return round(point[0], 1), round(point[1], 1)
