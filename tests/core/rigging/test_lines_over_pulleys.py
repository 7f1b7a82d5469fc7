"""Wire and synthetic line over a pulley: what they keep, by hand."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Policy, Situation
from coursekit.rigging.solver import Solution, solve
from tests.core.world import KN, redirect, rules, single_line, situation, turn, winch_line


def site(*, line: dict[str, Any], block: dict[str, Any], policy: Policy | None = None) -> Situation:
    gear = dict(situation().gear)
    gear["winch-line"] = replace(gear["winch-line"], **line)
    gear["block-1"] = replace(gear["block-1"], **block)
    return situation(gear=gear, policy=policy or Policy())


def over_a_sheave(sheave: float | None, rig: Rig | None = None) -> Solution:
    wire = {"material": "wire", "diameter": 0.010}
    return solve(site(line=wire, block={"sheave": sheave}), rig or redirect())


def slips(solution: Solution, key: str) -> dict[str, float]:
    return {found.slip.key: found.value for found in solution.chain.slips_at(key, solution.values)}


@pytest.mark.parametrize(("sheave", "share"), [(0.040, 0.75), (0.010, 0.50), (0.0225, 2 / 3)])
def test_wire_over_a_sheave_keeps_the_share_of_its_diameters(sheave: float, share: float) -> None:
    # 1 - 0.5 / sqrt(D / d): IMCA M 179; the factor of 2: common practice, no source.
    limit = over_a_sheave(sheave).values["item.winch-line.limit"]

    assert limit == pytest.approx(88 * KN * share / 2)


def test_the_bend_ignored_is_a_usual_mistake() -> None:
    solution = over_a_sheave(0.100)

    share = 1 - 0.5 / 10**0.5
    assert slips(solution, "item.winch-line.bend_share") == pytest.approx(
        {"bend-ignored": 1.0, "bend-loss-for-share": 1 - share}
    )
    assert slips(solution, "item.winch-line.limit")["bend-ignored"] == pytest.approx(44 * KN)


@pytest.mark.parametrize(("sheave", "rig"), [(None, redirect()), (0.040, single_line())])
def test_wire_that_meets_no_known_sheave_keeps_its_limit(sheave: float | None, rig: Rig) -> None:
    solution = over_a_sheave(sheave, rig)

    assert solution.values["item.winch-line.limit"] == pytest.approx(44 * KN)
    assert "item.winch-line.bend_share" not in solution.chain


def test_the_line_of_a_winch_has_the_diameter_of_its_rope() -> None:
    # A rope of 10 mm on the drum.
    solution = solve(site(line={"material": "wire"}, block={"sheave": 0.040}), redirect())

    assert solution.values["item.winch-line.bend_share"] == pytest.approx(0.75)


def test_wire_of_unknown_diameter_keeps_its_limit() -> None:
    gear = dict(site(line={}, block={"sheave": 0.040}).gear)
    gear["line-2"] = replace(gear["line-2"], material="wire")
    line = winch_line(turn("oak", "block-1", "soft-1"), made_of=("winch-line", "bow-2", "line-2"))
    solution = solve(situation(gear=gear), Rig("winch", (line,)))

    assert "item.line-2.bend_share" not in solution.chain


def test_of_two_sheaves_the_smaller_counts() -> None:
    gear = dict(site(line={"material": "wire", "diameter": 0.010}, block={"sheave": 0.1}).gear)
    gear["block-2"] = replace(gear["block-2"], sheave=0.040)
    turns = (turn("oak", "block-1", "soft-1"), turn("elm", "block-2", "soft-2"))
    solution = solve(situation(gear=gear), Rig("winch", (winch_line(*turns),)))

    assert solution.values["item.winch-line.bend_share"] == pytest.approx(0.75)


def test_a_sheave_thinner_than_the_wire_leaves_nothing_to_count_on() -> None:
    solution = over_a_sheave(0.009)

    assert solution.values["item.winch-line.limit"] is None
    assert "over-limit" in rules(solution.findings)
    assert "over-limit" not in rules(over_a_sheave(0.010).findings)


def test_synthetic_line_keeps_all_unless_the_school_says_otherwise() -> None:
    synthetic = {"material": "synthetic", "diameter": 0.010}
    usual = solve(site(line=synthetic, block={"sheave": 0.020}), redirect())
    school = Policy(bent_synthetic=0.8)
    stricter = solve(site(line=synthetic, block={}, policy=school), redirect())

    assert usual.values["item.winch-line.limit"] == pytest.approx(44 * KN)
    assert stricter.values["item.winch-line.limit"] == pytest.approx(0.8 * 44 * KN)
    assert "no source" in stricter.chain.step("item.winch-line.bend_share").source


def test_the_figure_of_the_school_is_of_no_line_that_passes_no_pulley() -> None:
    school = Policy(bent_synthetic=0.8)
    solution = solve(site(line={}, block={}, policy=school), single_line())

    assert "item.winch-line.bend_share" not in solution.chain
