"""Below the map: north, slope, scale, and how far away people stand; and the contours."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coursekit.drawing.plan_frame import Frame, heading
from coursekit.drawing.plan_lines import KeepOut, path_of
from coursekit.drawing.plan_words import PlanWords
from coursekit.quantities.display import show, show_given
from coursekit.quantities.units import Kind
from coursekit.rigging.plan import unit_vector
from coursekit.rigging.site import Ground
from coursekit.rigging.vehicle import Position

ROW = 42.0
"""Height of the row that north, slope and scale share."""
NOTE_ROW = 18.0
FOOT = 6.0
LONGEST_BAR = 84.0
CLOSEST_CONTOURS = 16.0
_STEPS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)


@dataclass(frozen=True)
class ScaleBar:
    """A bar as long as its text says."""

    length: float
    text: str


@dataclass(frozen=True)
class SlopeSign:
    """An arrow straight down the slope, and how steep it is; no turn on level ground."""

    turn: float | None
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Note:
    """What a hatching means; `hatch` is empty for a second line of the same."""

    hatch: str
    text: str


@dataclass(frozen=True)
class Strip:
    """What stands below the map."""

    north: str
    slope: SlopeSign
    scale: ScaleBar
    notes: tuple[Note, ...]

    @property
    def height(self) -> float:
        """Its height, with a row for each note."""
        return ROW + NOTE_ROW * len(self.notes) + FOOT


def strip_of(
    frame: Frame, ground: Ground, slope: str, notes: tuple[Note, ...], words: PlanWords
) -> Strip:
    """Return the strip; `slope` is the slope as given."""
    return Strip(words.north, _slope_sign(frame, ground, slope, words), scale_bar(frame), notes)


def scale_bar(frame: Frame) -> ScaleBar:
    """Return the longest round length that still fits.

    >>> scale_bar(Frame(10.0, 0.0, 0.0, 320.0, 200.0))
    ScaleBar(length=50.0, text='5 m')
    """
    metres = max((step for step in _STEPS if step * frame.scale <= LONGEST_BAR), default=_STEPS[0])
    return ScaleBar(round(metres * frame.scale, 1), show_given(metres, Kind.LENGTH, "m"))


def contour_paths(frame: Frame, ground: Ground, level: Position) -> tuple[str, ...]:
    """Return the contour lines of an even slope, one of them through `level`."""
    interval = contour_interval(frame, ground)
    if interval is None or ground.downhill is None:
        return ()
    spacing = interval / math.tan(ground.slope) * frame.scale
    x, y = heading(unit_vector(ground.downhill))
    far = math.hypot(frame.width, frame.height)
    middle = frame.place(level)
    first, last = _reach(frame, (x, y), middle, spacing)
    lines = []
    for number in range(first, last + 1):
        at = middle[0] + x * spacing * number, middle[1] + y * spacing * number
        lines.append(
            path_of([(at[0] - y * far, at[1] + x * far), (at[0] + y * far, at[1] - x * far)])
        )
    return tuple(lines)


def contour_interval(frame: Frame, ground: Ground) -> float | None:
    """Return the fall in metres from one contour to the next, None on level ground."""
    if ground.slope <= 0.0 or ground.downhill is None:
        return None
    apart = frame.scale / math.tan(ground.slope)
    return next((step for step in _STEPS if step * apart >= CLOSEST_CONTOURS), _STEPS[-1])


def keep_out_notes(
    area: KeepOut | None, stand_off: float | None, words: PlanWords
) -> tuple[Note, ...]:
    """Return what the hatching means; the distance is left out where it is None."""
    if area is None:
        return ()
    never = Note("close", words.never)
    if stand_off is None:
        return Note("wide", words.keep_out_hidden), never
    distance = show(stand_off, Kind.LENGTH, "m", "up")
    within = Note("wide", words.keep_out.format(distance=distance))
    farther = (Note("", words.farther),) if area.covers_sheet else ()
    return (within, *farther, never)


def _reach(
    frame: Frame, down: tuple[float, float], middle: tuple[float, float], spacing: float
) -> tuple[int, int]:
    """Return the numbers of the first and last contour that cross the sheet."""
    falls = [
        ((corner_x - middle[0]) * down[0] + (corner_y - middle[1]) * down[1]) / spacing
        for corner_x in (0.0, frame.width)
        for corner_y in (0.0, frame.height)
    ]
    return math.ceil(min(falls)), math.floor(max(falls))


def _slope_sign(frame: Frame, ground: Ground, slope: str, words: PlanWords) -> SlopeSign:
    interval = contour_interval(frame, ground)
    if interval is None or ground.downhill is None:
        return SlopeSign(None, (words.level,))
    height = show_given(interval, Kind.LENGTH, "m")
    lines = (words.slope.format(slope=slope), words.contours.format(height=height))
    return SlopeSign(round(math.degrees(ground.downhill) % 360.0, 1), lines)
