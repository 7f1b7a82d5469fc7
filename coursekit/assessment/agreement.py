"""How far assessors agree: kappa for verdicts, intraclass correlation for marks.

Two assessors give a table of counts, rows for the first and columns for the second, in
the same order of categories.  Agreement by chance depends on how often each category is
used, so the counts off the diagonal are shown beside every kappa; for pass and fail they
matter most.  What is not defined (no spread, everything in one category) is None.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from coursekit.assessment.statistics import Interval

Weights = Literal["none", "linear", "quadratic"]
Counts = NDArray[np.float64]
_Z95 = 1.959963984540054
_DUST = 1e-12
# A judgement takes two: two assessors, two students, two categories.
_A_PAIR = 2


@dataclass(frozen=True)
class Kappa:
    """Agreement beyond chance, with what it comes from; shares of 0 to 1.

    `error` is the standard error of kappa, `null_error` that under no agreement but chance.
    """

    value: float
    agreed: float
    by_chance: float
    error: float
    null_error: float

    @property
    def interval(self) -> Interval:
        """The 95 % interval, by the normal approximation: rough for few judgements."""
        reach = _Z95 * self.error
        return Interval(self.value - reach, self.value + reach)

    @property
    def z(self) -> float:
        """Kappa over its standard error under no agreement but chance."""
        return self.value / self.null_error


@dataclass(frozen=True)
class IntraclassCorrelations:
    """The six forms of Shrout and Fleiss: one judge, and the mean of all judges.

    `one_way` where each student has judges of their own, `agreement` where the same judges
    mark all and their levels matter, `consistency` where only the order they give matters.
    """

    one_way: float
    agreement: float
    consistency: float
    one_way_mean: float
    agreement_mean: float
    consistency_mean: float


def cohen_kappa(table: ArrayLike, weights: Weights = "none") -> Kappa | None:
    """Return Cohen's kappa of two assessors, None where chance alone explains everything.

    With `linear` weights each step between categories counts alike, with `quadratic` far
    misses count more; the categories must then be in their order.

    Sources: Cohen, 1960 and 1968; standard errors by Fleiss, Cohen and Everitt, 1969.

    Raises
    ------
    ValueError
        If the table is not square, has a negative count, or holds no judgement.

    Examples
    --------
    >>> kappa = cohen_kappa([[20, 5], [10, 15]])
    >>> round(kappa.value, 4), round(kappa.error, 4), round(kappa.null_error, 4)
    (0.4, 0.127, 0.1386)
    >>> cohen_kappa([[7, 0], [0, 0]]) is None
    True
    """
    counts = _square(table)
    total = counts.sum()
    shares = counts / total
    first, second = shares.sum(axis=1), shares.sum(axis=0)
    weight = _weights(len(counts), weights)
    agreed = float((weight * shares).sum())
    by_chance = float(first @ weight @ second)
    if 1.0 - by_chance < _DUST:
        return None
    value = (agreed - by_chance) / (1.0 - by_chance)
    # The mean weight of a category against all that the other assessor gives.
    means = (weight @ second)[:, None] + (first @ weight)[None, :]
    spread = (shares * (weight * (1 - by_chance) - means * (1 - agreed)) ** 2).sum()
    spread -= (agreed * by_chance - 2 * by_chance + agreed) ** 2
    null = (np.outer(first, second) * (weight - means) ** 2).sum() - by_chance**2
    scale = (1.0 - by_chance) * math.sqrt(total)
    return Kappa(
        value,
        agreed,
        by_chance,
        error=math.sqrt(max(spread, 0.0)) / (scale * (1.0 - by_chance)),
        null_error=math.sqrt(max(null, 0.0)) / scale,
    )


def fleiss_kappa(ratings: ArrayLike) -> Kappa | None:
    """Return Fleiss' kappa of many assessors, None where everything is in one category.

    `ratings` holds for each student how many assessors chose each category; every student
    has the same number of assessors.  The error is that under no agreement but chance.
    No page shows it: a yard list has two assessors at most, a paper two markers, and a panel
    gives chances, for which there is the intraclass correlation.
    Sources: Fleiss, 1971; error by Fleiss, Nee and Landis, 1979.

    Raises
    ------
    ValueError
        If the students have different numbers of assessors, or there are fewer than two.

    Examples
    --------
    >>> fleiss_kappa([[3, 0], [0, 3]]).value
    1.0
    """
    counts = np.asarray(ratings, dtype=float)
    raters = counts.sum(axis=1)
    if counts.ndim != _A_PAIR or len(set(raters)) != 1 or raters[0] < _A_PAIR:
        raise ValueError("every student needs the same number of assessors, two at least")
    students, number = len(counts), float(raters[0])
    agreed = float(((counts**2).sum(axis=1) - number).mean() / (number * (number - 1)))
    shares = counts.sum(axis=0) / (students * number)
    by_chance = float((shares**2).sum())
    if 1.0 - by_chance < _DUST:
        return None
    doubt = shares * (1 - shares)
    null = 2 * (doubt.sum() ** 2 - (doubt * (1 - 2 * shares)).sum())
    null /= doubt.sum() ** 2 * students * number * (number - 1)
    error = math.sqrt(null)
    return Kappa((agreed - by_chance) / (1 - by_chance), agreed, by_chance, error, error)


def intraclass_correlations(marks: ArrayLike) -> IntraclassCorrelations | None:
    """Return how far judges agree in marks, None where the marks do not vary.

    `marks` is students by judges, every judge with a mark for every student.
    Source: Shrout and Fleiss, 1979, from the mean squares of the analysis of variance.

    Raises
    ------
    ValueError
        If there are fewer than two students or judges.

    Examples
    --------
    >>> found = intraclass_correlations([[1, 2], [2, 3], [3, 4]])
    >>> round(found.consistency, 9), round(found.agreement, 9)
    (1.0, 0.666666667)
    """
    scores = np.asarray(marks, dtype=float)
    if scores.ndim != _A_PAIR or min(scores.shape) < _A_PAIR:
        raise ValueError("it takes two students and two judges at least")
    students, judges = scores.shape
    mean = scores.mean()
    of_students, of_judges = scores.mean(axis=1) - mean, scores.mean(axis=0) - mean
    between = judges * (of_students**2).sum() / (students - 1)
    within = ((scores - scores.mean(axis=1, keepdims=True)) ** 2).sum()
    rest_squares = ((scores - mean - of_students[:, None] - of_judges[None, :]) ** 2).sum()
    rest = rest_squares / ((students - 1) * (judges - 1))
    levels = students * (of_judges**2).sum() / (judges - 1)
    within /= students * (judges - 1)
    if between < _DUST:
        return None
    shift = judges * (levels - rest) / students
    return IntraclassCorrelations(
        one_way=float((between - within) / (between + (judges - 1) * within)),
        agreement=float((between - rest) / (between + (judges - 1) * rest + shift)),
        consistency=float((between - rest) / (between + (judges - 1) * rest)),
        one_way_mean=float((between - within) / between),
        agreement_mean=float((between - rest) / (between + (levels - rest) / students)),
        consistency_mean=float((between - rest) / between),
    )


def _square(table: ArrayLike) -> Counts:
    counts = np.asarray(table, dtype=float)
    if counts.ndim != _A_PAIR or counts.shape[0] != counts.shape[1]:
        raise ValueError("the table needs the same categories for both assessors")
    if (counts < 0).any() or counts.sum() == 0:
        raise ValueError("the table needs counts, and one at least")
    return counts


def _weights(categories: int, kind: Weights) -> Counts:
    """Return how much of an agreement each pair of categories is."""
    if kind == "none":
        return np.eye(categories)
    steps = np.abs(np.subtract.outer(np.arange(categories), np.arange(categories)))
    share = steps / max(categories - 1, 1)
    return 1.0 - (share if kind == "linear" else share**2)
