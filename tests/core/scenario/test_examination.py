"""Variations examined at once are judged as each would be by itself."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal

import numpy as np
import pytest

from coursekit.mechanics.many import case_by_case
from coursekit.rigging.search import safe_rigs
from coursekit.rigging.search.cases import safe_layouts
from coursekit.scenario.examination import Variations, examine, variations_of
from coursekit.scenario.model import Range, Scenario
from coursekit.scenario.numbers import at_indices, at_values
from coursekit.scenario.offer import Judged, judged, judged_cases, reference_of
from coursekit.scenario.proof import prove
from coursekit.scenario.vary import drawn_indices, vary
from tests.core.scenario.stock import IDS
from tests.core.scenario.stock import scenario as stocked
from tests.core.scenario.test_vary import MASS, SLOPE, TOTAL, scenario

VARIED = [name for name in IDS if stocked(name).vary]
WIDE = (
    Range("stuck_vehicle.mass", Decimal(1000), Decimal(26_000), Decimal(2500), "kg", Decimal(1)),
    Range("ground.slope", Decimal(0), Decimal(20), Decimal(5), "deg", Decimal(np.pi / 180.0)),
    Range("gear.bow-1.wll", Decimal(5), Decimal(50), Decimal(15), "kN", Decimal(1000)),
)


def wide() -> Scenario:
    """The verge with ranges that change the outcome, and slips that come near the truth."""
    asked = replace(TOTAL, catches=("tangent-for-sine", "grade-left-out"))
    return scenario(vary=WIDE, tasks=(asked,))


def numbers_of(variations: Variations, case: int) -> dict[str, float]:
    return {field: float(values[case]) for field, values in variations.fields.items()}


def at_once(own: Scenario, variations: Variations) -> list[Judged]:
    found: dict[int, Judged] = {}
    for cases, judgement in judged_cases(reference_of(own), variations.fields):
        found |= dict.fromkeys(cases.tolist(), judgement)
    return [found[case] for case in range(variations.examined)]


@pytest.mark.independent("each variation judged by itself, in plain floats")
@pytest.mark.parametrize("name", VARIED)
def test_variations_of_every_scenario_are_judged_as_each_by_itself(name: str) -> None:
    own = stocked(name)
    variations, reference = variations_of(own, 5_000), reference_of(own)
    together = at_once(own, variations)

    for case in range(0, variations.examined, variations.examined // 20 | 1):
        alone = judged(reference, at_values(own, numbers_of(variations, case)))
        assert together[case] == alone, numbers_of(variations, case)


@pytest.mark.independent("each variation judged by itself, in plain floats")
def test_wide_ranges_are_judged_as_each_variation_by_itself() -> None:
    own = wide()
    variations, reference = variations_of(own, 5_000), reference_of(own)
    together = at_once(own, variations)

    assert len({judgement.refusals for judgement in together}) > 4
    for case in range(0, variations.examined, 3):
        assert together[case] == judged(reference, at_values(own, numbers_of(variations, case)))


def test_every_combination_stands_once_in_its_arrays() -> None:
    variations = variations_of(scenario(), 5_000)

    assert variations.total == variations.examined == MASS.count * SLOPE.count
    pairs = set(zip(*(values.tolist() for values in variations.fields.values()), strict=True))
    grids = {(MASS.value(i), SLOPE.value(j)) for i in range(MASS.count) for j in range(SLOPE.count)}
    assert pairs == grids


def test_a_sample_holds_what_the_first_seeds_draw() -> None:
    own = scenario()
    variations = variations_of(own, 50)

    assert (variations.total, variations.examined) == (133, 50)
    for seed in range(50):
        drawn = at_indices(own, drawn_indices(own, seed)).situation
        assert variations.fields["stuck_vehicle.mass"][seed] == drawn.stuck.mass
        assert variations.fields["ground.slope"][seed] == drawn.ground.slope


def test_progress_comes_to_all_that_is_examined() -> None:
    own = wide()
    variations = variations_of(own, 5_000)
    told: list[tuple[int, int]] = []

    examine(reference_of(own), variations, lambda done, of: told.append((done, of)))

    assert told[-1] == (variations.examined, variations.examined)
    assert [done for done, _ in told] == sorted(done for done, _ in told)


def test_a_proof_says_where_the_weakest_changes_and_which_slips_come_near() -> None:
    own = wide()
    proof = prove(own)
    singles = [
        judged(reference_of(own), at_values(own, numbers_of(variations_of(own, 5_000), case)))
        for case in range(proof.examined)
    ]

    weakest = {found.kinds["given"].weakest for found in singles}
    assert dict(proof.weakest_in)["given"] == tuple(
        sorted(weakest, key=lambda item: -sum(f.kinds["given"].weakest == item for f in singles))
    )
    assert len(weakest) > 1
    assert proof.offered == sum(not found.refusals for found in singles)
    counts = {(task, slip): count for task, slip, count in proof.near}
    assert counts
    for (task, slip), count in counts.items():
        assert count == sum((task, slip) in found.near for found in singles)


@pytest.mark.pin
def test_seeds_keep_their_numbers() -> None:
    drawn = [tuple(vary(scenario(), seed).values.values()) for seed in (0, 1, 42)]

    assert drawn == [("2200 kg", "5 deg"), ("2650 kg", "7 deg"), ("2750 kg", "4 deg")]


@pytest.mark.independent("a search of its own for each variation, in plain floats")
@pytest.mark.parametrize("name", ["gully-bend", "tide-flat", "wash-road", "peat-cutting"])
def test_safe_layouts_are_counted_as_a_search_of_each_variation_counts_them(name: str) -> None:
    own = stocked(name)
    variations = variations_of(own, 5_000)
    safe = safe_layouts(lambda v: at_values(own, v).situation, variations.fields)

    for case in range(0, variations.examined, 4):
        varied = at_values(own, numbers_of(variations, case)).situation
        assert safe.counts[case] == len(safe_rigs(varied).rigs)


@pytest.mark.independent("a search of its own for each variation, in plain floats")
def test_safe_layouts_of_wide_ranges_are_those_of_a_search_of_each() -> None:
    own = scenario(vary=(replace(WIDE[0], step=Decimal(5000)), WIDE[2]))
    variations = variations_of(own, 5_000)
    safe = safe_layouts(lambda v: at_values(own, v).situation, variations.fields)

    assert len(set(safe.counts.tolist())) > 2
    for case in range(variations.examined):
        varied = at_values(own, numbers_of(variations, case)).situation
        assert safe.counts[case] == len(safe_rigs(varied).rigs)


def test_a_trap_that_tempts_nobody_is_told() -> None:
    traps = prove(replace(stocked("meadow-gate"), vary=())).idle_traps

    assert [trap.item for trap in traps] == ["bow-2", "sling-1"]


def test_a_variation_that_differs_from_all_others_is_told_apart() -> None:
    field = "stuck_vehicle.mass"
    masses = np.full(3_000, 2400.0)
    masses[1234] = 25_000.0

    def outcome(v: object) -> object:
        assert isinstance(v, dict)
        return judged(reference_of(scenario()), at_values(scenario(), {field: v[field]})).refusals

    groups = [cases.tolist() for cases, _ in case_by_case(outcome, {field: masses})]
    assert sorted(map(len, groups)) == [1, 2_999]
    assert [1234] in groups
