"""Agreement of assessors against published tables and a reference library."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

from coursekit.assessment.agreement import (
    Weights,
    cohen_kappa,
    fleiss_kappa,
    intraclass_correlations,
)

# Fleiss, 1971: six psychiatrists, thirty patients, five diagnoses (table from memory; kappa
# and z below are those printed).
DIAGNOSES = (
    (0, 0, 0, 6, 0), (0, 3, 0, 0, 3), (0, 1, 4, 0, 1), (0, 0, 0, 0, 6), (0, 3, 0, 3, 0),
    (2, 0, 4, 0, 0), (0, 0, 4, 0, 2), (2, 0, 3, 1, 0), (2, 0, 0, 4, 0), (0, 0, 0, 0, 6),
    (1, 0, 0, 5, 0), (1, 1, 0, 4, 0), (0, 3, 3, 0, 0), (1, 0, 0, 5, 0), (0, 2, 0, 3, 1),
    (0, 0, 5, 0, 1), (3, 0, 0, 1, 2), (5, 1, 0, 0, 0), (0, 2, 0, 4, 0), (1, 0, 2, 0, 3),
    (0, 0, 0, 0, 6), (0, 1, 0, 5, 0), (0, 2, 0, 1, 3), (2, 0, 0, 4, 0), (1, 0, 0, 4, 1),
    (0, 5, 0, 1, 0), (4, 0, 0, 0, 2), (0, 2, 0, 4, 0), (1, 0, 5, 0, 0), (0, 0, 0, 0, 6),
)  # fmt: skip
TEN_BY_FIVE = (
    (0, 0, 0, 0, 14), (0, 2, 6, 4, 2), (0, 0, 3, 5, 6), (0, 3, 9, 2, 0), (2, 2, 8, 1, 1),
    (7, 7, 0, 0, 0), (3, 2, 6, 3, 0), (2, 5, 3, 2, 2), (6, 5, 2, 1, 0), (0, 2, 2, 3, 7),
)  # fmt: skip
SIX_BY_FOUR = ((9, 2, 5, 8), (6, 1, 3, 2), (8, 4, 6, 8), (7, 1, 2, 6), (10, 5, 6, 9), (6, 2, 4, 7))

tables = arrays(np.int64, (3, 3), elements=st.integers(0, 40))


@pytest.mark.source("the usual textbook table of two raters (from memory); SE and interval printed")
def test_two_by_two() -> None:
    kappa = cohen_kappa([[20, 5], [10, 15]])
    assert kappa is not None
    assert (kappa.agreed, kappa.by_chance) == pytest.approx((0.70, 0.50))
    assert kappa.value == pytest.approx(0.4000, abs=5e-5)
    assert (kappa.error, kappa.null_error) == pytest.approx((0.1270, 0.1386), abs=5e-5)
    assert (kappa.interval.low, kappa.interval.high) == pytest.approx((0.151, 0.649), abs=5e-4)


@pytest.mark.source("two textbook tables with the same agreement and other margins")
@pytest.mark.parametrize(
    ("table", "printed"), [([[45, 15], [25, 15]], 0.1304), ([[25, 35], [5, 35]], 0.2593)]
)
def test_the_same_agreement_with_other_margins(table: list[list[int]], printed: float) -> None:
    kappa = cohen_kappa(table)
    assert kappa is not None
    assert kappa.agreed == pytest.approx(0.60)
    assert kappa.value == pytest.approx(printed, abs=5e-5)


@pytest.mark.source("printout of a statistics package kept in the tests of statsmodels")
@pytest.mark.parametrize(
    ("weights", "value", "error"), [("none", 0.4842, 0.1380), ("linear", 0.4701, 0.1457)]
)
def test_a_printed_table_of_three_levels(weights: Weights, value: float, error: float) -> None:
    kappa = cohen_kappa([[0, 4, 1], [0, 8, 0], [0, 1, 5]], weights)
    assert kappa is not None
    assert (kappa.value, kappa.error) == pytest.approx((value, error), abs=5e-5)
    if weights == "none":
        ends = kappa.interval.low, kappa.interval.high
        assert ends == pytest.approx((0.2137, 0.7547), abs=5e-5)
        assert kappa.z == pytest.approx(3.2626, abs=5e-5)


@pytest.mark.source("a manual's table of two raters at three levels; values by scikit-learn 1.9.1")
@pytest.mark.parametrize(
    ("weights", "value"),
    [("none", 0.4954545454545455), ("linear", 0.5167910447761194), ("quadratic", 0.5425824175824)],
)
def test_weights_count_far_misses_more(weights: Weights, value: float) -> None:
    kappa = cohen_kappa([[5, 3, 2], [1, 12, 2], [0, 4, 8]], weights)
    assert kappa is not None
    assert kappa.value == pytest.approx(value, abs=1e-9)


@pytest.mark.source("Fleiss, 1971: 30 patients, 6 raters; kappa and z by statsmodels' own tests")
def test_many_raters() -> None:
    kappa = fleiss_kappa(DIAGNOSES)
    assert kappa is not None
    assert kappa.value == pytest.approx(0.4302445, abs=5e-8)
    assert kappa.z == pytest.approx(17.65183, abs=5e-6)


@pytest.mark.source("worked example of Fleiss' kappa: 14 raters, 10 subjects, 5 categories")
def test_fourteen_raters() -> None:
    kappa = fleiss_kappa(TEN_BY_FIVE)
    assert kappa is not None
    assert kappa.value == pytest.approx(0.2099, abs=5e-5)


@pytest.mark.source("Shrout and Fleiss, 1979 (data from memory); more digits by pingouin 0.7")
def test_six_forms_of_the_intraclass_correlation() -> None:
    found = intraclass_correlations(SIX_BY_FOUR)
    assert found is not None
    forms = (
        found.one_way,
        found.agreement,
        found.consistency,
        found.one_way_mean,
        found.agreement_mean,
        found.consistency_mean,
    )
    assert forms == pytest.approx((0.17, 0.29, 0.71, 0.44, 0.62, 0.91), abs=5e-3)
    assert forms == pytest.approx((0.1657, 0.2898, 0.7148, 0.4428, 0.6201, 0.9093), abs=5e-5)


@pytest.mark.independent("the analysis of variance by least squares on dummy columns")
@given(arrays(np.float64, (5, 3), elements=st.integers(0, 20)))
def test_mean_squares_are_those_of_a_regression(marks: np.ndarray) -> None:
    assume(float(np.ptp(marks.mean(axis=1))) > 0)
    found = intraclass_correlations(marks)
    assert found is not None
    students, judges = marks.shape
    rows, columns = np.indices(marks.shape)
    one = np.ones((marks.size, 1))
    by_student = (rows.reshape(-1, 1) == np.arange(1, students)).astype(float)
    by_judge = (columns.reshape(-1, 1) == np.arange(1, judges)).astype(float)

    def left(*parts: np.ndarray) -> float:
        design, flat = np.hstack(parts), marks.reshape(-1)
        return float(((flat - design @ np.linalg.lstsq(design, flat, rcond=None)[0]) ** 2).sum())

    rest = left(one, by_student, by_judge) / ((students - 1) * (judges - 1))
    between = (left(one, by_judge) - left(one, by_student, by_judge)) / (students - 1)
    expected = (between - rest) / (between + (judges - 1) * rest)
    assert found.consistency == pytest.approx(expected, abs=1e-9)


@given(tables)
def test_it_does_not_matter_who_is_first(table: np.ndarray) -> None:
    assume(table.sum() > 0)
    kinds: tuple[Weights, ...] = ("none", "linear", "quadratic")
    for weights in kinds:
        one, other = cohen_kappa(table, weights), cohen_kappa(table.T, weights)
        if one is None or other is None:
            assert one is other
        else:
            assert one.value == pytest.approx(other.value, abs=1e-9)
            assert one.error == pytest.approx(other.error, abs=1e-7)
            assert one.value <= 1 + 1e-12


@given(tables, st.permutations(range(3)))
def test_names_of_categories_do_not_matter_without_weights(
    table: np.ndarray, order: list[int]
) -> None:
    assume(table.sum() > 0)
    one, other = cohen_kappa(table), cohen_kappa(table[np.ix_(order, order)])
    if one is None or other is None:
        assert one is other
    else:
        assert one.value == pytest.approx(other.value, abs=1e-9)


@given(tables)
def test_full_agreement_is_one(table: np.ndarray) -> None:
    only = np.diag(np.diag(table))
    assume((np.diag(table) > 0).sum() > 1)
    kappa = cohen_kappa(only)
    assert kappa is not None
    assert kappa.value == pytest.approx(1.0)


@pytest.mark.independent("two raters as counts by category: the form for many raters, by hand")
@given(tables)
def test_two_raters_of_fleiss_agree_as_often_as_those_of_cohen(table: np.ndarray) -> None:
    assume(table.sum() > 0)
    judged = []
    for row in range(3):
        for column in range(3):
            counts = [int(row == kind) + int(column == kind) for kind in range(3)]
            judged += [counts] * int(table[row, column])
    cohen, fleiss = cohen_kappa(table), fleiss_kappa(judged)
    if cohen is not None and fleiss is not None:
        assert cohen.agreed == pytest.approx(fleiss.agreed)


@pytest.mark.parametrize("table", [[[1, 2]], [[0, 0], [0, 0]], [[-1, 2], [3, 4]], [1, 2]])
def test_what_is_no_table_is_refused(table: list[list[int]]) -> None:
    with pytest.raises(ValueError, match="table needs"):
        cohen_kappa(table)


def test_what_is_not_defined_is_none() -> None:
    assert fleiss_kappa([[3, 0], [3, 0]]) is None
    assert intraclass_correlations([[2, 2], [2, 2]]) is None
    with pytest.raises(ValueError, match="same number"):
        fleiss_kappa([[3, 0], [1, 1]])
    with pytest.raises(ValueError, match="two students"):
        intraclass_correlations([[1, 2]])
