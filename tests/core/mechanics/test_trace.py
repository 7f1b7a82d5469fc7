"""Forces over time: what samples may miss of a peak."""

from math import pi, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.mechanics.trace import ForceTrace


def half_swing(omega: float) -> ForceTrace:
    times = np.linspace(0.0, pi / omega, 4001)
    return ForceTrace(times, np.sin(omega * times))


@given(st.floats(2.0, 40.0), st.floats(0.0, 1.0), st.integers(3, 40))
def test_samples_never_miss_more_of_a_swing_than_is_said(
    omega: float, offset: float, in_half: int
) -> None:
    interval = pi / omega / in_half
    sampled = max(sin(omega * (offset + number) * interval) for number in range(in_half))
    missed = half_swing(omega).missed_share(interval)

    assert 1.0 - sampled <= missed + 1e-6
    # Two readings astride the peak of a sine, half an interval off it each.
    assert missed == pytest.approx(1.0 - np.cos(omega * interval / 2), abs=1e-5)


@given(
    st.lists(st.floats(0.0, 10.0), min_size=3, max_size=40).filter(lambda f: max(f) > 0.01),
    st.floats(0.001, 2.0),
    st.floats(1.01, 3.0),
)
def test_longer_intervals_never_miss_less(
    forces: list[float], interval: float, longer: float
) -> None:
    trace = ForceTrace(np.linspace(0.0, 1.0, len(forces)), np.array(forces))

    assert trace.missed_share(interval) <= trace.missed_share(longer * interval) + 1e-9


@pytest.mark.parametrize(
    ("forces", "steps"), [([0, 1, 3, 3, 3, 2], 2), ([0, 3, 2, 3, 0], 0), ([0, 1, 3, 3], 1)]
)
def test_it_is_flat_while_the_first_highest_sample_stands(forces: list[int], steps: int) -> None:
    trace = ForceTrace(np.linspace(0.0, 0.1 * (len(forces) - 1), len(forces)), np.array(forces))

    assert trace.flat_time == pytest.approx(0.1 * steps)


def test_an_interval_as_long_as_the_pull_may_miss_all_of_it() -> None:
    assert half_swing(pi).missed_share(1.0) == 1.0


@given(st.lists(st.floats(-5.0, 10.0), min_size=2, max_size=400), st.integers(4, 50))
def test_a_thinned_trace_keeps_the_highest_and_the_lowest_sample(
    forces: list[float], most: int
) -> None:
    trace = ForceTrace(np.linspace(0.0, 1.0, len(forces)), np.array(forces))
    thin = trace.thinned(most)

    assert thin.times.size <= most
    assert (thin.peak, thin.forces.min()) == (trace.peak, trace.forces.min())
    assert (np.diff(thin.times) > 0.0).all()
