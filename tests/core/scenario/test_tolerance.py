"""How near is near enough: shares of the truth, whatever kind of quantity it is."""

import pytest

from coursekit.scenario.tasks import Tolerance


@pytest.mark.parametrize(
    ("truth", "near", "far"),
    [
        pytest.param(1.95, 2.04, 2.06, id="an advantage"),
        pytest.param(1.50, 1.57, 1.58, id="metres per second"),
        pytest.param(8.00, 8.40, 8.41, id="metres"),
        pytest.param(6.3e3, 6.61e3, 6.62e3, id="newtons"),
    ],
)
def test_a_share_means_the_same_for_every_kind(truth: float, near: float, far: float) -> None:
    tolerance = Tolerance(below=0.05, above=0.05)

    assert tolerance.accepts(near, truth)
    assert not tolerance.accepts(far, truth)


def test_nothing_is_a_right_answer_where_the_truth_is_dust() -> None:
    assert Tolerance(below=0.03, above=0.08).accepts(0.0, 1.6e-12)


def test_nothing_is_no_answer_to_a_small_share() -> None:
    assert not Tolerance(below=0.05, above=0.05).accepts(0.0, 0.2)
