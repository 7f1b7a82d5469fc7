"""How a paper worked for a group: classical test theory, task by task and as a whole.

Scores are an array of papers by tasks, every paper with a score for every task
(what was left blank earned nothing).  The figures of a small group say little:
`FEWEST_PAPERS` is where a page should begin to show them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

# Below this alpha, item-rest correlation and discrimination are held back: a convention.
FEWEST_PAPERS = 30
# The usual compromise between clear groups and enough people in them: Kelley, 1939,
# second-hand.
OUTER_SHARE = 0.27
# Of fewer than two there is nothing to compare.
_A_PAIR = 2
_NO_SPREAD = 1e-12
# The normal quantile of a two-sided 95 % interval.
_Z95 = 1.959963984540054

Scores = NDArray[np.float64]


@dataclass(frozen=True)
class Interval:
    """The two ends of an interval."""

    low: float
    high: float


def facility(scores: Scores, out_of: Scores) -> Scores:
    """Return the mean share of the marks of each task.

    `scores` is papers by tasks, `out_of` the marks of each task; shares of 0 to 1.
    Source: classical test theory; the mean of 0 and 1 scores is the share of right answers.

    >>> facility(np.array([[2.0, 0.0], [2.0, 1.0]]), np.array([2.0, 2.0])).tolist()
    [1.0, 0.25]
    """
    share: Scores = scores.mean(axis=0) / out_of
    return share


def item_rest_correlation(scores: Scores) -> Scores:
    """Return how each task goes with the rest of the paper, the task itself left out.

    NaN where a task or the rest does not vary: then there is no such figure.
    Source: corrected item-total correlation (product-moment of the score with the
    total less the score).

    >>> item_rest_correlation(np.array([[0.0, 1.0], [1.0, 2.0], [2.0, 3.0]])).round(6).tolist()
    [1.0, 1.0]
    """
    rest = scores.sum(axis=1, keepdims=True) - scores
    centred, centred_rest = scores - scores.mean(axis=0), rest - rest.mean(axis=0)
    size = np.sqrt((centred**2).sum(axis=0) * (centred_rest**2).sum(axis=0))
    together = (centred * centred_rest).sum(axis=0)
    varies = size > _NO_SPREAD * np.maximum(1.0, np.abs(scores).max(initial=0.0)) ** 2
    figure: Scores = np.divide(together, size, out=np.full(len(size), np.nan), where=varies)
    return figure


def discrimination(scores: Scores, out_of: Scores, share: float = OUTER_SHARE) -> Scores:
    """Return by how much the upper group does better than the lower one, for each task.

    The groups are the `share` of papers with the highest and the lowest totals.
    Where papers tie at a cut, each of them counts with an equal part, so that the
    figure does not hang on the order in which people signed up.
    Source: the upper-lower index D; ties as the mean over all ways to break them.

    >>> discrimination(np.array([[0.0], [0.0], [1.0], [1.0]]), np.array([1.0]), 0.5).tolist()
    [1.0]
    """
    totals = scores.sum(axis=1)
    wanted = share * len(totals)
    upper, lower = _outermost(-totals, wanted), _outermost(totals, wanted)
    figure: Scores = ((upper - lower) @ scores) / wanted / out_of
    return figure


def _outermost(totals: Scores, wanted: float) -> Scores:
    """Return how much of each paper belongs to the `wanted` papers of lowest total."""
    weights = np.zeros(len(totals))
    left = wanted
    for total in np.unique(totals):
        tied = totals == total
        weights[tied] = min(1.0, left / tied.sum())
        left -= weights[tied].sum()
        if left <= 0.0:
            break
    return weights


def cronbach_alpha(scores: Scores) -> float | None:
    """Return how far the tasks of a paper agree; None where there is nothing to compare.

    alpha = k / (k - 1) (1 - sum of the tasks' variances / variance of the totals),
    both with n - 1; for scores of 0 and 1 this is KR-20.
    Source: Cronbach, Psychometrika 16 (1951), from memory.

    >>> cronbach_alpha(np.array([[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]]))
    1.0
    >>> cronbach_alpha(np.array([[1.0, 1.0], [1.0, 1.0]])) is None
    True
    """
    papers, tasks = len(scores), len(scores.T)
    if papers < _A_PAIR or tasks < _A_PAIR:
        return None
    whole = float(scores.sum(axis=1).var(ddof=1))
    if whole <= _NO_SPREAD:
        return None
    parts = float(scores.var(axis=0, ddof=1).sum())
    return tasks / (tasks - 1) * (1.0 - parts / whole)


def standard_error(scores: Scores) -> float | None:
    """Return the standard error of measurement of a total, in marks.

    SD of the totals times sqrt(1 - alpha); None where alpha has no value.  A total
    within one such error of the pass mark is no sure pass and no sure fail.
    Source: classical test theory.

    >>> standard_error(np.array([[0.0, 0.0], [1.0, 1.0], [2.0, 2.0]]))
    0.0
    """
    alpha = cronbach_alpha(scores)
    if alpha is None:
        return None
    return float(scores.sum(axis=1).std(ddof=1)) * math.sqrt(max(0.0, 1.0 - alpha))


def wilson_interval(hits: int, of: int) -> Interval:
    """Return the 95 % interval of a share that was seen `hits` times among `of`.

    Raises ValueError unless 0 <= hits <= of and of > 0.
    Source: Wilson, JASA 22 (1927), without correction for continuity.

    >>> interval = wilson_interval(8, 12)
    >>> round(interval.low, 3), round(interval.high, 3)
    (0.391, 0.862)
    """
    if not 0 <= hits <= of or of <= 0:
        raise ValueError(f"{hits} of {of} is no share: give 0 to {of} hits of one or more")
    seen, z2 = hits / of, _Z95**2
    middle = (seen + z2 / (2 * of)) / (1 + z2 / of)
    half = _Z95 * math.sqrt(seen * (1 - seen) / of + z2 / (4 * of**2)) / (1 + z2 / of)
    return Interval(max(0.0, middle - half), min(1.0, middle + half))
