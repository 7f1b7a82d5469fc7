"""Charts of the kit: the life of one item, and what was retired by kind and year."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from math import ceil, isfinite
from typing import TYPE_CHECKING

from coursekit.drawing.canvas import (
    BLUE,
    GREEN,
    HEIGHT,
    INK,
    ORANGE,
    RULE,
    SMALL_TEXT,
    SOFT,
    VERMILLION,
    WIDTH,
    add_key,
    as_png,
    as_svg,
    name_axes,
    new_chart,
    panel_below,
)
from coursekit.mechanics.nomenclature import Ratio
from coursekit.wear.policy import HEAVY_FROM

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

HEADROOM = 1.15
LOWEST_TOP = 5.0
"""The least use count that the axis reaches, so that an unused item has an axis."""
PERCENT, BEYOND = 100.0, 1.1
"""The limit in percent of itself, and where a load stands that nobody knows."""
ROUNDING = 1e-9
COUNTED, POINTS = 1.6, 72
"""Inches that the use count takes below the loads, and points in an inch."""
ROW, FRAME = 0.42, 1.25
"""Inches that the row of a kind takes, and what stands round the rows."""
EPOCH = date(1970, 1, 1)
"""The day that the date axis counts from."""
MARGIN = 14
"""Days shown before the first event and after today."""

# Each class of load has its own shape, so that colour is not needed to tell them apart.
_SHAPES = {
    "light": ("o", "white", BLUE),
    "heavy": ("s", ORANGE, INK),
    "overload": ("X", VERMILLION, INK),
    "unknown": ("D", "white", VERMILLION),
}
_YEAR_FILLS = (("white", "////"), (BLUE, ""), ("white", "...."), (RULE, ""))


@dataclass(frozen=True)
class PullMark:
    """One pull in an item's life: its class of load, its share of the limit, the use count then.

    Without a share its load was only declared, or nobody knows it.
    """

    day: date
    size: str
    share: Ratio | None
    total: float


@dataclass(frozen=True)
class Life:
    """An item's life so far; `limit` is the use count at which it retires, if any.

    `heavy_from` is the share of the limit from which a pull counts as heavy, `before` the
    use count that the item came with.
    """

    item: str
    pulls: Sequence[PullMark]
    inspections: Sequence[date]
    limit: float | None
    today: date
    heavy_from: Ratio = HEAVY_FROM
    before: float = 0.0


@dataclass(frozen=True)
class Retired:
    """How many items of a kind were retired in a year."""

    kind: str
    year: int
    count: int


def _size_words() -> dict[str, str]:
    return {
        "light": "light pull",
        "heavy": "heavy pull",
        "overload": "overload",
        "unknown": "load not known",
    }


@dataclass(frozen=True)
class LifeWords:
    """The words of the life chart, to be translated."""

    title: str = "Use of {item}"
    load: str = "load, % of its limit"
    its_limit: str = "its limit"
    declared: str = "declared, at most"
    highest: str = "highest load {share} of its limit"
    use: str = "use count"
    total: str = "use count so far"
    limit: str = "retires at {limit}"
    inspected: str = "inspected"
    sizes: dict[str, str] = field(default_factory=_size_words)
    described: str = "{pulls} pulls, {inspections} inspections"
    counted: str = "use count {total}"


@dataclass(frozen=True)
class RetiredWords:
    """The words of the chart of retirements, to be translated."""

    title: str = "Items retired, by kind and year"
    count: str = "items retired"
    none: str = "Nothing has been retired"


def life_chart(life: Life, words: LifeWords | None = None) -> bytes:
    """Return an item's use over time as an SVG file."""
    words = words or LifeWords()
    title = words.title.format(item=life.item)
    return as_svg(_life_drawn(life, words), title, describe_life(life, words))


def life_chart_png(life: Life, words: LifeWords | None = None) -> bytes:
    """Return an item's use over time as a picture for print."""
    return as_png(_life_drawn(life, words or LifeWords()))


