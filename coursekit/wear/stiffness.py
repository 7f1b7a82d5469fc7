"""How stiff a rope is by what load cells measured: one factor on what is stated of it.

Each measured kinetic pull is solved again with the rope's stated stiffness times a factor;
the factor that brings all solved peaks nearest to the measured ones is the fit.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from coursekit.mechanics.nomenclature import Newton, Ratio

Floats = NDArray[np.float64]

LEAST: Final[Ratio] = 0.2
MOST: Final[Ratio] = 5.0
"""Factors that are tried: what fits beyond them is no rope as it is stated."""

_TRIED: Final = 41
_STEPS: Final = 30
_SMALL: Final = 1e-4
_DEAF: Final = 1e-3
"""Below this share of the peak for a share of the stiffness, a pull says nothing of it."""


@dataclass(frozen=True)
class MeasuredSnatch:
    """One measured kinetic pull: the peak in the rope, and what is solved for a factor."""

    measured: Newton
    peak_of: Callable[[Ratio], Newton]


@dataclass(frozen=True)
class StiffnessFit:
    """The factor on a rope's stated stiffness that fits its measured peaks best.

    `lowest` and `highest` are the factors that single pulls alone would give; equal to one
    of the ends `LEAST` and `MOST` where no factor between them would do.
    """

    factor: Ratio
    lowest: Ratio
    highest: Ratio

    @property
    def is_at_an_end(self) -> bool:
        """Whether the best factor is the end of those that are tried: then nothing fits."""
        return not LEAST * 1.001 < self.factor < MOST / 1.001


def fit_stiffness(pulls: Sequence[MeasuredSnatch]) -> StiffnessFit | None:
    r"""Return the factor whose solved peaks come nearest to the measured ones.

    .. math:: \min_f \sum_i (T_i(f) / M_i - 1)^2

    Relative misses are squared, so that a hard pull counts no more than a gentle one; the
    factor is sought by its logarithm, on a grid first, then by Gauss's and Newton's steps.
    None where there is no pull, or no peak depends on the stiffness (no closing speed).

    Limits: it puts everything that the model leaves out (damping, weight and speed taken
    wrongly, mounts that give) on the stiffness.  Safe side: neither; it proves no rope sound.
    Source: least squares, NIST/SEMATECH e-Handbook of Statistical Methods, 4.4.3.1.

    >>> pulls = [MeasuredSnatch(v * 3e4, lambda f, v=v: v * 2e4 * f**0.5) for v in (1, 2)]
    >>> round(fit_stiffness(pulls).factor, 6)
    2.25
    """
    if not pulls:
        return None
    tried = np.linspace(math.log(LEAST), math.log(MOST), _TRIED)
    misses = np.array([_misses(pulls, log) for log in tried])
    if float(np.ptp(misses, axis=0).max()) < _DEAF:
        return None
    best = _descend(pulls, float(tried[(misses**2).sum(axis=1).argmin()]))
    alone = [_alone(tried, of_one) for of_one in misses.T if np.ptp(of_one) >= _DEAF]
    return StiffnessFit(math.exp(best), math.exp(min(alone)), math.exp(max(alone)))


def _misses(pulls: Sequence[MeasuredSnatch], log: float) -> Floats:
    factor = math.exp(log)
    return np.array([pull.peak_of(factor) / pull.measured - 1.0 for pull in pulls])


def _descend(pulls: Sequence[MeasuredSnatch], log: float) -> float:
    """Return the logarithm of the best factor, from one of the grid near it."""
    best, least = log, float((_misses(pulls, log) ** 2).sum())
    for _ in range(_STEPS):
        here = _misses(pulls, log)
        slopes = (_misses(pulls, log + _SMALL) - _misses(pulls, log - _SMALL)) / (2 * _SMALL)
        step = -float(slopes @ here) / float(slopes @ slopes)
        log = min(math.log(MOST), max(math.log(LEAST), log + step))
        squares = float((_misses(pulls, log) ** 2).sum())
        if squares >= least:
            break
        best, least = log, squares
    return best


def _alone(
    tried: Floats,
    misses: Floats,
) -> float:
    """Return the logarithm of the factor that one pull alone would give: peaks rise with it."""
    return float(np.interp(0.0, np.maximum.accumulate(misses), tried))
