"""The peak of a kinetic pull in closed form, beside its equations of motion integrated.

Both give the same digits: the integrator is held to the tolerances at which it
meets the closed form within a part in a million.
"""

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from coursekit.mechanics.kinetic import peak_tension
from tests.reference.integration import Pull, integrate

pytestmark = pytest.mark.benchmark

# Masses 2,500 and 3,000 kg, 3 m/s, 50 kN/m, held with 20 kN.
PULL = Pull(2500.0, 3000.0, 3.0, 50e3, 20e3, 0.0)
EXPECTED = 31.7727e3


def test_the_peak_in_closed_form(benchmark: BenchmarkFixture) -> None:
    found = benchmark(peak_tension, *PULL.inputs)

    assert found == pytest.approx(EXPECTED, rel=1e-5)


def test_the_peak_by_integration(benchmark: BenchmarkFixture) -> None:
    found = benchmark(integrate, PULL)

    assert found.peak == pytest.approx(peak_tension(*PULL.inputs), rel=1e-6)