def describe_life(life: Life, words: LifeWords | None = None) -> str:
    """Return in words what the life chart shows.

    >>> describe_life(Life("rope-k", (), (), 30.0, date(2026, 5, 1)))
    'Use of rope-k: 0 pulls, 0 inspections, use count 0; retires at 30.'
    """
    words = words or LifeWords()
    told = [words.described.format(pulls=len(life.pulls), inspections=len(life.inspections))]
    shares = [pull.share for pull in life.pulls if pull.share is not None]
    if shares:
        told.append(words.highest.format(share=f"{ceil(100 * max(shares) - ROUNDING)} %"))
    if life.limit is not None:
        told.append(words.counted.format(total=f"{_last_total(life):g}"))
    limit = "" if life.limit is None else f"; {words.limit.format(limit=f'{life.limit:g}')}"
    return f"{words.title.format(item=life.item)}: {', '.join(told)}{limit}."


def retirement_chart(retired: Iterable[Retired], words: RetiredWords | None = None) -> bytes:
    """Return the retirements as an SVG file: a row for each kind, a bar for each year."""
    from matplotlib.ticker import MaxNLocator

    words = words or RetiredWords()
    found = {(each.kind, each.year): each.count for each in retired}
    kinds = sorted({kind for kind, _ in found}, reverse=True)
    figure, axes = new_chart(height=FRAME + ROW * len(kinds))
    reached = [0] * len(kinds)
    for place, year in enumerate(sorted({year for _, year in found})):
        counts = [found.get((kind, year), 0) for kind in kinds]
        _draw_year(axes, (year, place), counts, reached)
        reached = [sum(pair) for pair in zip(reached, counts, strict=True)]
    axes.set_yticks(range(len(kinds)), kinds)
    axes.set_xlim(0, HEADROOM * max(reached, default=1))
    axes.xaxis.set_major_locator(MaxNLocator(nbins=6, integer=True))
    axes.grid(visible=False, axis="y")
    name_axes(axes, words.count, "")
    if found:
        add_key(figure, columns=4)
    else:
        axes.text(0.02, 0.5, words.none, transform=axes.transAxes, fontsize=SMALL_TEXT)
    return as_svg(figure, words.title, describe_retired(found, words))


def describe_retired(found: dict[tuple[str, int], int], words: RetiredWords | None = None) -> str:
    """Return in words what the chart of retirements shows.

    >>> describe_retired({("roundsling", 2026): 2, ("roundsling", 2025): 1})
    'roundsling 2025: 1; roundsling 2026: 2.'
    """
    if not found:
        return f"{(words or RetiredWords()).none}."
    return "; ".join(f"{kind} {year}: {n}" for (kind, year), n in sorted(found.items())) + "."


def life_size(life: Life) -> tuple[int, int]:
    """Return how wide and high a page has to keep the life chart."""
    return round(WIDTH * POINTS), round(_height(life) * POINTS)


def _height(life: Life) -> float:
    return HEIGHT if life.limit is None else HEIGHT + COUNTED


def _life_drawn(life: Life, words: LifeWords) -> Figure:
    figure, axes = new_chart(_height(life))
    panels = [axes] if life.limit is None else [axes, panel_below(figure, axes, 0.6)]
    _draw_pulls(axes, life, words)
    _draw_inspections(axes, life, words)
    name_axes(axes, "", words.load)
    for panel in panels:
        _date_axis(panel, life)
    if life.limit is not None:
        axes.tick_params(labelbottom=False)
        _draw_total(panels[-1], life, words)
        name_axes(panels[-1], "", words.use)
    add_key(figure, columns=2)
    return figure


def _last_total(life: Life) -> float:
    return life.pulls[-1].total if life.pulls else life.before


def _number(day: date) -> float:
    return float((day - EPOCH).days)


