"""Fresh numbers: the same everywhere, on the grid, and never a misleading set."""

from __future__ import annotations

import hashlib
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.rigging.search import safe_rigs
from coursekit.rigging.site import Ground
from coursekit.rigging.solver import solve
from coursekit.scenario.model import Range, Scenario
from coursekit.scenario.numbers import at_indices
from coursekit.scenario.offer import reference_of, refusals, slip_distances
from coursekit.scenario.proof import prove
from coursekit.scenario.tasks import QuantityTask, Tolerance
from coursekit.scenario.vary import Unsolvable, drawn_indices, vary, vary_unlike
from tests.core.world import GEAR, deg, redirect, single_line, situation

MASS = Range("stuck_vehicle.mass", Decimal(2200), Decimal(3100), Decimal(50), "kg", Decimal(1))
SLOPE = Range("ground.slope", Decimal(4), Decimal(10), Decimal(1), "deg", Decimal(deg(1.0)))
TOTAL = QuantityTask("total", 3, of="resistance.total", tolerance=Tolerance(0.03, 0.08))
# Enough for each method and a redirect; each further piece multiplies what is searched.
FEW = ("winch-line", "bow-1", "bow-2", "soft-1", "sling-1", "block-1", "rope-k", "damper-1")


def scenario(**more: Any) -> Scenario:
    plain = Scenario(
        "verge",
        "Off the verge",
        "foundation",
        "",
        situation(
            ground=Ground(None, 0.14, deg(8.0), deg(270.0)),
            gear={item.id: item for item in GEAR if item.id in FEW},
        ),
        (TOTAL,),
        "sha256:verge",
        rigs={"given": single_line()},
        vary=(MASS, SLOPE),
    )
    return replace(plain, **more)


@pytest.mark.independent("SHA-256 of digest, seed, draw and place, by hashlib alone")
def test_numbers_come_from_a_counter_over_digest_and_seed() -> None:
    drawn = drawn_indices(scenario(), 17)

    first = int(hashlib.sha256(b"sha256:verge:17:0:0").hexdigest()[:32], 16)
    second = int(hashlib.sha256(b"sha256:verge:17:0:1").hexdigest()[:32], 16)
    assert drawn == (first % 19, second % 7)


@settings(max_examples=40)
@given(st.integers(0, 2**63))
def test_the_same_seed_gives_the_same_numbers_on_the_grid(seed: int) -> None:
    once, again = vary(scenario(), seed), vary(scenario(), seed)

    assert once == again
    mass = once.scenario.situation.stuck.mass
    assert 2200.0 <= mass <= 3100.0
    assert mass % 50.0 == 0.0
    assert once.values["stuck_vehicle.mass"] == f"{mass:g} kg"
    assert once.scenario.shown["stuck_vehicle.mass"] == f"{mass:g} kg"


def test_another_digest_gives_other_numbers() -> None:
    seeds = range(30)
    one = [drawn_indices(scenario(), seed) for seed in seeds]
    other = [drawn_indices(scenario(digest="sha256:other"), seed) for seed in seeds]

    assert one != other


def test_what_is_shown_is_what_is_solved() -> None:
    varied = vary(scenario(), 3)

    text = varied.values["ground.slope"]
    assert varied.scenario.situation.ground.slope == deg(float(text.removesuffix(" deg")))


def test_fields_of_gear_anchors_and_rigs_vary_too() -> None:
    grids = (
        Range(
            "gear.winch-line.length", Decimal("42.5"), Decimal("44.5"), Decimal(1), "m", Decimal(1)
        ),
        Range("anchors.oak.holds", Decimal(80), Decimal(90), Decimal(5), "kN", Decimal(1000)),
        Range(
            "recovery_vehicle.points.front.wll",
            Decimal(30),
            Decimal(40),
            Decimal(5),
            "kN",
            Decimal(1000),
        ),
        Range("rigs.given.drive", Decimal(0), Decimal(2), Decimal(1), "kN", Decimal(1000)),
    )
    varied = at_indices(scenario(vary=grids), (2, 1, 0, 2))

    site = varied.situation
    assert site.gear["winch-line"].length == 44.5
    assert site.anchors["oak"].holds == 85_000.0
    assert site.recovery is not None
    assert site.recovery.points["front"].wll == 30_000.0
    assert varied.rigs["given"].drive == 2000.0


def test_a_scenario_without_ranges_has_one_variation_for_all() -> None:
    plain = scenario(vary=())

    assert vary(plain, 1).scenario is plain
    assert vary(plain, 1).values == {}


