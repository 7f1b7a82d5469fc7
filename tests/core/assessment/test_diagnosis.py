"""An answer with exactly one slip, rounded to three figures, is diagnosed with that slip."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import pytest

from coursekit.assessment.diagnosis import habits, match_share, slips_that_fit
from coursekit.assessment.replies import QuantityReply
from coursekit.rigging.rig import Piece, Rig
from coursekit.rigging.rules.finding import RULES
from coursekit.rigging.site import Ground, Situation
from coursekit.rigging.solver import Solution, solve
from coursekit.rigging.steps import Slip, SlipValue
from coursekit.scenario.offer import is_number
from tests.core.world import (
    CHOKED,
    deg,
    double_line,
    kinetic,
    near,
    redirect,
    situation,
    tow,
    turn,
    winch_line,
)

HILL = Ground(None, 0.14, deg(8.0), deg(270.0))
MUD = Ground("shallow-mud", bogged="hubs")
WIDE = Rig(
    "winch", (winch_line(turn("oak", "block-1", Piece("sling-1", "basket", deg(60.0)), "soft-1")),)
)
CHOKE = Rig("winch", (winch_line(turn("oak", "block-1", CHOKED, "soft-1")),))

RIGS: dict[str, tuple[Situation, Rig]] = {
    "redirect up a slope": (situation(ground=HILL), redirect()),
    "redirect, wide basket": (situation(ground=HILL), WIDE),
    "redirect, choked": (situation(ground=HILL), CHOKE),
    "double line in mud": (situation(ground=MUD), double_line()),
    "field rule": (situation(ground=HILL, method="field-rule"), double_line()),
    "kinetic": (near(ground=Ground("wet-grass")), kinetic(speed=2.0)),
    "tow off line": (
        near(ground=HILL, stuck=replace(near().stuck, exit=deg(70.0))),
        tow(),
    ),
}


def rounded(value: float) -> tuple[float, float]:
    """Return a value to three figures, and the rounding as a share."""
    typed = float(f"{value:.3g}")
    if typed == 0.0:
        return typed, 0.0
    exponent = int(f"{typed:.2e}".split("e")[1])
    return typed, 0.5 * 10.0 ** (exponent - 2) / abs(typed)


def slip_cases(solution: Solution) -> Iterator[tuple[str, SlipValue]]:
    """Yield every slip that changes an answer by more than three per cent and leaves a number.

    What comes to zero is left out: a zero shows no working to tell a slip by.
    """
    for step in solution.chain:
        truth = solution.values[step.key]
        if not is_number(truth) or truth == 0.0:
            continue
        for slip in solution.chain.slips_at(step.key, solution.values):
            if not is_number(slip.value) or slip.value == 0.0:
                continue
            if abs(slip.value - truth) > 0.03 * abs(truth):
                yield step.key, slip


@pytest.mark.parametrize("name", RIGS)
def test_every_slip_that_matters_is_among_those_named(name: str) -> None:
    solution = solve(*RIGS[name])
    missed = []
    cases = list(slip_cases(solution))
    for key, slip in cases:
        value, rounding = rounded(slip.value)
        reply = QuantityReply(f"{value}", value, rounding)
        named = slips_that_fit(reply, solution.chain.slips_at(key, solution.values))
        if slip.slip.key not in {found.slip.key for found in named}:
            missed.append((key, slip.slip.key))

    assert len(cases) > 20
    assert missed == []


@pytest.mark.parametrize("name", RIGS)
@pytest.mark.parametrize("nudge", [-0.5, 0.5], ids=["down", "up"])
def test_a_slip_is_named_when_its_number_is_rounded_to_one_side(name: str, nudge: float) -> None:
    """A load is rounded up and a capacity down, so up to one whole last digit goes."""
    solution = solve(*RIGS[name])
    missed = []
    for key, slip in slip_cases(solution):
        nearest, half = rounded(slip.value)
        digit = 2.0 * half * abs(nearest)
        value = (math.floor(slip.value / digit) + 0.5 + nudge) * digit
        reply = QuantityReply(f"{value}", value, 0.5 * digit / abs(value))
        named = slips_that_fit(reply, solution.chain.slips_at(key, solution.values))
        # Three figures of a number that begins with 1 may be nearly 1 % off: that is too wide.
        is_near_enough = abs(value - slip.value) <= 0.005 * abs(value)
        # What rounding to the nearest meets goes before it.
        is_taken = any(abs(found.value - value) <= 0.5 * digit for found in named)
        if is_near_enough and not is_taken and slip.slip.key not in {f.slip.key for f in named}:
            missed.append((key, slip.slip.key))

    assert missed == []


def test_rounding_up_is_looked_at_where_rounding_to_the_nearest_meets_no_slip() -> None:
    """2,593 N is 2.59 kN to the nearest, and so is 2,583 N rounded up."""
    step = solve(*RIGS["redirect up a slope"]).chain.step("resistance.grade")
    usual, rarer = step.slips[:2]
    reply = QuantityReply("2.59 kN", 2590.0, 0.005 / 2.59)

    up, nearest = SlipValue(step, usual, 2583.2), SlipValue(step, rarer, 2593.2)

    assert slips_that_fit(reply, [up, nearest]) == (nearest,)
    assert slips_that_fit(reply, [up]) == (up,)


@pytest.mark.parametrize("name", RIGS)
def test_a_typed_zero_meets_no_slip(name: str) -> None:
    solution = solve(*RIGS[name])
    zero = QuantityReply("0 N", 0.0)

    for step in solution.chain:
        assert slips_that_fit(zero, solution.chain.slips_at(step.key, solution.values)) == ()


@pytest.mark.parametrize("name", RIGS)
def test_the_truth_itself_meets_no_slip_that_matters(name: str) -> None:
    solution = solve(*RIGS[name])
    for key in {key for key, _ in slip_cases(solution)}:
        truth = float(solution.values[key])
        reply = QuantityReply("typed", truth, 0.001)

        for found in slips_that_fit(reply, solution.chain.slips_at(key, solution.values)):
            assert found.value == pytest.approx(truth, rel=0.001)


def all_slips() -> dict[str, set[str]]:
    slips: dict[str, set[str]] = {}
    for site, rig in RIGS.values():
        for step in solve(site, rig).chain:
            for slip in step.slips:
                slips.setdefault(slip.key, set()).add(slip.name)
    return slips


def test_a_slip_has_one_name_wherever_it_is_met() -> None:
    assert {key: names for key, names in all_slips().items() if len(names) > 1} == {}


def test_a_slip_is_worded_as_a_sentence_about_the_number() -> None:
    for site, rig in RIGS.values():
        for step in solve(site, rig).chain:
            for slip in step.slips:
                text = slip.text.format(given="GIVEN", truth="TRUTH", advantage="A", **slip.words)

                assert text.endswith(".")
                assert 0.0 <= slip.share <= 0.5


@pytest.mark.parametrize(("rounding", "share"), [(0.0, 0.0005), (0.002, 0.004), (0.05, 0.005)])
def test_a_match_is_as_tight_as_the_typing_and_never_wider_than_half_a_per_cent(
    rounding: float, share: float
) -> None:
    assert match_share(QuantityReply("x", 1.0, rounding)) == share


def test_a_habit_takes_two_tasks() -> None:
    assert habits([["a"], ["b"], ["a", "a"]]) == ("a",)
    assert habits([["a", "a"]]) == ()


def test_no_slip_shares_its_name_with_a_finding() -> None:
    assert set(all_slips()).isdisjoint(RULES)
    assert isinstance(next(iter(solve(*RIGS["kinetic"]).chain.step("kinetic.peak").slips)), Slip)
