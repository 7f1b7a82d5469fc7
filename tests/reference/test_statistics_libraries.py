"""Figures of papers and of assessors to nine decimals, against the digits of other libraries.

The digits are those that pingouin 0.7.0 and statsmodels 0.15.0 printed for the published
tables of the tests beside this one; where neither has a figure, it is counted out whole.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import permutations
from math import sqrt

import numpy as np
import pytest

from coursekit.assessment.agreement import (
    Weights,
    cohen_kappa,
    fleiss_kappa,
    intraclass_correlations,
)
from coursekit.assessment.statistics import (
    Scores,
    cronbach_alpha,
    discrimination,
    standard_error,
)
from tests.reference.lsat import SECTION_6, SECTION_7
from tests.reference.test_agreement_of_assessors import DIAGNOSES, SIX_BY_FOUR, TEN_BY_FIVE

NINE = 1e-9
LEVELS = [[0, 4, 1], [0, 8, 0], [0, 1, 5]]
MANUAL = [[5, 3, 2], [1, 12, 2], [0, 4, 8]]
MARGINS = [[45, 15], [25, 15]]


@pytest.mark.source("pingouin 0.7.0, cronbach_alpha, on Bock and Lieberman's two sections")
@pytest.mark.parametrize(
    ("scores", "alpha", "error"),
    [
        (SECTION_6, 0.294997192215944, 0.8690666123933061),
        (SECTION_7, 0.4534087353874264, 0.8861299149821238),
    ],
    ids=["section 6", "section 7"],
)
def test_alpha_and_the_standard_error_of_measurement(
    scores: Scores, alpha: float, error: float
) -> None:
    """The error is the library's alpha with numpy's deviation of the totals."""
    assert cronbach_alpha(scores) == pytest.approx(alpha, abs=NINE)
    assert standard_error(scores) == pytest.approx(error, abs=NINE)


@pytest.mark.source("statsmodels 0.15.0, cohens_kappa: kappa, its error, its error under chance")
@pytest.mark.parametrize(
    ("table", "weights", "printed"),
    [
        (MARGINS, "none", (0.13043478260869554, 0.0986615376234396, 0.09760845356801592)),
        (LEVELS, "none", (0.48416289592760187, 0.1380135783058146, 0.1483982818901329)),
        (LEVELS, "linear", (0.4701195219123506, 0.14574604514192566, 0.14258507762473158)),
        (LEVELS, "quadratic", (0.4501607717041801, 0.19223266335726072, 0.187919468304494)),
        (MANUAL, "none", (0.4954545454545454, 0.1179873545926755, 0.11616354495187962)),
        (MANUAL, "linear", (0.5167910447761194, 0.12096718908064852, 0.12172355490695158)),
        (MANUAL, "quadratic", (0.5425824175824175, 0.14252548192943454, 0.1613171507887729)),
    ],
)
def test_kappa_of_two_assessors_with_both_its_errors(
    table: list[list[int]], weights: Weights, printed: tuple[float, ...]
) -> None:
    kappa = cohen_kappa(table, weights)
    assert kappa is not None
    assert (kappa.value, kappa.error, kappa.null_error) == pytest.approx(printed, abs=NINE)


@pytest.mark.source("statsmodels 0.15.0, fleiss_kappa")
@pytest.mark.parametrize(
    ("ratings", "printed"),
    [(DIAGNOSES, 0.43024452006014074), (TEN_BY_FIVE, 0.20993070442195522)],
    ids=["six raters", "fourteen raters"],
)
def test_kappa_of_many_assessors(ratings: tuple[tuple[int, ...], ...], printed: float) -> None:
    kappa = fleiss_kappa(ratings)
    assert kappa is not None
    assert kappa.value == pytest.approx(printed, abs=NINE)


@pytest.mark.independent("Fleiss, Nee and Landis, 1979 (from memory), in exact fractions")
@pytest.mark.parametrize("ratings", [DIAGNOSES, TEN_BY_FIVE], ids=["six", "fourteen"])
def test_the_error_of_many_assessors_under_chance(ratings: tuple[tuple[int, ...], ...]) -> None:
    students, raters = len(ratings), sum(ratings[0])
    shares = [Fraction(sum(column), students * raters) for column in zip(*ratings, strict=True)]
    doubt = sum(p * (1 - p) for p in shares)
    skew = sum(p * (1 - p) * ((1 - p) - p) for p in shares)
    variance = 2 * (doubt**2 - skew) / (students * raters * (raters - 1) * doubt**2)
    kappa = fleiss_kappa(ratings)
    assert kappa is not None
    assert kappa.null_error == pytest.approx(sqrt(variance), abs=NINE)


@pytest.mark.source("pingouin 0.7.0, intraclass_corr, on the table of Shrout and Fleiss, 1979")
def test_the_six_intraclass_correlations() -> None:
    found = intraclass_correlations(SIX_BY_FOUR)
    assert found is not None
    forms = (found.one_way, found.agreement, found.consistency,
             found.one_way_mean, found.agreement_mean, found.consistency_mean)  # fmt: skip
    printed = (0.1657417684054755, 0.28976377952755916, 0.7148407148407154,
               0.44279713367926876, 0.6200505475989893, 0.9093155423770697)  # fmt: skip
    assert forms == pytest.approx(printed, abs=NINE)


@pytest.mark.independent("every order of seven papers with ties, each counted once")
def test_discrimination_is_the_mean_over_all_ways_to_break_ties() -> None:
    scores = np.array(
        [[2, 1, 0], [0, 1, 1], [2, 0, 1], [1, 1, 1], [0, 0, 2], [2, 1, 2], [1, 0, 0]], dtype=float
    )
    out_of = np.array([2.0, 1.0, 2.0])
    totals = scores.sum(axis=1)
    orders = [
        order for order in permutations(range(7)) if np.all(np.diff(totals[list(order)]) >= 0)
    ]
    assert len(orders) > 1
    gaps = [(scores[list(o[-2:])] - scores[list(o[:2])]).mean(axis=0) for o in orders]
    expected = np.mean(gaps, axis=0) / out_of
    found = discrimination(scores, out_of, share=2 / 7)
    assert found.tolist() == pytest.approx(expected.tolist(), abs=NINE)
