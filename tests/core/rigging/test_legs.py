"""The legs of baskets and bridles: the angle that follows, the load on each, the mistakes."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from scipy.optimize import brentq

from coursekit.rigging.cases import solve_cases
from coursekit.rigging.gear import Item
from coursekit.rigging.rig import Piece, Rig
from coursekit.rigging.site import Policy, Situation
from coursekit.rigging.solver import Solution, solve
from tests.core.mechanics.parameters import numbers
from tests.core.world import deg, end, redirect, rules, situation, tonnes, turn, winch_line

BRIDLE = Item("bridle-1", "bridle", wll=tonnes(3.0), length=1.5)


def trunk(girth: float | None, **more: Any) -> Situation:
    plain = situation(**more)
    return replace(
        plain, anchors={**plain.anchors, "oak": replace(plain.anchors["oak"], girth=girth)}
    )


def round_trunk(girth: float | None, angle: float | None = None, **more: Any) -> Solution:
    """Return a redirect whose 3 m sling lies in a basket round the oak."""
    stated = None if angle is None else deg(angle)
    sling = Piece("sling-1", "basket", stated)
    rig = Rig("winch", (winch_line(turn("oak", "block-1", sling, "soft-1")),))
    return solve(trunk(girth, **more), rig)


def with_bridle(angle: float) -> Solution:
    gear = {**situation().gear, "bridle-1": BRIDLE}
    to = end("stuck_vehicle.front", "bow-1", Piece("bridle-1", angle=deg(angle)), "bow-2")
    return solve(situation(gear=gear), Rig("winch", (winch_line(to=to),)))


def slips(solution: Solution, key: str) -> dict[str, float]:
    return {found.slip.key: found.value for found in solution.chain.slips_at(key, solution.values)}


def test_the_angle_of_a_basket_follows_from_trunk_and_sling() -> None:
    solution = round_trunk(1.5)

    # Scipy's root of L = r (pi + 2 a + 2 / tan a).
    radii = 3.0 * 2 * math.pi / 1.5
    half = brentq(lambda a: math.pi + 2 * a + 2 / math.tan(a) - radii, 0.01, math.pi / 2)
    assert solution.values["item.sling-1.angle"] == pytest.approx(2 * half)
    assert solution.values["item.sling-1.limit"] == pytest.approx(tonnes(3.0) * 2 * math.cos(half))


@pytest.mark.parametrize(("girth", "angle"), [(None, None), (1.5, 0.0), (1.5, 40.0)])
def test_where_the_angle_is_stated_or_the_girth_unknown_nothing_follows(
    girth: float | None, angle: float | None
) -> None:
    solution = round_trunk(girth, angle)

    assert "item.sling-1.angle" not in solution.chain
    assert solution.values["item.sling-1.limit"] == pytest.approx(
        tonnes(3.0) * 2 * math.cos(deg(angle or 0.0) / 2)
    )


def test_a_sling_that_hardly_goes_round_opens_too_wide() -> None:
    found = rules(round_trunk(2.97).findings)

    assert "wide-angle" in found
    assert "line-too-short" not in found


def test_a_sling_shorter_than_the_trunk_does_not_reach() -> None:
    solution = round_trunk(3.01)

    assert solution.values["item.sling-1.limit"] is None
    assert not solution.is_safe
    assert not solution.does_the_job
    (short,) = (f for f in solution.findings if f.rule == "line-too-short")
    assert (short.at, short.item) == ("oak", "sling-1")
    assert "wide-angle" not in rules(solution.findings)


def test_the_length_that_the_finding_names_is_enough() -> None:
    (short,) = (f for f in round_trunk(3.01).findings if f.rule == "line-too-short")
    least: Any = short.message.values["least"]
    gear = dict(situation().gear)
    gear["sling-1"] = replace(gear["sling-1"], length=least.value * 1.001)

    assert {"line-too-short", "wide-angle"} & rules(round_trunk(3.01, gear=gear).findings) == set()


@given(girth=numbers(0.3, 2.9), thicker=numbers(0.3, 2.9))
def test_a_thicker_trunk_never_leaves_more(girth: float, thicker: float) -> None:
    thin, thick = sorted((girth, thicker))
    more, less = (round_trunk(each).values["item.sling-1.limit"] or 0.0 for each in (thin, thick))

    assert less <= more <= 2 * tonnes(3.0)


def test_in_many_cases_the_angle_is_in_each_what_it_is_alone() -> None:
    girths = np.array([0.5, 1.0, 1.5, 2.0, 2.5, 2.97, 3.01, 3.5, 0.7, 1.2])
    sling = Piece("sling-1", "basket")
    rig = Rig("winch", (winch_line(turn("oak", "block-1", sling, "soft-1")),))

    together = solve_cases(lambda fields: (trunk(fields["girth"]), rig), {"girth": girths})

    for key in ("item.sling-1.angle", "item.sling-1.limit"):
        alone = [round_trunk(girth).values[key] for girth in girths.tolist()]
        expected = [math.nan if value is None else value for value in alone]
        np.testing.assert_array_equal(together.value(key), expected)


def test_usual_mistakes_about_the_angle_of_a_basket() -> None:
    solution = round_trunk(1.5)
    angle = solution.values["item.sling-1.angle"]

    found = slips(solution, "item.sling-1.angle")
    assert found["half-for-included"] == pytest.approx(angle / 2)
    # As if both legs ran from the sides of the trunk with the whole of the sling.
    assert found["wrap-left-out"] == pytest.approx(2 * math.asin(1.5 / math.pi / 3.0))
    assert found["wrap-left-out"] < angle
    limit = slips(solution, "item.sling-1.limit")
    assert limit["basket-doubled"] == pytest.approx(2 * tonnes(3.0))
    assert limit["half-for-included"] == pytest.approx(2 * tonnes(3.0) * math.cos(angle / 4))


def test_an_angle_of_ones_own_carries_forward_into_the_limit() -> None:
    solution = round_trunk(1.5)

    carried = solution.chain.fold({"item.sling-1.angle": deg(60.0)})
    assert carried["item.sling-1.limit"] == pytest.approx(tonnes(3.0) * 2 * math.cos(deg(30.0)))


def test_by_the_steps_of_the_european_standard_the_angle_follows_too() -> None:
    solution = round_trunk(1.5, policy=Policy(sling_factors="en1492"))

    assert solution.values["item.sling-1.limit"] == pytest.approx(1.4 * tonnes(3.0))


@pytest.mark.parametrize(("angle", "share"), [(0, 0.5), (60, 0.577), (90, 0.707), (120, 1.0)])
def test_each_leg_of_a_bridle_carries_its_share(angle: float, share: float) -> None:
    solution = with_bridle(angle)

    # 1,000 lb on two legs at 60, 45 and 30 deg from horizontal: 577, 707 and 1,000 lb.
    load = solution.values["item.bridle-1.load"]
    assert solution.values["item.bridle-1.leg"] == pytest.approx(share * load, abs=0.0005 * load)


@given(angle=numbers(0.0, 120.0))
def test_a_bridle_at_its_limit_has_each_leg_at_its_mark(angle: float) -> None:
    values = with_bridle(angle).values

    use_of_a_leg = values["item.bridle-1.leg"] / tonnes(3.0)
    assert use_of_a_leg == pytest.approx(values["item.bridle-1.use"])


def test_wider_than_any_rating_a_leg_has_no_load_to_count_on() -> None:
    solution = with_bridle(121)

    assert "wide-angle" in rules(solution.findings)
    assert "item.bridle-1.leg" not in solution.chain


def test_usual_mistakes_about_a_leg() -> None:
    solution = with_bridle(60)
    load = solution.values["item.bridle-1.load"]
    found = slips(solution, "item.bridle-1.leg")

    assert found["whole-load-on-a-leg"] == pytest.approx(load)
    assert found["legs-share-evenly"] == pytest.approx(load / 2)
    assert found["sine-for-cosine-of-legs"] == pytest.approx(load)
    assert found["full-angle-of-legs-for-half"] == pytest.approx(load)
    assert "legs-share-evenly" not in slips(with_bridle(0), "item.bridle-1.leg")
    assert "full-angle-of-legs-for-half" not in slips(with_bridle(90), "item.bridle-1.leg")


def test_a_choked_sling_has_no_legs() -> None:
    rig = Rig("winch", (winch_line(turn("oak", "block-1", Piece("sling-1", "choker"), "soft-1")),))

    assert "item.sling-1.leg" not in solve(trunk(1.5), rig).chain
    assert "item.sling-1.leg" in solve(trunk(1.5), redirect()).chain