def _draw_total(axes: Axes, life: Life, words: LifeWords) -> None:
    days = [_number(pull.day) for pull in life.pulls]
    totals = [pull.total for pull in life.pulls]
    axes.step([*days, _number(life.today)], [*totals, _last_total(life)], where="post", color=BLUE,
              linewidth=3, label=words.total)  # fmt: skip
    if life.limit is not None:
        axes.axhline(life.limit, color=VERMILLION, linestyle="--", linewidth=2.5,
                     label=words.limit.format(limit=f"{life.limit:g}"))  # fmt: skip
    axes.set_ylim(0.0, HEADROOM * max(_last_total(life), life.limit or LOWEST_TOP))


def _draw_pulls(axes: Axes, life: Life, words: LifeWords) -> None:
    """Draw a stem for each pull, as high as its load; dotted where no load is known."""
    heights = [(pull, _stem(life, pull)) for pull in life.pulls]
    for is_known, line in ((True, "-"), (False, ":")):
        drawn = [(p, height) for p, height in heights if (p.share is not None) is is_known]
        if drawn:
            axes.vlines([_number(p.day) for p, _ in drawn], 0.0, [height for _, height in drawn],
                        color=SOFT, linewidth=1.8, linestyle=line,
                        label="" if is_known else words.declared)  # fmt: skip
    for size, (shape, fill, edge) in _SHAPES.items():
        pulls = [(_number(p.day), height) for p, height in heights if p.size == size]
        if pulls:
            axes.plot(*zip(*pulls, strict=True), shape, markerfacecolor=fill, markeredgecolor=edge,
                      markersize=8, linestyle="none", zorder=4,
                      label=words.sizes[size])  # fmt: skip
    axes.axhline(PERCENT, color=VERMILLION, linestyle="--", linewidth=2.5, label=words.its_limit)
    axes.set_ylim(0.0, HEADROOM * max([PERCENT, *(height for _, height in heights)]))


def _stem(life: Life, pull: PullMark) -> float:
    """Return how high a stem reaches, in percent of the limit.

    A pull that was only declared reaches as high as its class of load, one that nobody
    knows beyond the limit, and so does one of an item with a limit of nothing.
    """
    if pull.share is not None and isfinite(pull.share):
        return PERCENT * pull.share
    return PERCENT * {"light": life.heavy_from, "heavy": 1.0}.get(pull.size, BEYOND)


def _draw_inspections(axes: Axes, life: Life, words: LifeWords) -> None:
    if life.inspections:
        days = [_number(day) for day in life.inspections]
        axes.plot(days, [0.0] * len(days), "^", color=GREEN,
                  markersize=11, clip_on=False, zorder=5, linestyle="none",
                  label=words.inspected)  # fmt: skip


def _date_axis(axes: Axes, life: Life) -> None:
    from matplotlib.dates import AutoDateLocator, ConciseDateFormatter

    days = [*(pull.day for pull in life.pulls), *life.inspections, life.today]
    axes.set_xlim(_number(min(days)) - MARGIN, _number(life.today) + MARGIN)
    locator = AutoDateLocator(minticks=3, maxticks=6)
    axes.xaxis.set_major_locator(locator)
    axes.xaxis.set_major_formatter(ConciseDateFormatter(locator))


def _draw_year(
    axes: Axes, year_and_place: tuple[int, int], counts: Sequence[int], reached: Sequence[int]
) -> None:
    """Add a year's bars at the end of those before it, each with its number."""
    year, place = year_and_place
    fill, hatch = _YEAR_FILLS[place % len(_YEAR_FILLS)]
    bars = axes.barh(range(len(counts)), counts, left=reached, height=0.72, facecolor=fill,
                     edgecolor=BLUE, hatch=hatch, label=str(year))  # fmt: skip
    numbers = [str(number) if number else "" for number in counts]
    for text in axes.bar_label(bars, numbers, label_type="center", fontsize=SMALL_TEXT):
        text.set_bbox({"facecolor": "white", "edgecolor": "none", "pad": 1.5})
