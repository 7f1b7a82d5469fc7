"""The strip: every answer to one quantity as a shape between the truth and the usual mistakes.

It only places things; words, numbers and units come from the caller.  Lengths
are units of the drawing, one of them about a pixel of a phone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import count
from math import inf
from textwrap import wrap

WIDTH = 360.0
MARGIN = 16.0
RADIUS = 4.4
# Shapes that stand side by side just touch.
PITCH = 2 * RADIUS + 0.6
ROOM_ABOVE = 12.0
LINE = 19.0
# How wide a letter is on the average, in the size of the labels.
LETTER = 8.2
LONGEST_LINE = int(WIDTH / LETTER)
# In shares of the truth: beyond the farthest all stand at the right end, behind a
# break of the axis; short of the nearest they are told, not drawn.
NEAREST, FARTHEST = -0.5, 3.0
BREAK = 34.0


@dataclass(frozen=True)
class Landmark:
    """A value with its words: the truth, or where a usual mistake leads."""

    value: float
    text: str


@dataclass(frozen=True)
class Answered:
    """One answer: its value, and its kind `right`, `slip` or `other`."""

    value: float
    kind: str


@dataclass(frozen=True)
class Shape:
    """Where an answer stands."""

    x: float
    y: float
    kind: str


@dataclass(frozen=True)
class Label:
    """The words of a landmark, and the line that leads to them."""

    lines: tuple[tuple[str, float], ...]
    x: float
    tick: float
    leader: float
    is_truth: bool


@dataclass(frozen=True)
class Strip:
    """A whole strip, ready to be drawn.

    `gap` is where the axis breaks, None where it doesn't; `beyond` counts what
    is not drawn.
    """

    height: float
    base: float
    band: tuple[float, float]
    shapes: tuple[Shape, ...]
    labels: tuple[Label, ...]
    gap: float | None
    beyond: int
    width: float = WIDTH
    radius: float = RADIUS


def lay_out(
    answers: Sequence[Answered],
    truth: Landmark,
    band: tuple[float, float],
    slips: Sequence[Landmark] = (),
) -> Strip:
    """Return where everything stands on the strip.

    >>> strip = lay_out([Answered(100.0, "right")] * 2, Landmark(100.0, "truth"), (95.0, 105.0))
    >>> [shape.y < strip.base for shape in strip.shapes], strip.beyond
    ([True, True], 0)
    """
    drawn = [a for a in answers if not _is_off(a.value, truth.value)]
    marks = [truth, *(slip for slip in slips if not _is_off(slip.value, truth.value))]
    scale = _scale([*(m.value for m in marks), *(a.value for a in drawn), *band], truth.value)
    heap = _heap([(scale.x(a.value), a.kind) for a in drawn])
    base = ROOM_ABOVE + PITCH * max((level for _, level, _ in heap), default=0) + PITCH
    labels = _labels([(scale.x(mark.value), mark) for mark in marks], base)
    return Strip(
        height=max(label.lines[-1][1] for label in labels) + 7.0,
        base=base,
        band=(scale.x(band[0]), scale.x(band[1]) - scale.x(band[0])),
        shapes=tuple(Shape(x, base - PITCH * (level + 0.5), kind) for x, level, kind in heap),
        labels=labels,
        gap=WIDTH - MARGIN - BREAK / 2 if scale.is_broken else None,
        beyond=len(answers) - len(drawn),
    )


@dataclass(frozen=True)
class _Scale:
    lowest: float
    highest: float
    farthest: float
    is_broken: bool

    def x(self, value: float) -> float:
        if value > self.farthest:
            return WIDTH - MARGIN
        end = WIDTH - MARGIN - (BREAK if self.is_broken else 0.0)
        share = (value - self.lowest) / ((self.highest - self.lowest) or 1.0)
        return round(MARGIN + share * (end - MARGIN), 1)


def _scale(values: Iterable[float], truth: float) -> _Scale:
    farthest = FARTHEST * truth if truth > 0.0 else inf
    found = sorted(values)
    near = [value for value in found if value <= farthest]
    return _Scale(near[0], near[-1], farthest, is_broken=len(near) < len(found))


def _is_off(value: float, truth: float) -> bool:
    """Whether a value is told and not drawn; a truth below nothing has no break of the axis."""
    if truth > 0.0:
        return value < NEAREST * truth
    return truth < 0.0 and not NEAREST <= value / truth <= FARTHEST


def _heap(shapes: Iterable[tuple[float, str]]) -> list[tuple[float, int, str]]:
    """Put each shape on the lowest level where it touches no other."""
    placed: list[tuple[float, int, str]] = []
    for x, kind in sorted(shapes):
        taken = {level for other, level, _ in placed if abs(other - x) < PITCH}
        placed.append((x, next(level for level in count() if level not in taken), kind))
    return placed


def _labels(marks: Sequence[tuple[float, Landmark]], base: float) -> tuple[Label, ...]:
    """Put the words of each landmark below its tick, in rows where they don't meet."""
    rows: list[_Row] = []
    labels = []
    for place, (x, mark) in enumerate(marks):
        texts = wrap(mark.text, LONGEST_LINE)
        half = max(map(len, texts)) * LETTER / 2
        middle = min(max(x, half), WIDTH - half)
        top = base + LINE * _free_row(rows, middle - half, middle + half, len(texts))
        lines = tuple((text, top + LINE * (n + 1)) for n, text in enumerate(texts))
        labels.append(Label(lines, round(middle, 1), x, top + 6.0, is_truth=place == 0))
    return tuple(labels)


@dataclass
class _Row:
    """A line of words below the strip, and which stretches of it are taken."""

    taken: list[tuple[float, float]] = field(default_factory=list)

    def is_free(self, left: float, right: float) -> bool:
        return all(right < other[0] or left > other[1] for other in self.taken)


def _free_row(rows: list[_Row], left: float, right: float, lines: int) -> int:
    """Take the first run of rows that is free from left to right, and return its first."""
    for first in count():
        while len(rows) < first + lines:
            rows.append(_Row())
        run = rows[first : first + lines]
        if all(row.is_free(left, right) for row in run):
            for row in run:
                row.taken.append((left, right))
            return first
    raise AssertionError(rows)
