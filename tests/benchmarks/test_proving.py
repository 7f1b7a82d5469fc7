"""Variations proven per second at once and one at a time, and a proof of 5,000 of 25 items."""

from dataclasses import replace
from decimal import Decimal

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from coursekit.mechanics.resistance import weight
from coursekit.rigging.spread import SAMPLES, uncertainty_of
from coursekit.scenario.examination import Variations, variations_of
from coursekit.scenario.model import Range, Scenario
from coursekit.scenario.numbers import at_values
from coursekit.scenario.offer import judged, judged_cases, reference_of
from coursekit.scenario.proof import prove
from tests.benchmarks.conftest import Report
from tests.core.scenario.stock import scenario as stocked

pytestmark = pytest.mark.benchmark

NAME, ITEMS, VARIATIONS = "gully-bend", 25, 5_000
ONE_BY_ONE = 100


@pytest.fixture(scope="module")
def measured() -> Scenario:
    """A scenario of the repository with more gear, and ranges in finer steps."""
    own = stocked(NAME)
    gear = dict(own.situation.gear)
    spare = [item for item in gear.values() if item.length is None][: ITEMS - len(gear)]
    for number in range(ITEMS - len(gear)):
        item = spare[number % len(spare)]
        wll = None if item.wll is None else item.wll + weight(10.0 * (number + 1))
        gear[f"spare-{number}"] = replace(item, id=f"spare-{number}", wll=wll)
    finer = (
        Range(
            "ground.rolling", Decimal("0.44"), Decimal("0.49"), Decimal("0.0025"), "", Decimal(1)
        ),
        Range("stuck_vehicle.mass", Decimal(3700), Decimal(4000), Decimal(1), "kg", Decimal(1)),
    )
    return replace(own, situation=replace(own.situation, gear=gear), vary=finer)


@pytest.fixture(scope="module")
def variations(measured: Scenario) -> Variations:
    return variations_of(measured, VARIATIONS)


def test_variations_judged_at_once(
    benchmark: BenchmarkFixture, measured: Scenario, variations: Variations
) -> None:
    reference = reference_of(measured)
    groups = benchmark(lambda: list(judged_cases(reference, variations.fields)))

    assert sum(len(cases) for cases, _ in groups) == VARIATIONS


def test_variations_judged_one_by_one(
    benchmark: BenchmarkFixture, measured: Scenario, variations: Variations
) -> None:
    reference = reference_of(measured)

    def one_by_one() -> int:
        return len(
            [
                judged(
                    reference,
                    at_values(measured, {f: float(v[case]) for f, v in variations.fields.items()}),
                )
                for case in range(ONE_BY_ONE)
            ]
        )

    assert benchmark.pedantic(one_by_one, rounds=3) == ONE_BY_ONE


def test_a_proof_of_five_thousand_variations(
    benchmark: BenchmarkFixture, measured: Scenario, report: Report
) -> None:
    proof = benchmark.pedantic(lambda: prove(measured, most=VARIATIONS), rounds=1)

    assert proof.examined == VARIATIONS
    report(
        f"{len(measured.situation.gear)} items, {proof.layouts} layouts, "
        f"{proof.safe_layouts[0]} to {proof.safe_layouts[1]} safe in each variation"
    )


def test_ten_thousand_samples_of_the_spread(
    benchmark: BenchmarkFixture, measured: Scenario
) -> None:
    rig = measured.rigs["given"]
    found = benchmark(uncertainty_of, measured.situation, rig, 1)

    assert found.samples == SAMPLES
