"""What a scenario asks, as frozen dataclasses."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from coursekit.rigging.rig import Rig

GIVEN_RIG = "given"
OWN_RIG = "own"
RIG_MARKS = ("safe", "reaches", "margin", "economy")


@dataclass(frozen=True)
class Tolerance:
    """How far an answer may lie from the truth, ends included.

    Shares of the truth below and above it, or one absolute amount in SI.

    >>> Tolerance(below=0.03, above=0.08).accepts(97.0, 100.0)
    True
    >>> Tolerance(below=0.03, above=0.08).accepts(96.9, 100.0)
    False
    >>> Tolerance(absolute=2.0).accepts(1.5, 0.0)
    True
    """

    below: float = 0.05
    above: float = 0.05
    absolute: float | None = None
    # Where the truth is zero but for the dust of floats, a share of it would accept nothing.
    # A thousandth of the SI unit is little for every kind: an advantage, metres, newtons.
    floor: float = 0.001

    def band(self, truth: float) -> tuple[float, float]:
        """Return the lowest and the highest accepted value."""
        if self.absolute is not None:
            return truth - self.absolute, truth + self.absolute
        size = abs(truth)
        return truth - max(self.below * size, self.floor), truth + max(
            self.above * size, self.floor
        )

    def accepts(self, answer: float, truth: float) -> bool:
        """Whether an answer lies within the band; a hair of float dust is forgiven."""
        low, high = self.band(truth)
        dust = 1e-12 * max(abs(truth), 1.0)
        return low - dust <= answer <= high + dust


@dataclass(frozen=True)
class Task:
    """What all tasks share."""

    id: str
    marks: float
    prompt: str | None = None
    after: tuple[str, ...] = ()
    # Where the task shows something else than its kind says; see `strands`.
    strand: str | None = None


@dataclass(frozen=True)
class QuantityTask(Task):
    """Asks for a solved quantity, with its unit."""

    of: str = ""
    rig: str = GIVEN_RIG
    tolerance: Tolerance = Tolerance()
    unit: str | None = None
    catches: tuple[str, ...] = ()


@dataclass(frozen=True)
class RigTask(Task):
    """Asks for a rig; it is judged by solving it."""

    scheme: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class ItemTask(Task):
    """Asks for one item, such as the weakest of a rig."""

    of: str = "weakest"
    rig: str = GIVEN_RIG


@dataclass(frozen=True)
class ItemsTask(Task):
    """Asks for a set of items, such as the gear that must stay out of use."""

    of: str = "unfit"


@dataclass(frozen=True)
class ChoiceTask(Task):
    """Asks to choose; a wrong choice may be critical."""

    options: Mapping[str, str] = field(default_factory=dict)
    answer: str = ""
    because: str = ""
    critical: bool = False


@dataclass(frozen=True)
class OrderTask(Task):
    """Asks to put things in order; `items` stand in the right one."""

    items: tuple[str, ...] = ()


AnyTask = QuantityTask | RigTask | ItemTask | ItemsTask | ChoiceTask | OrderTask
# What a student's answer is once read: SI float, rig, id, ids, or None for missing.
Answer = float | Rig | str | tuple[str, ...] | None
Document = Mapping[str, Any]
