"""The force that a load cell measured over time, with the solved one laid over it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from coursekit.drawing.canvas import (
    BLUE,
    SOFT,
    VERMILLION,
    add_key,
    as_svg,
    name_axes,
    new_chart,
)
from coursekit.mechanics.trace import ForceTrace
from coursekit.quantities.display import show_load
from coursekit.quantities.units import Kind, in_unit

if TYPE_CHECKING:
    from matplotlib.axes import Axes

HEADROOM = 1.1
"""Room above the highest line, as a share of it."""


@dataclass(frozen=True)
class CellLoads:
    """What a cell measured and what was solved where it sat, shown in `unit`.

    `curve` is the solved force over time, None where only its peak, `solved`, is known. [N].
    """

    measured: ForceTrace
    solved: float
    curve: ForceTrace | None = None
    unit: str = "kN"

    def shown(self, newtons: float) -> float:
        """Return a force in the unit of the chart."""
        return in_unit(newtons, self.unit, Kind.FORCE)


@dataclass(frozen=True)
class CellWords:
    """The words of the chart, with the numbers left open, to be translated."""

    title: str = "Measured and solved force"
    time: str = "time, s"
    force: str = "force, {unit}"
    measured: str = "measured, peak {load}"
    solved: str = "solved, peak {load}"
    at: str = "the peak comes {time} s after the first reading"


def cell_chart(loads: CellLoads, words: CellWords | None = None) -> bytes:
    """Return the chart as an SVG file, the same bytes for the same pull."""
    words = words or CellWords()
    figure, axes = new_chart()
    measured, solved = _phrases(loads, words)
    _draw_solved(axes, loads, solved)
    trace = loads.measured
    axes.plot(trace.times, [loads.shown(force) for force in trace.forces], color=BLUE,
              linewidth=2, label=measured)  # fmt: skip
    axes.plot(trace.peak_time, loads.shown(trace.peak), "o", color=BLUE, markersize=9,
              clip_on=False)  # fmt: skip
    lowest = min(0.0, float(trace.forces.min()))
    axes.set_ylim(HEADROOM * loads.shown(lowest), HEADROOM * loads.shown(_top(loads)))
    axes.set_xlim(0.0, float(trace.times[-1]))
    name_axes(axes, words.time, words.force.format(unit=loads.unit))
    add_key(figure)
    return as_svg(figure, words.title, describe_cell(loads, words))


def describe_cell(loads: CellLoads, words: CellWords | None = None) -> str:
    """Return in words what the chart shows, for those who do not see it.

    >>> import numpy as np
    >>> pull = ForceTrace(np.array([0.0, 0.5, 1.0]), np.array([0.0, 2.1e4, 3e3]))
    >>> describe_cell(CellLoads(pull, 2e4))
    'Measured, peak 21.0 kN; solved, peak 20.0 kN; the peak comes 0.5 s after the first reading.'
    """
    words = words or CellWords()
    at = words.at.format(time=f"{loads.measured.peak_time:.3g}")
    told = "; ".join((*_phrases(loads, words), at))
    return f"{told[:1].upper()}{told[1:]}."


def _top(loads: CellLoads) -> float:
    return max(loads.measured.peak, loads.solved)


def _phrases(loads: CellLoads, words: CellWords) -> tuple[str, str]:
    return (
        words.measured.format(load=show_load(loads.measured.peak, loads.unit)),
        words.solved.format(load=show_load(loads.solved, loads.unit)),
    )


def _draw_solved(axes: Axes, loads: CellLoads, label: str) -> None:
    """Draw the solved curve so that both peaks stand at one time, else the solved level."""
    if loads.curve is None:
        axes.axhline(loads.shown(loads.solved), color=VERMILLION, linestyle="--", linewidth=2.5,
                     label=label)  # fmt: skip
        return
    later = loads.measured.peak_time - loads.curve.peak_time
    forces = [loads.shown(force) for force in loads.curve.forces]
    axes.plot(loads.curve.times + later, forces, color=VERMILLION, linestyle="--",
              linewidth=2.5, label=label)  # fmt: skip
    axes.axhline(0.0, color=SOFT, linewidth=0.8)
