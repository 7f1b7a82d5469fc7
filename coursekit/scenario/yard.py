"""Yard lists: what a student shows with gear in hand, criterion by criterion."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import IntEnum


class Level(IntEnum):
    """How a criterion was shown; the order is the rubric's."""

    NOT_SHOWN = 0
    PROMPTED = 1
    UNAIDED = 2


@dataclass(frozen=True)
class Criterion:
    """One thing to be seen; `source` says who publishes it, or that nobody does."""

    id: str
    text: str
    critical: bool = False
    marks: float = 1.0
    source: str | None = None


@dataclass(frozen=True)
class YardTask:
    """One task in the yard with its criteria."""

    id: str
    title: str
    criteria: tuple[Criterion, ...]


def criteria_of(tasks: Iterable[YardTask]) -> Iterator[tuple[str, Criterion]]:
    """Yield every criterion under the name that its marks are kept by.

    >>> list(criteria_of([YardTask("brief", "Brief", (Criterion("stop", "Names the word"),))]))
    [('brief.stop', Criterion(id='stop', text='Names the word', critical=False, marks=1.0, \
source=None))]
    """
    for task in tasks:
        for criterion in task.criteria:
            yield f"{task.id}.{criterion.id}", criterion
