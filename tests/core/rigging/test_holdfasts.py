"""Pickets and deadmen as anchors: what they hold, by the tables, and the usual mistakes."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given

from coursekit.mechanics.constants import FOOT, POUND_FORCE
from coursekit.mechanics.ranges import OutOfRange
from coursekit.rigging.holdfast import Deadman, Holdfast, Pickets
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Anchor, Situation
from coursekit.rigging.solver import Solution, solve
from tests.core.mechanics.parameters import numbers
from tests.core.world import end, rules, situation, winch_line, with_own_winch

LOG = Deadman(depth=4 * FOOT, face=1.5 * FOOT, length=6 * FOOT)


def made(holdfast: Holdfast, *, tested: bool = False) -> Situation:
    plain = Anchor("stake", "ground-anchor", (30.0, 0.0), None, tested)
    if isinstance(holdfast, Pickets):
        anchor = replace(plain, pickets=holdfast)
    else:
        anchor = replace(plain, deadman=holdfast)
    return replace(with_own_winch(), anchors={**situation().anchors, "stake": anchor})


def pulled_to(holdfast: Holdfast, *, tested: bool = False) -> Solution:
    line = winch_line(start="stuck_vehicle.winch", to=end("stake", "bow-1"))
    return solve(made(holdfast, tested=tested), Rig("winch", (line,)))


def slips(solution: Solution, key: str) -> dict[str, float]:
    found = {slip.slip.key: slip.value for slip in solution.chain.slips_at(key, solution.values)}
    return {key: value / POUND_FORCE for key, value in found.items()}


@pytest.mark.parametrize(("rows", "pounds"), [("1", 700), ("1-1-1", 1_800), ("3-2-1", 4_000)])
def test_pickets_may_carry_half_of_what_the_table_gives(rows: str, pounds: float) -> None:
    values = pulled_to(Pickets(rows)).values

    # US Navy 14251, chapter 6; half for an untested anchor: common practice, no source.
    assert values["place.stake.holdfast"] / POUND_FORCE == pytest.approx(pounds)
    assert values["place.stake.holds"] / POUND_FORCE == pytest.approx(pounds / 2)


def test_tested_pickets_may_carry_what_the_table_gives() -> None:
    values = pulled_to(Pickets("3-2-1"), tested=True).values

    assert values["place.stake.holds"] / POUND_FORCE == pytest.approx(4_000)


def test_a_deadman_holds_what_the_soil_bears_on_its_face_beside_the_trench() -> None:
    values = pulled_to(LOG).values

    # 2,600 lb/ft2 at 4 ft and 1:3: TM 5-5420-278-10, table 9.
    assert values["place.stake.holdfast"] / POUND_FORCE == pytest.approx(2_600 * 1.5 * 5)


def test_between_two_rows_the_shallower_counts() -> None:
    deep = replace(LOG, depth=4.9 * FOOT)

    assert deep.holds == LOG.holds
    assert replace(LOG, depth=5 * FOOT * (1 - 1e-12)).holds > LOG.holds


def test_a_depth_in_metres_finds_the_row_of_its_feet() -> None:
    for feet in (3, 4, 5, 6, 7):
        assert replace(LOG, depth=round(feet * 0.3048, 10)).row == pytest.approx(feet * FOOT)


def test_in_wet_sand_half_is_left() -> None:
    assert replace(LOG, soil="wet-sand").holds == pytest.approx(LOG.holds / 2)


@given(depth=numbers(0.92, 2.1), deeper=numbers(0.92, 2.1))
def test_a_deeper_log_never_holds_less(depth: float, deeper: float) -> None:
    shallow, deep = (replace(LOG, depth=each).holds for each in sorted((depth, deeper)))

    assert shallow <= deep


@pytest.mark.parametrize(("flatter", "steeper"), [("1:4", "1:3"), ("1:3", "1:2"), ("1:2", "1:1")])
def test_a_flatter_line_holds_more(flatter: str, steeper: str) -> None:
    assert replace(LOG, lead=flatter).holds > replace(LOG, lead=steeper).holds


def test_each_picket_counted_by_itself_is_a_usual_mistake() -> None:
    found = slips(pulled_to(Pickets("3-2-1")), "place.stake.holdfast")

    assert found == pytest.approx({"pickets-counted-each": 6 * 700, "first-row-alone": 3 * 700})
    carried = slips(pulled_to(Pickets("1-1-1")), "place.stake.holds")
    assert carried["pickets-counted-each"] == pytest.approx(3 * 700 / 2)
    assert carried["anchor-factor-left-out"] == pytest.approx(1_800)
    assert slips(pulled_to(Pickets("1")), "place.stake.holdfast") == {}


def test_usual_mistakes_about_a_deadman() -> None:
    shallow = replace(LOG, depth=4.5 * FOOT, soil="wet-sand")
    found = slips(pulled_to(shallow), "place.stake.holdfast")

    assert found == pytest.approx(
        {
            "trench-left-in": 0.5 * 2_600 * 1.5 * 6,
            "depth-rounded-up": 0.5 * 4_000 * 1.5 * 5,
            "soil-left-out": 2_600 * 1.5 * 5,
        }
    )
    assert "depth-rounded-up" not in slips(pulled_to(LOG), "place.stake.holdfast")
    deepest = replace(LOG, depth=7 * FOOT)
    assert "depth-rounded-up" not in slips(pulled_to(deepest), "place.stake.holdfast")


@pytest.mark.parametrize(("thickness", "longest"), [(None, 7.5), (0.8, 7.2)])
def test_a_slender_log_is_refused(thickness: float | None, longest: float) -> None:
    timber = replace(LOG, thickness=None if thickness is None else thickness * FOOT)

    assert replace(timber, length=longest * FOOT).holds > LOG.holds
    with pytest.raises(OutOfRange, match="log"):
        _ = replace(timber, length=(longest + 0.01) * FOOT).holds


def test_an_assessors_figure_takes_the_place_of_what_an_anchor_was_made_of() -> None:
    stake = made(LOG).anchors["stake"].assessed_at(40_000.0)

    assert (stake.holds, stake.holdfast) == (40_000.0, None)


def test_a_made_anchor_is_overloaded_as_any_other() -> None:
    assert "anchor-overloaded" in rules(pulled_to(Pickets("1")).findings)
    assert "anchor-overloaded" not in rules(pulled_to(LOG).findings)
