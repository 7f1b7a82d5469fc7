"""Figures of a paper against those of a test whose answers were published person by person."""

import numpy as np
import pytest
from scipy import stats

from coursekit.assessment.statistics import (
    cronbach_alpha,
    discrimination,
    facility,
    item_rest_correlation,
    standard_error,
    wilson_interval,
)
from tests.reference.lsat import EACH_ONE_MARK, SECTION_6, SECTION_7
from tests.reference.sources import source

LSAT = "Bock and Lieberman, Psychometrika 35 (1970); alpha and facility as ltm prints them"


@source(LSAT)
def test_a_thousand_persons_make_the_published_scores() -> None:
    scores = SECTION_6.sum(axis=1)
    assert [int((scores == total).sum()) for total in range(6)] == [3, 20, 85, 237, 357, 298]
    assert [int((SECTION_7.sum(axis=1) == n).sum()) for n in range(6)] == [
        12,
        40,
        114,
        205,
        321,
        308,
    ]


@source(LSAT)
def test_facility_is_that_of_the_published_table() -> None:
    assert facility(SECTION_6, EACH_ONE_MARK).tolist() == pytest.approx(
        [0.924, 0.709, 0.553, 0.763, 0.870]
    )
    assert facility(SECTION_7, EACH_ONE_MARK).tolist() == pytest.approx(
        [0.828, 0.658, 0.772, 0.606, 0.843]
    )


@source(LSAT)
def test_alpha_is_295_and_453_thousandths() -> None:
    assert round(cronbach_alpha(SECTION_6) or 0.0, 4) == 0.2950
    assert round(cronbach_alpha(SECTION_7) or 0.0, 4) == 0.4534


@source(LSAT)
def test_the_standard_error_of_measurement_is_less_than_one_item() -> None:
    assert round(standard_error(SECTION_6) or 0.0, 4) == 0.8691
    assert round(standard_error(SECTION_7) or 0.0, 4) == 0.8861


@source("item-rest correlations of LSAT sections 6 and 7, computed with another library")
def test_each_item_goes_weakly_with_the_rest() -> None:
    assert item_rest_correlation(SECTION_6).tolist() == pytest.approx(
        [0.1128, 0.1532, 0.1728, 0.1444, 0.1216], abs=5e-5
    )
    assert item_rest_correlation(SECTION_7).tolist() == pytest.approx(
        [0.2457, 0.2467, 0.3132, 0.2228, 0.1748], abs=5e-5
    )


@pytest.mark.independent("product-moment correlation by scipy, item by item")
def test_item_rest_correlation_is_that_of_a_statistics_library() -> None:
    for item, figure in enumerate(item_rest_correlation(SECTION_6)):
        rest = np.delete(SECTION_6, item, axis=1).sum(axis=1)
        assert figure == pytest.approx(
            stats.pearsonr(SECTION_6[:, item], rest).statistic, abs=1e-12
        )


@source("discrimination of LSAT section 6, ties broken at random in the mean")
def test_ties_at_the_cut_are_shared_out() -> None:
    assert discrimination(SECTION_6, EACH_ONE_MARK).tolist() == pytest.approx(
        [0.1966, 0.6315, 0.8109, 0.5370, 0.3203], abs=5e-5
    )


@pytest.mark.independent("the mean over many random ways to break the ties")
def test_shared_ties_are_the_mean_of_broken_ones() -> None:
    random = np.random.default_rng(7)
    drawn = []
    for _ in range(300):
        order = np.lexsort((random.random(1000), SECTION_6.sum(axis=1)))
        lower, upper = SECTION_6[order[:270]], SECTION_6[order[-270:]]
        drawn.append(upper.mean(axis=0) - lower.mean(axis=0))
    expected = np.mean(drawn, axis=0)
    assert discrimination(SECTION_6, EACH_ONE_MARK).tolist() == pytest.approx(
        expected.tolist(), abs=0.004
    )


@source("upper and lower ten papers, five items: a textbook exercise, second-hand")
def test_the_index_of_an_exercise_with_two_groups_of_ten() -> None:
    upper, lower = (7, 9, 10, 5, 8), (3, 5, 7, 8, 7)
    for high, low, index in zip(upper, lower, (0.40, 0.40, 0.30, -0.30, 0.10), strict=True):
        # A second task puts the first ten papers into the upper group.
        item = [1.0] * high + [0.0] * (10 - high) + [1.0] * low + [0.0] * (10 - low)
        scores = np.array([[one, 10.0 * (i < 10)] for i, one in enumerate(item)])
        assert discrimination(scores, np.array([1.0, 10.0]), 0.5)[0] == pytest.approx(index)


@pytest.mark.independent("scipy's Wilson interval")
@pytest.mark.parametrize(("hits", "of"), [(7, 10), (8, 12), (24, 30), (0, 5), (5, 5), (1, 1000)])
def test_wilson_intervals_are_those_of_a_statistics_library(hits: int, of: int) -> None:
    expected = stats.binomtest(hits, of).proportion_ci(method="wilson")
    found = wilson_interval(hits, of)
    assert (found.low, found.high) == pytest.approx((expected.low, expected.high), abs=1e-12)


@pytest.mark.parametrize(("hits", "of"), [(-1, 3), (4, 3), (0, 0)])
def test_what_is_no_share_has_no_interval(hits: int, of: int) -> None:
    with pytest.raises(ValueError, match="no share"):
        wilson_interval(hits, of)
