"""Setting a pass mark: what a panel of judges expects, or what examiners call borderline.

Both give a cut with its uncertainty; whether to take it on is for the school to decide.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from coursekit.assessment.agreement import intraclass_correlations
from coursekit.assessment.statistics import Interval

# Of one judge or one paper there is no spread to know anything by.
FEWEST_JUDGES = 2
_FEWEST_GRADED = 3
_HALVINGS = 80
_TWO_SIDED = 0.95

Ratings = NDArray[np.float64]


class NoStandard(ValueError):
    """No cut follows from what was given; the text says why."""


@dataclass(frozen=True)
class PanelCut:
    """What a panel expects of a student who is just competent, in marks.

    `sums` are the judges' own expectations, `expected` the panel's for each task.
    `agreement` is the intraclass correlation of one judge over the tasks, levels counted:
    1 where all expect the same; None where no figure can be given.
    """

    judges: int
    out_of: float
    cut: float
    sums: tuple[float, ...]
    expected: tuple[float, ...]
    standard_deviation: float
    standard_error: float
    interval: Interval
    agreement: float | None

    @property
    def share(self) -> float:
        """The cut as a share of all marks."""
        return self.cut / self.out_of


@dataclass(frozen=True)
class BorderlineCut:
    """The score at which the line through scores and grades calls a student borderline."""

    cut: float
    slope: float
    intercept: float
    determination: float
    residual_error: float
    standard_error: float


def panel_cut(ratings: Ratings, out_of: Ratings) -> PanelCut:
    """Return the cut of a panel: the mean of what each judge expects on the whole paper.

    `ratings` is judges by tasks, each the chance of 0 to 1 that a student who is just
    competent gets the task right; `out_of` are the marks of the tasks.  The interval is the
    two-sided 95 % one of Student's t for the mean of the judges' sums.
    Source: the procedure that Angoff's chapter in Thorndike (1971) names, second-hand.

    Raises
    ------
    NoStandard
        With fewer than two judges, without tasks, or with a rating that is no chance.

    >>> panel = panel_cut(np.array([[0.5, 0.9], [0.7, 0.9]]), np.array([1.0, 1.0]))
    >>> round(panel.cut, 3), round(panel.standard_error, 3)
    (1.5, 0.1)
    """
    judges, tasks = ratings.shape
    if judges < FEWEST_JUDGES or not tasks:
        raise NoStandard("a cut takes two judges and a task")
    if not np.all((ratings >= 0.0) & (ratings <= 1.0)):
        raise NoStandard("a chance lies between 0 and 1")
    sums = ratings @ out_of
    deviation = float(sums.std(ddof=1))
    error = deviation / math.sqrt(judges)
    cut, reach = float(sums.mean()), student_quantile(judges - 1) * error
    return PanelCut(
        judges=judges,
        out_of=float(out_of.sum()),
        cut=cut,
        sums=tuple(map(float, sums)),
        expected=tuple(map(float, ratings.mean(axis=0) * out_of)),
        standard_deviation=deviation,
        standard_error=error,
        interval=Interval(cut - reach, cut + reach),
        agreement=_agreement(ratings),
    )


def _agreement(ratings: Ratings) -> float | None:
    """Return how far the judges agree task by task, None for one task or where none differ."""
    found = intraclass_correlations(ratings.T) if ratings.shape[1] > 1 else None
    return None if found is None else found.agreement


def borderline_cut(grades: Ratings, scores: Ratings, borderline: float) -> BorderlineCut:
    """Return the score that a least-squares line through the papers gives a borderline grade.

    `grades` are the examiners' global grades, of equal steps (which is assumed, and seldom
    quite true), `scores` the marks of the same papers.  `residual_error` is the root of the
    mean square of what the line leaves, by papers less two; `standard_error` is that of the
    line at `borderline`.  Source: the borderline regression method; simple linear regression.

    Raises
    ------
    NoStandard
        With fewer than three papers, or with grades or scores that do not differ.

    >>> line = borderline_cut(np.array([1.0, 2.0, 3.0]), np.array([2.0, 4.0, 6.0]), 2.0)
    >>> round(line.cut, 6), round(line.slope, 6), round(line.determination, 6)
    (4.0, 2.0, 1.0)
    """
    papers = len(grades)
    if papers < _FEWEST_GRADED or not np.ptp(grades) or not np.ptp(scores):
        raise NoStandard("a line takes three papers, grades that differ and scores that differ")
    centred = grades - grades.mean()
    spread = float(centred @ centred)
    slope = float(centred @ scores) / spread
    intercept = float(scores.mean()) - slope * float(grades.mean())
    left = scores - intercept - slope * grades
    whole = scores - scores.mean()
    residual = math.sqrt(float(left @ left) / (papers - 2))
    away = borderline - float(grades.mean())
    return BorderlineCut(
        cut=intercept + slope * borderline,
        slope=slope,
        intercept=intercept,
        determination=1.0 - float(left @ left) / float(whole @ whole),
        residual_error=residual,
        standard_error=residual * math.sqrt(1.0 / papers + away**2 / spread),
    )


def student_quantile(freedom: int, share: float = _TWO_SIDED) -> float:
    """Return how many standard errors Student's t puts to either side of a mean.

    `share` of the distribution with `freedom` degrees lies within that many.  Found by
    halving, on the finite sums for whole degrees of freedom.
    Source: Abramowitz and Stegun, 26.7.3 and 26.7.4, from memory.

    Raises ValueError unless `freedom` is one or more and `share` lies between 0 and 1.

    >>> round(student_quantile(3), 3)
    3.182
    """
    if freedom < 1 or not 0.0 < share < 1.0:
        raise ValueError(f"no quantile for {freedom} degrees of freedom and a share of {share}")
    low, high = 0.0, math.pi / 2.0
    for _halving in range(_HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if _within(middle, freedom) < share else (low, middle)
    return math.sqrt(freedom) * math.tan((low + high) / 2.0)


def _within(angle: float, freedom: int) -> float:
    """Return the share of Student's t within `tan(angle) * sqrt(freedom)` of its mean."""
    cosine_squared = math.cos(angle) ** 2
    is_odd = freedom % 2
    term = math.cos(angle) if is_odd else 1.0
    total = 0.0
    for step in range(freedom // 2):
        total += term
        term *= cosine_squared * (2 * step + 1 + is_odd) / (2 * step + 2 + is_odd)
    if is_odd:
        return 2.0 / math.pi * (angle + math.sin(angle) * total)
    return math.sin(angle) * total
