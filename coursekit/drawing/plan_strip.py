"""Below the map: north, slope, scale, and how far away people stand; and the contours."""

from __future__ import annotations

import math
from dataclasses import dataclass

from coursekit.drawing.plan_frame import Frame, heading
from coursekit.drawing.plan_lines import KeepOut, path_of
from coursekit.drawing.plan_sheet import Sheet
from coursekit.drawing.plan_words import PlanWords
from coursekit.quantities.display import show_given
from coursekit.quantities.units import Kind, si_factor, unit_of
from coursekit.rigging.plan import unit_vector
from coursekit.rigging.site import Ground

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


def strip_of(sheet: Sheet, notes: tuple[Note, ...]) -> Strip:
    """Return the strip of a sheet, with what its hatching means."""
    return Strip(
        sheet.words.north, _slope_sign(sheet), scale_bar(sheet.frame, sheet.shown.length), notes
    )


def scale_bar(frame: Frame, unit: str = "m") -> ScaleBar:
    """Return the longest round length that still fits.

    >>> scale_bar(Frame(10.0, 0.0, 0.0, 320.0, 200.0))
    ScaleBar(length=50.0, text='5 m')
    >>> scale_bar(Frame(10.0, 0.0, 0.0, 320.0, 200.0), "ft").text
    '20 ft'
    """
    lengths = [step * metres_of(unit) for step in _STEPS]
    length = max(
        (each for each in lengths if each * frame.scale <= LONGEST_BAR), default=lengths[0]
    )
    return ScaleBar(round(length * frame.scale, 1), show_given(length, Kind.LENGTH, unit))


def metres_of(unit: str) -> float:
    """Return how many metres a unit of length is.

    >>> metres_of("ft")
    0.3048
    """
    return float(si_factor(unit_of(unit), Kind.LENGTH))


def contour_paths(sheet: Sheet) -> tuple[str, ...]:
    """Return the contour lines of an even slope, one of them through the stuck vehicle."""
    frame, ground = sheet.frame, sheet.situation.ground
    level = sheet.situation.stuck.at
    interval = contour_interval(frame, ground, sheet.shown.length)
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


def contour_interval(frame: Frame, ground: Ground, unit: str = "m") -> float | None:
    """Return the fall in metres from one contour to the next, None on level ground.

    It is a round number of the unit.
    """
    if ground.slope <= 0.0 or ground.downhill is None:
        return None
    apart = frame.scale / math.tan(ground.slope)
    falls = [step * metres_of(unit) for step in _STEPS]
    return next((fall for fall in falls if fall * apart >= CLOSEST_CONTOURS), falls[-1])


def keep_out_notes(
    area: KeepOut | None, distance: str | None, words: PlanWords
) -> tuple[Note, ...]:
    """Return what the hatching means; the distance is left out where it is None."""
    if area is None:
        return ()
    never = Note("close", words.never)
    if distance is None:
        return Note("wide", words.keep_out_hidden), never
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


def _slope_sign(sheet: Sheet) -> SlopeSign:
    ground, words, unit = sheet.situation.ground, sheet.words, sheet.shown.length
    interval = contour_interval(sheet.frame, ground, unit)
    if interval is None or ground.downhill is None:
        return SlopeSign(None, (words.level,))
    height = show_given(interval, Kind.LENGTH, unit)
    lines = (words.slope.format(slope=sheet.slope), words.contours.format(height=height))
    return SlopeSign(round(math.degrees(ground.downhill) % 360.0, 1), lines)
