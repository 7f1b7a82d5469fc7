"""How the tasks of one scenario worked for a group of marked papers."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from coursekit.assessment.statistics import (
    FEWEST_PAPERS,
    Interval,
    Scores,
    cronbach_alpha,
    discrimination,
    facility,
    item_rest_correlation,
    standard_error,
    wilson_interval,
)

# Fewer papers than this can be told apart one by one: no share is worth its decimals.
FEWEST_TO_SHARE = 5


@dataclass(frozen=True)
class Scored:
    """One task of one marked paper."""

    marks: float
    out_of: float
    verdict: str
    slips: tuple[str, ...] = ()


@dataclass(frozen=True)
class MarkedPaper:
    """A marked paper: each task by its id, and the outcome."""

    tasks: Mapping[str, Scored]
    outcome: str


@dataclass(frozen=True)
class TaskFigures:
    """How one task worked.

    `facility` is the mean share of its marks and `full` how many earned all of
    them, with a 95 % interval of that share.  `goes_with_rest` and
    `discrimination` are None where the group is small or what they compare does not vary.
    """

    task: str
    facility: float
    full: int
    full_interval: Interval
    goes_with_rest: float | None
    discrimination: float | None
    verdicts: tuple[tuple[str, int], ...]
    slips: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class PaperFigures:
    """How a paper worked for a group; `tasks` is empty where nobody handed in.

    `alpha` and `standard_error` (in marks) are None where the group is smaller
    than `FEWEST_PAPERS` or the marks do not vary.
    """

    papers: int
    mean_share: float
    outcomes: tuple[tuple[str, int], ...]
    alpha: float | None
    standard_error: float | None
    tasks: tuple[TaskFigures, ...]

    @property
    def is_small(self) -> bool:
        """Whether the group is too small for figures that compare tasks."""
        return self.papers < FEWEST_PAPERS


def figures_of(task_ids: Sequence[str], papers: Sequence[MarkedPaper]) -> PaperFigures:
    """Return how a paper worked, its tasks in the order of `task_ids`.

    Papers that lack a task (they were marked on other tasks) are left out.

    >>> one = MarkedPaper({"pull": Scored(2.0, 2.0, "right")}, "competent")
    >>> two = MarkedPaper({"pull": Scored(0.0, 2.0, "wrong")}, "not-yet")
    >>> figures_of(["pull"], [one, two]).tasks[0].facility
    0.5
    """
    whole = [paper for paper in papers if set(task_ids) <= paper.tasks.keys()]
    if not whole or not task_ids:
        return PaperFigures(0, 0.0, (), None, None, ())
    scores = np.array([[paper.tasks[task].marks for task in task_ids] for paper in whole])
    out_of = np.array([whole[-1].tasks[task].out_of for task in task_ids])
    is_large = len(whole) >= FEWEST_PAPERS
    return PaperFigures(
        papers=len(whole),
        mean_share=float(scores.sum(axis=1).mean() / out_of.sum()),
        outcomes=_counted(paper.outcome for paper in whole),
        alpha=cronbach_alpha(scores) if is_large else None,
        standard_error=standard_error(scores) if is_large else None,
        tasks=tuple(_tasks(task_ids, whole, scores, out_of)),
    )


def _tasks(
    task_ids: Sequence[str], papers: Sequence[MarkedPaper], scores: Scores, out_of: Scores
) -> Iterable[TaskFigures]:
    is_large = len(papers) >= FEWEST_PAPERS
    varies = np.ptp(scores, axis=0) > 0.0
    shares, rest = facility(scores, out_of), item_rest_correlation(scores)
    upper_lower = discrimination(scores, out_of)
    for column, task in enumerate(task_ids):
        scored = [paper.tasks[task] for paper in papers]
        full = sum(one.marks >= one.out_of for one in scored)
        yield TaskFigures(
            task=task,
            facility=float(shares[column]),
            full=full,
            full_interval=wilson_interval(full, len(papers)),
            goes_with_rest=_figure(rest[column], shown=is_large),
            discrimination=_figure(upper_lower[column], shown=is_large and bool(varies[column])),
            verdicts=_counted(one.verdict for one in scored),
            slips=_counted(slip for one in scored for slip in one.slips),
        )


def _figure(value: float, *, shown: bool) -> float | None:
    return None if math.isnan(value) or not shown else float(value)


def _counted(names: Iterable[str]) -> tuple[tuple[str, int], ...]:
    return tuple(Counter(names).most_common())
