"""What a line may be made of: as few lines, one behind the other, as reach the end.

A line is joined of no more than it takes to reach: one extension too many is a joint too
many, and leaves more line on the drum, where the winch pulls less.  A kinetic line may
have a second part all the same, since each part changes how it stretches.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence

from coursekit.rigging.chains.winch import dead_length
from coursekit.rigging.rules.lines import reaches
from coursekit.rigging.search.stock import (
    EXTENSIONS,
    HOLDING,
    SNATCHING,
    TOWING,
    Alike,
    Stock,
)
from coursekit.rigging.site import Situation
from coursekit.rigging.vehicle import Winch

MOST_EXTENSIONS = 2
MOST_JOINED = 2
MadeOf = tuple[str, ...]


def winch_materials(
    situation: Situation, stock: Stock, winch: Winch, way: float
) -> Iterator[MadeOf]:
    """Yield what a winch line may be made of that goes a way: its own line, and extensions."""
    extensions = stock.of(EXTENSIONS)
    start = _usable_length(situation, winch)
    for count in range(MOST_EXTENSIONS + 1):
        for joined in _in_order(extensions, count):
            if _is_needed(joined, lambda lengths: reaches(start + sum(lengths), way)):
                yield (winch.line, *_names(joined))


def tow_materials(stock: Stock, way: float) -> Iterator[MadeOf]:
    """Yield what a tow of some length may be made of."""
    yield from _as_needed(stock.of(TOWING), way)


def hold_materials(stock: Stock, way: float) -> Iterator[MadeOf]:
    """Yield what a holding line of some length may be made of; it should not stretch."""
    yield from _as_needed(stock.of(HOLDING), way)


def kinetic_materials(stock: Stock, way: float) -> Iterator[MadeOf]:
    """Yield what a kinetic line of at least some length may be made of."""
    for count in range(1, MOST_JOINED + 1):
        for joined in _in_order(stock.of(SNATCHING), count):
            stretches = any(part.item.is_elastic for part in joined)
            if stretches and reaches(sum(part.item.line_length for part in joined), way):
                yield _names(joined)


def longest(situation: Situation, stock: Stock, winch: Winch) -> float:
    """Return the longest winch line that can be joined."""
    lengths = sorted(
        (
            group.item.line_length
            for group in stock.of(EXTENSIONS)
            for _ in group.ids[:MOST_EXTENSIONS]
        ),
        reverse=True,
    )
    return _usable_length(situation, winch) + sum(lengths[:MOST_EXTENSIONS])


def _usable_length(situation: Situation, winch: Winch) -> float:
    """Return how much of a winch's own line can leave the drum."""
    return situation.gear[winch.line].line_length - dead_length(situation, winch)


def _as_needed(lines: Sequence[Alike], way: float) -> Iterator[MadeOf]:
    for count in range(1, MOST_JOINED + 1):
        for joined in _in_order(lines, count):
            if _is_needed(joined, lambda lengths: reaches(sum(lengths), way)):
                yield _names(joined)


def _is_needed(joined: Sequence[Alike], reaches: Callable[[Sequence[float]], bool]) -> bool:
    """Whether the lines together reach, and would not with any one left out."""
    lengths = [part.item.line_length for part in joined]
    return reaches(lengths) and not any(
        reaches([*lengths[:i], *lengths[i + 1 :]]) for i in range(len(lengths))
    )


def _in_order(lines: Sequence[Alike], count: int) -> Iterator[tuple[Alike, ...]]:
    """Yield lines in order, none more often than there are alike ones."""
    for joined in itertools.product(lines, repeat=count):
        if all(joined.count(line) <= len(line.ids) for line in joined):
            yield joined


def _names(joined: Sequence[Alike]) -> MadeOf:
    """Return the items that stand for each line, the next of its kind where it comes again."""
    return tuple(part.ids[list(joined[:i]).count(part)] for i, part in enumerate(joined))
