"""Cuts of panels and of borderline regression, against printed tables and a reference library."""

import numpy as np
import pytest
import scipy.stats
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from coursekit.assessment.standards import (
    NoStandard,
    borderline_cut,
    panel_cut,
    student_quantile,
)

PANEL = np.array(
    [
        [0.60, 0.70, 0.80, 0.50, 0.90],
        [0.55, 0.75, 0.85, 0.40, 0.95],
        [0.65, 0.65, 0.75, 0.45, 0.90],
        [0.70, 0.80, 0.80, 0.55, 0.85],
    ]
)
ONE_EACH = np.ones(5)
# 1 fail, 2 borderline, 3 pass, 4 good; scores out of 20.
GRADES = np.array([1, 1, 2, 2, 2, 3, 3, 3, 4, 4], dtype=float)
SCORES = np.array([8, 10, 11, 13, 12, 15, 16, 14, 18, 19], dtype=float)

chances = arrays.arrays(np.float64, (4, 3), elements=st.floats(0.0, 1.0))


@pytest.mark.independent("worked by hand: four judges' sums 3.50, 3.50, 3.40, 3.70")
def test_a_panel_of_four_judges_on_five_tasks() -> None:
    panel = panel_cut(PANEL, ONE_EACH)

    assert panel.sums == pytest.approx((3.50, 3.50, 3.40, 3.70))
    assert panel.cut == pytest.approx(3.525)
    assert panel.share == pytest.approx(0.705)
    assert panel.standard_deviation == pytest.approx(0.1258, abs=5e-5)
    # Tasks as subjects, judges as raters, ICC(A,1): pingouin 0.7.0.
    assert panel.agreement == pytest.approx(0.8910394265232976, abs=1e-9)
    assert panel.standard_error == pytest.approx(0.0629, abs=5e-5)
    assert panel.interval.low == pytest.approx(3.325, abs=5e-4)
    assert panel.interval.high == pytest.approx(3.725, abs=5e-4)
    assert panel.expected == pytest.approx((0.625, 0.725, 0.800, 0.475, 0.900))


@pytest.mark.independent("scipy.stats.t.interval for the mean of the judges' sums")
@given(chances)
def test_the_interval_is_that_of_a_reference_library(ratings: np.ndarray) -> None:
    marks = np.array([3.0, 1.0, 2.0])
    panel, sums = panel_cut(ratings, marks), ratings @ marks
    if panel.standard_error > 1e-9:
        low, high = scipy.stats.t.interval(0.95, 3, sums.mean(), scipy.stats.sem(sums))
        assert (panel.interval.low, panel.interval.high) == pytest.approx((low, high))


@pytest.mark.independent("scipy.stats.t.ppf")
@pytest.mark.parametrize("freedom", [*range(1, 31), 59, 60, 200])
def test_students_quantile_is_that_of_a_reference_library(freedom: int) -> None:
    for share in (0.5, 0.9, 0.95, 0.99):
        expected = scipy.stats.t.ppf((1.0 + share) / 2.0, freedom)
        assert student_quantile(freedom, share) == pytest.approx(expected, rel=1e-9)


@given(chances)
def test_marks_only_weigh_the_tasks(ratings: np.ndarray) -> None:
    marks = np.array([3.0, 1.0, 2.0])
    once, twice = panel_cut(ratings, marks), panel_cut(ratings, 2.0 * marks)

    assert twice.share == pytest.approx(once.share)
    assert sum(once.expected) == pytest.approx(once.cut)
    assert 0.0 <= once.share <= 1.0 + 1e-12


def test_judges_who_agree_leave_no_doubt() -> None:
    panel = panel_cut(np.full((3, 2), 0.7), np.array([4.0, 6.0]))

    assert panel.cut == pytest.approx(7.0)
    assert panel.standard_error == pytest.approx(0.0, abs=1e-12)
    assert panel.interval.low == pytest.approx(panel.interval.high)


@pytest.mark.parametrize(
    "ratings", [np.full((1, 2), 0.5), np.empty((2, 0)), np.array([[0.5], [1.5]])]
)
def test_no_cut_follows_from_too_little_or_from_no_chances(ratings: np.ndarray) -> None:
    with pytest.raises(NoStandard):
        panel_cut(ratings, np.ones(ratings.shape[1]))


@pytest.mark.independent("scipy.stats.linregress, and the sums by hand")
def test_borderline_regression_of_ten_papers() -> None:
    line = borderline_cut(GRADES, SCORES, 2.0)
    reference = scipy.stats.linregress(GRADES, SCORES)

    assert line.slope == pytest.approx(3.1429, abs=5e-5)
    assert line.intercept == pytest.approx(5.7429, abs=5e-5)
    assert line.cut == pytest.approx(12.029, abs=5e-4)
    assert line.determination == pytest.approx(0.9394, abs=5e-5)
    assert line.residual_error == pytest.approx(0.914, abs=5e-4)
    assert line.standard_error == pytest.approx(0.322, abs=5e-4)
    assert (line.slope, line.intercept) == pytest.approx((reference.slope, reference.intercept))
    assert line.determination == pytest.approx(reference.rvalue**2)
    assert sum(line.cut > SCORES) == 4


@pytest.mark.parametrize(
    ("grades", "scores"),
    [([1.0, 2.0], [1.0, 2.0]), ([2.0, 2.0, 2.0], [1.0, 2.0, 3.0]), ([1.0, 2.0, 3.0], [5.0] * 3)],
)
def test_no_line_follows_from_too_little(grades: list[float], scores: list[float]) -> None:
    with pytest.raises(NoStandard):
        borderline_cut(np.array(grades), np.array(scores), 2.0)
