"""Chart of a class: the share of the marks that each task earned, with its interval."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coursekit.drawing.canvas import BLUE, INK, SMALL_TEXT, as_png, as_svg, name_axes, new_chart

if TYPE_CHECKING:
    from matplotlib.figure import Figure

ROW, FRAME = 0.34, 1.2
"""Inches that the row of a task takes, and what stands round the rows."""


@dataclass(frozen=True)
class TaskBar:
    """One task: shares of 0 to 1, and the ends of the interval of those who have full marks."""

    name: str
    earned: float
    full_low: float
    full_high: float


@dataclass(frozen=True)
class TaskWords:
    """The words of the chart, to be translated."""

    title: str = "Marks earned by task"
    earned: str = "share of the marks earned; line: who has full marks, 95 % interval"
    described: str = "{name}: {earned} of the marks"


def task_chart(bars: Sequence[TaskBar], words: TaskWords | None = None) -> bytes:
    """Return the tasks of a paper as an SVG file, in their order from above."""
    words = words or TaskWords()
    return as_svg(_drawn(bars, words), words.title, describe_tasks(bars, words))


def task_chart_png(bars: Sequence[TaskBar], words: TaskWords | None = None) -> bytes:
    """Return the same chart as PNG, for a sheet that is printed."""
    return as_png(_drawn(bars, words or TaskWords()))


def describe_tasks(bars: Sequence[TaskBar], words: TaskWords | None = None) -> str:
    """Return in words what the chart shows.

    >>> describe_tasks([TaskBar("1. Weight", 0.5, 0.2, 0.8)])
    '1. Weight: 50 % of the marks.'
    """
    words = words or TaskWords()
    said = (words.described.format(name=bar.name, earned=_percent(bar.earned)) for bar in bars)
    return "; ".join(said) + "."


def _drawn(bars: Sequence[TaskBar], words: TaskWords) -> Figure:
    figure, axes = new_chart(FRAME + ROW * len(bars))
    for row, bar in enumerate(bars):
        axes.barh(row, bar.earned, height=0.55, color="white", edgecolor=BLUE, hatch="////")
        axes.plot([bar.full_low, bar.full_high], [row, row], color=INK, linewidth=1.6, marker="|")
    axes.set_yticks(range(len(bars)), [bar.name for bar in bars], fontsize=SMALL_TEXT)
    axes.set_ylim(len(bars) - 0.4, -0.6)
    axes.set_xlim(0, 1)
    axes.set_xticks([0, 0.25, 0.5, 0.75, 1], [_percent(tick / 4) for tick in range(5)])
    name_axes(axes, words.earned, "")
    return figure


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"
