"""The scenario: a situation, what is asked of it, and how its numbers vary."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property

from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.scenario.tasks import GIVEN_RIG, AnyTask
from coursekit.scenario.yard import YardTask

LEVELS = ("foundation", "intermediate", "advanced")
GO, NO_GO = EXPECTATIONS = ("go", "no-go")
DEFAULT_PASS = 0.70


@dataclass(frozen=True)
class Range:
    """The grid of values that one field may take, in the file's own unit.

    Magnitudes are decimals, so that what a student reads is what is solved.

    >>> ends = Decimal(2200), Decimal(3100)
    >>> grid = Range("stuck_vehicle.mass", *ends, Decimal(50), "kg", Decimal(1))
    >>> grid.count, grid.text(18), grid.value(18)
    (19, '3100 kg', 3100.0)
    """

    field: str
    lowest: Decimal
    highest: Decimal
    step: Decimal
    unit: str
    si_per_unit: Decimal

    @property
    def count(self) -> int:
        """How many values the grid has."""
        return int((self.highest - self.lowest) / self.step) + 1

    def magnitude(self, index: int) -> Decimal:
        """Return the number of a place on the grid, in the file's unit."""
        return self.lowest + self.step * index

    def text(self, index: int) -> str:
        """Return the quantity as a student reads it."""
        return f"{self.magnitude(index):f} {self.unit}".rstrip()

    def value(self, index: int) -> float:
        """Return the quantity in SI, from the number that is shown and no other.

        It is the very number that reading the text gives.
        """
        return float(self.magnitude(index) * self.si_per_unit)

    def index_of(self, text: str) -> int | None:
        """Return the place on the grid that a student reads as this text, None where none is.

        >>> grid = Range("ground.slope", Decimal(4), Decimal(10), Decimal(2), "deg", Decimal(1))
        >>> grid.index_of("8 deg"), grid.index_of("7 deg"), grid.index_of("steep")
        (2, None, None)
        """
        return self._places.get(text)

    @cached_property
    def _places(self) -> dict[str, int]:
        return {self.text(index): index for index in range(self.count)}


@dataclass(frozen=True)
class Scenario:
    """One scenario as validated, in SI, with the texts that its file gave."""

    id: str
    title: str
    level: str
    brief: str
    situation: Situation
    tasks: tuple[AnyTask, ...]
    digest: str
    expect: str = "go"
    rigs: Mapping[str, Rig] = field(default_factory=dict)
    vary: tuple[Range, ...] = ()
    pass_share: float = DEFAULT_PASS
    # Whether the file names that share; else a school may set its own.
    names_pass: bool = False
    weakest_may_change: bool = False
    # Dotted field -> the text of the file, so that numbers are shown unrounded
    # and in the file's unit.
    shown: Mapping[str, str] = field(default_factory=dict)
    yard: tuple[YardTask, ...] = ()

    @property
    def given_rig(self) -> Rig | None:
        """The rig that tasks refer to unless they name another."""
        return self.rigs.get(GIVEN_RIG)

    @property
    def out_of(self) -> float:
        """All marks of the scenario."""
        return sum(task.marks for task in self.tasks)

    def task(self, task_id: str) -> AnyTask:
        """Return the task of an id; KeyError where there is none."""
        return next(task for task in self.tasks if task.id == task_id)
