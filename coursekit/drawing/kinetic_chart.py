"""The force in the rope of a snatch over time, against what the rig can take."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coursekit.drawing.canvas import (
    BLUE,
    GREEN,
    HEIGHT,
    INK,
    SOFT,
    TEXT,
    VERMILLION,
    add_key,
    as_svg,
    name_axes,
    new_chart,
    strip_below,
)
from coursekit.quantities.display import show, show_load, show_pair
from coursekit.quantities.units import Kind, in_unit

if TYPE_CHECKING:
    from matplotlib.axes import Axes

FAR = 1e3
"""How many limits high the area over the limit is: beyond any sheet."""
STRIP = 1.3
"""Height of the strip of speeds and its key, in inches."""
HEADROOM = 1.12
"""Room above the highest line, as a share of it."""


@dataclass(frozen=True)
class SpeedWindow:
    """The closing speed of a snatch in the window of speeds, in m/s, shown in `unit`.

    `lowest` breaks the vehicle out, `highest` brings the design load up to the
    smallest limit; None where none does, or nothing has a limit.
    """

    speed: float
    lowest: float | None
    highest: float | None
    unit: str = "m/s"

    @property
    def is_open(self) -> bool:
        """Whether some speed breaks out and stays within the limits."""
        both = self.lowest is not None and self.highest is not None
        return both and (self.lowest or 0.0) <= (self.highest or 0.0)

    def shown(self, speed: float) -> float:
        """Return a speed in the unit of the chart."""
        return in_unit(speed, self.unit, Kind.SPEED)


@dataclass(frozen=True)
class SnatchLoads:
    """What a kinetic pull does: the force over time, and the loads to hold it against.

    Seconds and newtons, shown in `unit`.  `limit` is the smallest in the load path,
    `weakest` the item that it belongs to; None where no item has one.
    """

    times: Sequence[float]
    forces: Sequence[float]
    resistance: float
    peak: float
    design: float
    limit: float | None = None
    weakest: str = ""
    unit: str = "kN"
    window: SpeedWindow | None = None

    def shown(self, newtons: float) -> float:
        """Return a force in the unit of the chart."""
        return in_unit(newtons, self.unit, Kind.FORCE)


@dataclass(frozen=True)
class SnatchWords:
    """The words of the chart, with the numbers left open, to be translated."""

    title: str = "Force in the rope"
    within: str = "The design load is within the smallest limit"
    over: str = "The design load is over the smallest limit"
    unknown: str = "No item of the load path has a limit"
    breaks_out: str = "The vehicle comes free"
    stays: str = "The vehicle stays stuck"
    time: str = "time from when the rope comes taut, s"
    force: str = "force, {unit}"
    rope: str = "rope, peak {load}"
    resistance: str = "resistance {load}"
    design: str = "design load {load}"
    limit: str = "smallest limit {load}, {item}"
    beyond: str = "over the limit"
    speed: str = "closing speed, {unit}"
    driven: str = "this pull {speed}"
    window: str = "window of speeds {lowest} to {highest}"
    no_window: str = "no window of speeds"


def kinetic_chart(snatch: SnatchLoads, words: SnatchWords | None = None) -> bytes:
    """Return the chart as an SVG file, the same bytes for the same snatch."""
    words = words or SnatchWords()
    figure, axes = new_chart(HEIGHT if snatch.window is None else HEIGHT + STRIP)
    if snatch.window is not None:
        _draw_window(strip_below(figure, axes, STRIP / HEIGHT), snatch.window, words)
    _draw_force(axes, snatch, words)
    _draw_loads(axes, snatch, words)
    top = max(snatch.peak, snatch.design, snatch.resistance, snatch.limit or 0.0)
    axes.set_ylim(0.0, HEADROOM * snatch.shown(top) or 1.0)
    axes.set_xlim(0.0, max(snatch.times[-1], 1e-3))
    name_axes(axes, words.time, words.force.format(unit=snatch.unit))
    add_key(figure)
    return as_svg(figure, words.title, describe_snatch(snatch, words))


def describe_snatch(snatch: SnatchLoads, words: SnatchWords | None = None) -> str:
    """Return in words what the chart shows, for those who do not see it.

    >>> describe_snatch(SnatchLoads((0.0, 0.1), (0.0, 3e4), 2e4, 3e4, 3.9e4, 4.5e4, "rope-k"))
    'The vehicle comes free: rope, peak 30.0 kN, resistance 20.0 kN. The design load is within the
    smallest limit: design load 39.0 kN, smallest limit 45.0 kN, rope-k.'
    """
    words = words or SnatchWords()
    moved = words.breaks_out if snatch.peak > snatch.resistance else words.stays
    rope, resistance, design, *limit = _phrases(snatch, words)
    judged = ", ".join([design, *limit])
    told = f"{moved}: {rope}, {resistance}. {_verdict(snatch, words)}: {judged}."
    if snatch.window is None:
        return told
    driven, window = _speeds(snatch.window, words)
    return f"{told} {driven[:1].upper()}{driven[1:]}; {window}."


def _speeds(window: SpeedWindow, words: SnatchWords) -> tuple[str, str]:
    driven = words.driven.format(speed=show(window.speed, Kind.SPEED, window.unit))
    if not window.is_open:
        return driven, words.no_window
    lowest = show(window.lowest or 0.0, Kind.SPEED, window.unit, "up")
    highest = show(window.highest or 0.0, Kind.SPEED, window.unit, "down")
    return driven, words.window.format(lowest=lowest, highest=highest)


def _verdict(snatch: SnatchLoads, words: SnatchWords) -> str:
    if snatch.limit is None:
        return words.unknown
    return words.within if snatch.design <= snatch.limit else words.over


def _phrases(snatch: SnatchLoads, words: SnatchWords) -> list[str]:
    rope = words.rope.format(load=show_load(snatch.peak, snatch.unit))
    resistance = words.resistance.format(load=show_load(snatch.resistance, snatch.unit))
    if snatch.limit is None:
        return [rope, resistance, words.design.format(load=show_load(snatch.design, snatch.unit))]
    design, limit = show_pair(snatch.design, snatch.limit, snatch.unit)
    return [
        rope,
        resistance,
        words.design.format(load=design),
        words.limit.format(load=limit, item=snatch.weakest),
    ]


def _draw_window(axes: Axes, window: SpeedWindow, words: SnatchWords) -> None:
    """Draw the speeds along a strip: the window as a band, this pull as a mark on it."""
    driven, told = _speeds(window, words)
    ends = [window.shown(end) for end in (window.lowest, window.highest) if end is not None]
    if window.is_open:
        axes.axvspan(ends[0], ends[-1], color=GREEN, alpha=0.45, label=told)
    else:
        axes.plot([], [], " ", label=told)
    axes.plot(window.shown(window.speed), 0.5, "v", color=INK, markersize=10, label=driven)
    axes.set_xlim(0.0, HEADROOM * max([window.shown(window.speed), *ends, 1e-3]))
    axes.set_ylim(0.0, 1.0)
    axes.set_yticks([])
    axes.set_xlabel(words.speed.format(unit=window.unit), fontsize=TEXT, color=INK)


def _draw_force(axes: Axes, snatch: SnatchLoads, words: SnatchWords) -> None:
    forces = [snatch.shown(force) for force in snatch.forces]
    axes.plot(snatch.times, forces, color=BLUE, linewidth=3, label=_phrases(snatch, words)[0])
    highest = max(range(len(forces)), key=forces.__getitem__)
    axes.plot(snatch.times[highest], forces[highest], "o", color=BLUE, markersize=9,
              clip_on=False)  # fmt: skip


def _draw_loads(axes: Axes, snatch: SnatchLoads, words: SnatchWords) -> None:
    _, resistance, design, *limit = _phrases(snatch, words)
    axes.axhline(snatch.shown(snatch.resistance), color=SOFT, linestyle=":", linewidth=2.5,
                 label=resistance)  # fmt: skip
    axes.axhline(snatch.shown(snatch.design), color=INK, linestyle="--", linewidth=2, label=design)
    if snatch.limit is not None:
        safe = snatch.design <= snatch.limit
        limit_shown = snatch.shown(snatch.limit)
        axes.axhline(limit_shown, color=GREEN if safe else VERMILLION, linestyle="-.",
                     linewidth=2.5, label=limit[0])  # fmt: skip
        axes.axhspan(limit_shown, FAR * limit_shown, facecolor="none",
                     edgecolor=VERMILLION, hatch="//", linewidth=0, alpha=0.6,
                     label=words.beyond)  # fmt: skip
