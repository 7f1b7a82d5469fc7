"""What marking gives back: a verdict for each task, and the outcome of the paper."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from coursekit.problems import Message
from coursekit.rigging.findings import Finding
from coursekit.rigging.solver import Solution
from coursekit.scenario.model import Scenario

# These earn all marks of their task.
RIGHT = frozenset({"right", "carried"})
VERDICTS = ("right", "carried", "unit", "slip", "part", "wrong", "missing")
OUTCOMES = ("competent", "not-yet", "unsafe")


def half_marks(marks: float) -> float:
    """Return marks rounded down to halves.

    >>> half_marks(1.99), half_marks(2.0)
    (1.5, 2.0)
    """
    return math.floor(marks * 2.0 + 1e-9) / 2.0


@dataclass(frozen=True)
class TaskMark:
    """The mark of one task.

    `truth` follows from the given data, `expected` from the student's own
    earlier answers.  `flagged` tells the instructor that a right answer follows
    a wrong step: two errors may have cancelled.
    """

    task: str
    marks: float
    out_of: float
    verdict: str
    feedback: tuple[Message, ...]
    slips: tuple[str, ...] = ()
    given: Any = None
    truth: Any = None
    expected: Any = None
    solution: Solution | None = None
    findings: tuple[Finding, ...] = ()
    stops: tuple[Message, ...] = ()
    flagged: bool = False


@dataclass(frozen=True)
class Paper:
    """A marked set of answers to one scenario."""

    scenario: Scenario
    tasks: tuple[TaskMark, ...]

    @property
    def marks(self) -> float:
        """All marks earned."""
        return math.fsum(task.marks for task in self.tasks)

    @property
    def out_of(self) -> float:
        """All marks there are."""
        return math.fsum(task.out_of for task in self.tasks)

    @property
    def stops(self) -> tuple[Message, ...]:
        """What makes the outcome unsafe, whatever the marks."""
        return tuple(stop for task in self.tasks for stop in task.stops)

    @property
    def is_safe(self) -> bool:
        """Whether nothing in the answers would have hurt someone."""
        return not self.stops

    @property
    def outcome(self) -> str:
        """Competent, not yet, or unsafe."""
        if self.stops:
            return "unsafe"
        reached = self.marks >= self.scenario.pass_share * self.out_of - 1e-9
        return "competent" if reached and self.out_of else "not-yet"
