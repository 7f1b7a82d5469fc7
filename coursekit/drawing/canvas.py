"""The sheet that every chart is drawn on: its size, its colours, its SVG."""

from __future__ import annotations

import re
from html import escape
from io import BytesIO
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

# Okabe and Ito's colours, told apart by people who see red and green alike.
# Source: Okabe, Ito, "Color Universal Design", 2008.
BLUE = "#0072b2"
VERMILLION = "#d55e00"
ORANGE = "#e69f00"
GREEN = "#009e73"
INK = "#16191d"
SOFT = "#565c64"
RULE = "#d5d2c8"

# 360 points wide: on a phone one point is one CSS pixel, so 12 stays 12.
WIDTH, HEIGHT = 5.0, 4.4
TEXT = 12.5
SMALL_TEXT = 12.0

_STYLE = re.compile(r' style="([^"]*)"')
_SHEET = re.compile(r"<style[^>]*>.*?</style>\s*", re.DOTALL)


def new_chart(height: float = HEIGHT) -> tuple[Figure, Axes]:
    """Return an empty chart, laid out so that nothing overlaps."""
    # Loading matplotlib takes a second, so it waits for the first chart.
    import matplotlib as mpl
    from matplotlib.figure import Figure

    # Ids in the file come from this salt: the same chart has the same bytes.
    mpl.rcParams.update({"svg.hashsalt": "coursekit", "hatch.linewidth": 0.8})
    figure = Figure(figsize=(WIDTH, height), layout="constrained", facecolor="white")
    axes = figure.add_subplot()
    _dress(axes)
    _rule(axes)
    return figure, axes


def strip_below(figure: Figure, axes: Axes, share: float) -> Axes:
    """Return a flat strip of its own scale below a chart, `share` of its height."""
    # Of the strip's height its key and its axis take two thirds.
    strip = _below(figure, axes, share / 3.0)
    strip.spines["left"].set_visible(False)
    return strip


def panel_below(figure: Figure, axes: Axes, share: float) -> Axes:
    """Return a second chart below the first, `share` of its height."""
    panel = _below(figure, axes, share)
    _rule(panel)
    return panel


def _below(figure: Figure, axes: Axes, share: float) -> Axes:
    grid = figure.add_gridspec(2, 1, height_ratios=[1.0, share])
    axes.set_subplotspec(grid[0])
    below = figure.add_subplot(grid[1])
    _dress(below)
    return below


def _rule(axes: Axes) -> None:
    axes.grid(visible=True, color=RULE, linewidth=0.7)
    axes.set_axisbelow(True)


def _dress(axes: Axes) -> None:
    axes.spines[["top", "right"]].set_visible(False)
    axes.spines[["left", "bottom"]].set_color(SOFT)
    axes.tick_params(colors=INK, labelsize=SMALL_TEXT)


def name_axes(axes: Axes, across: str, up: str) -> None:
    """Name the axes: across below, up above the axis, where it is read level."""
    axes.set_xlabel(across, fontsize=TEXT, color=INK)
    axes.set_title(up, loc="left", fontsize=TEXT, color=INK)


def add_key(figure: Figure, columns: int = 1) -> None:
    """Put the key below the chart, where no line runs through it."""
    figure.legend(loc="outside lower left", ncols=columns, fontsize=TEXT, frameon=False,
                  handlelength=2.6)  # fmt: skip


def as_svg(figure: Figure, title: str, description: str) -> bytes:
    """Return the figure as SVG with a title and description, and no style of its own.

    Styles become attributes, so that the picture shows under a policy that
    forbids inline style.
    """
    buffer = BytesIO()
    figure.savefig(buffer, format="svg", metadata={"Date": None, "Creator": None})
    drawn = _SHEET.sub("", buffer.getvalue().decode())
    drawn = _STYLE.sub(lambda match: _attributes(match[1]), drawn)
    opening, tag, rest = drawn.partition("<svg ")
    tag, end, body = f"{tag}{rest}".partition(">")
    named = (
        f'{tag} role="img" stroke-linejoin="round" stroke-linecap="butt"{end}\n'
        f" <title>{escape(title)}</title>\n <desc>{escape(description)}</desc>"
    )
    return f"{opening}{named}{body}".encode()


def as_png(figure: Figure, dots: int = 200) -> bytes:
    """Return the figure as PNG, for a sheet that is printed; `dots` an inch."""
    buffer = BytesIO()
    figure.savefig(buffer, format="png", dpi=dots, metadata={"Software": None})
    return buffer.getvalue()


def _attributes(style: str) -> str:
    pairs = (rule.split(":", 1) for rule in style.split(";") if ":" in rule)
    return "".join(f' {name.strip()}="{value.strip()}"' for name, value in pairs)
