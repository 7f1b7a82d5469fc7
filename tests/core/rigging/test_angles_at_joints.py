"""A sling beaten down, a shackle pulled off its line: what they keep, by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given

from coursekit.problems import Problem
from coursekit.rigging.rig import Piece, Rig
from coursekit.rigging.solver import Solution, solve
from coursekit.rigging.soundness import rig_problems
from tests.core.mechanics.parameters import numbers
from tests.core.world import (
    deg,
    end,
    kinetic,
    near,
    rules,
    situation,
    tonnes,
    turn,
    winch_line,
)


def turned(*joint: str | Piece) -> Rig:
    return Rig("winch", (winch_line(turn("oak", "block-1", *joint)),))


def choked(angle: float | None) -> Solution:
    choke = None if angle is None else deg(angle)
    return solve(situation(), turned(Piece("sling-1", "choker", choke=choke), "soft-1"))


def off_line(angle: float) -> Solution:
    sling = Piece("sling-1", "choker")
    return solve(situation(), turned(sling, Piece("bow-2", off_line=deg(angle))))


def slips(solution: Solution, key: str) -> dict[str, float]:
    return {found.slip.key: found.value for found in solution.chain.slips_at(key, solution.values)}


def problems(*joint: str | Piece) -> tuple[Problem, ...]:
    return rig_problems(situation(), turned(*joint))


@pytest.mark.parametrize(
    ("angle", "share"),
    [(None, 1.0), (130, 1.0), (120, 0.87), (90, 0.87), (89.5, 0.74), (45, 0.62), (10, 0.49)],
)
def test_a_choker_beaten_down_keeps_its_share_of_the_choker_rating(
    angle: float | None, share: float
) -> None:
    # 0.8 of the WLL choked, shares by the angle of choke: ASME B30.9, second-hand.
    assert choked(angle).values["item.sling-1.limit"] == pytest.approx(tonnes(3.0) * 0.8 * share)


@pytest.mark.parametrize(("angle", "share"), [(5, 1.0), (5.5, 0.7), (30, 0.7), (46, 0.5)])
def test_a_shackle_off_its_line_keeps_the_share_of_its_step(angle: float, share: float) -> None:
    solution = off_line(angle)

    # Steps of ASME B30.26; 4.75 t and 28.5 t as marked.
    assert solution.values["item.bow-2.limit"] == pytest.approx(tonnes(4.75) * share)
    load = solution.values["item.bow-2.load"]
    assert solution.values["item.bow-2.safety_factor"] == pytest.approx(tonnes(28.5) * share / load)


def test_a_choker_without_an_angle_has_no_step_for_it() -> None:
    assert "item.sling-1.choke_share" not in choked(None).chain


def test_the_angle_of_choke_ignored_is_a_usual_mistake() -> None:
    solution = choked(100)

    assert slips(solution, "item.sling-1.choke_share") == {"choke-ignored": 1.0}
    found = slips(solution, "item.sling-1.limit")
    assert found["choke-ignored"] == pytest.approx(0.8 * tonnes(3.0))
    # The share taken of the straight rating.
    assert found["choker-not-reduced"] == pytest.approx(0.87 * tonnes(3.0))


def test_the_angle_off_the_line_ignored_or_read_between_steps_are_usual_mistakes() -> None:
    found = slips(off_line(30), "item.bow-2.off_line_share")

    assert found == pytest.approx(
        {"off-line-ignored": 1.0, "off-line-cosine": 0.866, "off-line-interpolated": 0.8}, abs=1e-3
    )
    assert slips(off_line(30), "item.bow-2.limit")["off-line-ignored"] == pytest.approx(
        tonnes(4.75)
    )


def test_at_the_end_of_a_step_the_share_between_steps_is_no_mistake() -> None:
    assert "off-line-interpolated" not in slips(off_line(45), "item.bow-2.off_line_share")


@given(angle=numbers(0.0, 180.0))
def test_no_angle_off_the_line_gives_a_shackle_more_than_its_mark(angle: float) -> None:
    limit = off_line(angle).values["item.bow-2.limit"]

    assert limit is None or limit <= tonnes(4.75)


def test_beyond_a_right_angle_a_shackle_may_carry_nothing() -> None:
    solution = off_line(91)

    assert solution.values["item.bow-2.limit"] is None
    (found,) = (finding for finding in solution.findings if finding.rule == "over-limit")
    assert (found.item, found.at) == ("bow-2", "oak")
    assert "more than 90 deg off its line" in str(found.message)
    assert not solution.is_safe
    assert "over-limit" not in rules(off_line(90).findings)


def test_a_shackle_off_its_line_lowers_the_highest_speed_of_a_snatch() -> None:
    rig = kinetic()
    line = rig.pull_line
    gear = {**near().gear}
    gear["bow-1"] = replace(gear["bow-1"], wll=tonnes(2.0))

    def highest(off: float) -> float:
        to = end("stuck_vehicle.front", Piece("bow-1", off_line=deg(off)))
        turned = replace(rig, lines=(replace(line, to=to),))
        speed: float = solve(near(gear=gear), turned).values["kinetic.speed.highest"] or 0.0
        return speed

    assert highest(30) < highest(0)


def test_an_angle_of_choke_needs_a_choker() -> None:
    (problem,) = problems(Piece("sling-1", "basket", deg(40), choke=deg(100)), "soft-1")

    assert problem.where.field == "lines.0.pulleys.0.with.0.choke"
    assert problem.what == "sling-1 is not choked, so it has no angle of choke"


@pytest.mark.parametrize("item", ["soft-1", "hook-1"])
def test_an_angle_off_the_line_needs_a_bow_shackle(item: str) -> None:
    (problem,) = problems(Piece("sling-1", "choker"), Piece(item, off_line=deg(30)))

    assert problem.where.field == "lines.0.pulleys.0.with.1.off_line"
    assert "bow-shackle" in problem.what