def test_numbers_that_change_the_outcome_are_not_offered() -> None:
    heavy = replace(MASS, lowest=Decimal(2200), highest=Decimal(42_200), step=Decimal(10_000))
    wide = scenario(vary=(heavy,))

    reference = reference_of(wide)
    refused = [bool(refusals(reference, at_indices(wide, (i,)))) for i in range(heavy.count)]

    # Rolling and slope take 0.28 of the weight: the single line's gear gives up on the way.
    assert refused[0] is False
    assert refused[-1] is True
    for seed in range(20):
        offered = vary(wide, seed).scenario
        assert solve(offered.situation, offered.rigs["given"]).is_safe


def test_a_slip_that_must_be_caught_stays_away_from_the_truth() -> None:
    for seed in range(40):
        varied = vary(scenario(), seed).scenario
        solution = solve(varied.situation, varied.rigs["given"])
        caught = reference_of(scenario()).catches["total"]
        distances = [away for key, away in slip_distances(TOTAL, solution) if key in caught]

        assert min(distances) >= 2.0


def test_a_scenario_whose_numbers_can_never_be_offered_says_so() -> None:
    hopeless = replace(MASS, lowest=Decimal(90_000), highest=Decimal(90_500), step=Decimal(500))

    with pytest.raises(Unsolvable, match="Narrow the ranges"):
        vary(scenario(vary=(hopeless,)), 1)


def test_a_proof_examines_every_variation_and_counts_them() -> None:
    told: list[tuple[int, int]] = []

    proof = prove(scenario(), lambda done, of: told.append((done, of)))

    assert proof.is_proven
    assert (proof.variations, proof.examined) == (19 * 7, 19 * 7)
    assert not proof.is_sample
    assert told[-1] == (133, 133)
    assert proof.good_rigs == ("given",)


def test_a_large_grid_is_examined_by_a_stated_sample() -> None:
    proof = prove(scenario(), most=50)

    assert proof.is_sample
    assert (proof.variations, proof.examined) == (133, 50)


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"rigs": {}, "tasks": (), "situation": situation(gear={})}, "rigs"),
        ({"expect": "no-go"}, "rigs.given"),
        ({"tasks": (replace(TOTAL, of="place.oak.load"),)}, "tasks.0.of"),
        ({"rigs": {"given": replace(redirect(), lines=())}}, "lines"),
        ({"tasks": (replace(TOTAL, catches=("cosine-for-sinus",)),)}, "tasks.0.catches"),
    ],
)
def test_a_scenario_that_does_not_hold_is_unproven(change: dict[str, object], field: str) -> None:
    proof = prove(scenario(vary=(), **change))

    assert not proof.is_proven
    assert field in {problem.where.field for problem in proof.problems}


def test_a_no_go_is_proven_where_a_search_finds_no_safe_rig() -> None:
    stuck_on_rock = scenario(expect="no-go", vary=())
    gear = {**stuck_on_rock.situation.gear}
    gear["bow-1"] = replace(gear["bow-1"], condition=("bent",))
    bent = replace(stuck_on_rock, situation=replace(stuck_on_rock.situation, gear=gear))
    lines = {name: replace(item, condition=("cut",)) for name, item in gear.items()}
    bare = replace(stuck_on_rock, situation=replace(stuck_on_rock.situation, gear=lines))

    (problem,) = prove(bent).problems
    assert problem.where.field == "expect"
    assert "a search finds a safe rig" in problem.what
    assert prove(bare).is_proven


def test_a_go_is_proven_by_a_rig_that_only_a_search_finds() -> None:
    unnamed = scenario(rigs={}, tasks=(), vary=(MASS,))
    proof = prove(unnamed)

    assert proof.is_proven
    assert proof.found
    assert vary(unnamed, 5).values


def test_numbers_that_leave_no_safe_rig_are_refused() -> None:
    heavy = replace(MASS, lowest=Decimal(2200), highest=Decimal(82_200), step=Decimal(10_000))
    unnamed = scenario(rigs={}, tasks=(), vary=(heavy,))
    proof = prove(unnamed)

    searched = [
        bool(safe_rigs(at_indices(unnamed, (i,)).situation).rigs) for i in range(heavy.count)
    ]
    assert dict(proof.refused) == {"no safe rig exists": searched.count(False)}
    assert proof.offered == searched.count(True) > 0
    assert {vary(unnamed, seed).values[heavy.field] for seed in range(4)} <= {
        heavy.text(i) for i, found in enumerate(searched) if found
    }


def test_numbers_unlike_those_that_were_seen() -> None:
    first = vary(scenario(), 7).values
    found = vary_unlike(scenario(), [first], [7, 7, 8])

    assert found is not None
    assert (found.seed, found.values != first) == (8, True)
    assert vary_unlike(scenario(), [first], [7]) is None


def test_a_scenario_with_one_variation_has_no_other() -> None:
    assert vary_unlike(scenario(vary=()), [], [1]) is not None
    assert vary_unlike(scenario(vary=()), [{}], [1, 2, 3]) is None
