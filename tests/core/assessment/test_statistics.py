"""Figures of a paper: what holds for any group, and where there is no figure."""

import math

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from coursekit.assessment.statistics import (
    Scores,
    cronbach_alpha,
    discrimination,
    facility,
    item_rest_correlation,
    standard_error,
)

MARKS = np.array([3.0, 2.0, 1.0])
PAPERS = arrays(np.int64, st.tuples(st.integers(2, 25), st.just(3)), elements=st.integers(0, 100))


def scores_of(shares: np.ndarray) -> Scores:
    return np.asarray(shares / 100.0 * MARKS, dtype=float)


@given(PAPERS, st.randoms(use_true_random=False))
def test_the_order_of_papers_changes_nothing(shares: np.ndarray, random: object) -> None:
    scores = scores_of(shares)
    shuffled = scores[np.random.default_rng(1).permutation(len(scores))]
    assert facility(shuffled, MARKS) == pytest.approx(facility(scores, MARKS))
    assert discrimination(shuffled, MARKS) == pytest.approx(discrimination(scores, MARKS))
    assert cronbach_alpha(shuffled) == pytest.approx(cronbach_alpha(scores))


@given(PAPERS)
def test_every_figure_stays_in_its_range(shares: np.ndarray) -> None:
    scores = scores_of(shares)
    assert ((facility(scores, MARKS) >= 0) & (facility(scores, MARKS) <= 1 + 1e-12)).all()
    assert (np.abs(discrimination(scores, MARKS)) <= 1 + 1e-12).all()
    figures = item_rest_correlation(scores)
    assert (np.abs(figures[~np.isnan(figures)]) <= 1 + 1e-9).all()
    alpha = cronbach_alpha(scores)
    assert alpha is None or alpha <= 1 + 1e-9


@given(PAPERS, st.floats(0.5, 4.0))
def test_other_marks_for_the_whole_paper_leave_what_has_no_unit(
    shares: np.ndarray, factor: float
) -> None:
    scores = scores_of(shares)
    alpha, error = cronbach_alpha(scores), standard_error(scores)
    assume(alpha is not None and scores.sum(axis=1).var() > 1e-6)
    assert cronbach_alpha(scores * factor) == pytest.approx(alpha)
    assert standard_error(scores * factor) == pytest.approx((error or 0.0) * factor, abs=1e-6)


def test_where_everyone_masters_a_task_there_is_no_correlation() -> None:
    scores = np.array([[1.0, 0.0, 1.0], [1.0, 1.0, 0.0], [1.0, 1.0, 1.0]])
    first, second, _third = item_rest_correlation(scores)
    assert math.isnan(first)
    assert not math.isnan(second)
    assert discrimination(scores, np.ones(3))[0] == 0.0


@pytest.mark.parametrize("scores", [np.ones((5, 3)), np.array([[1.0, 2.0]]), np.ones((4, 1))])
def test_where_nothing_varies_there_is_no_alpha_and_no_error(scores: Scores) -> None:
    assert cronbach_alpha(scores) is None
    assert standard_error(scores) is None
