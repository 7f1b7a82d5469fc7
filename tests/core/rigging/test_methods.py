"""Both methods side by side: how far apart, which is off the safe side, and why."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from coursekit.rigging.methods import (
    FOLLOWS,
    FULL_WEIGHT,
    PARTS_COUNTED,
    SAME_TENSION,
    SIXTIETH_HIGH,
    SIXTIETH_LOW,
    TEN_PER_CENT,
    BothMethods,
    Compared,
    by_both,
)
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Ground, Situation
from tests.core.scenario.stock import IDS, scenario
from tests.core.world import (
    KN,
    deg,
    double_line,
    kinetic,
    near,
    redirect,
    rules,
    single_line,
    situation,
    tow,
)

UPHILL_EAST = deg(270.0)


def slope(angle: float, rolling: float = 0.15, **more: object) -> Ground:
    return replace(Ground(None, rolling, deg(angle), UPHILL_EAST), **more)  # type: ignore[arg-type]


def compared(site: Situation, rig: Rig, key: str) -> Compared:
    return next(each for each in by_both(site, rig).compared if each.step.key == key)


def reasons(site: Situation, rig: Rig, key: str) -> list[str]:
    return [message.template for message in compared(site, rig, key).reasons]


@pytest.mark.independent("x / 60 against sin x at 10 and 40 degrees, by a pocket calculator")
@pytest.mark.parametrize(
    ("angle", "share", "reason", "off"),
    [(10.0, -0.0402, SIXTIETH_LOW, "field-rule"), (40.0, 0.0371, SIXTIETH_HIGH, "vector")],
)
def test_a_sixtieth_of_the_degrees_is_low_below_30_and_high_above(
    angle: float, share: float, reason: str, off: str
) -> None:
    grade = compared(situation(ground=slope(angle)), single_line(), "resistance.grade")

    assert grade.difference == pytest.approx(share, abs=5e-5)
    assert [message.template for message in grade.reasons] == [reason]
    assert grade.off_safe_side == off


@pytest.mark.parametrize("angle", [0.0, 30.0])
def test_where_the_sixtieth_is_exact_nothing_differs(angle: float) -> None:
    grade = compared(situation(ground=slope(angle)), single_line(), "resistance.grade")

    assert not grade.differs
    assert grade.reasons == ()
    assert grade.off_safe_side is None
    assert grade.verdict is None


@pytest.mark.independent("1 / cos 20 degrees - 1 = 6.4 %")
def test_the_field_rule_does_not_take_the_slope_off_what_presses_on_the_ground() -> None:
    rolling = compared(situation(ground=slope(20.0)), single_line(), "resistance.rolling")

    assert rolling.difference == pytest.approx(0.0642, abs=5e-5)
    assert [message.template for message in rolling.reasons] == [FULL_WEIGHT]
    assert rolling.off_safe_side == "vector"


def test_rolling_is_the_same_on_level_ground_and_when_bogged() -> None:
    for ground in (slope(0.0), slope(20.0, bogged="hubs")):
        assert reasons(situation(ground=ground), single_line(), "resistance.rolling") == []


@pytest.mark.independent("block of 0.90: vectors 1.9, field rule 2 / 1.1 = 1.818")
def test_ten_per_cent_a_pulley_stands_against_its_efficiency() -> None:
    actual = compared(situation(), double_line(), "advantage.actual")

    assert actual.by_field_rule == pytest.approx(2 / 1.1)
    assert [message.template for message in actual.reasons] == [TEN_PER_CENT]
    assert actual.reasons[0].values == {"efficiencies": "0.9"}
    # An advantage is a capacity: the higher one is off the safe side.
    assert (actual.lower, actual.off_safe_side) == ("field-rule", "vector")


def test_parts_are_counted_whatever_their_angle_to_the_exit() -> None:
    # The line comes in from the oak, 20 m east and 10 m north: 26.6 degrees off the exit.
    ideal = compared(situation(), redirect(), "advantage.ideal")

    assert ideal.by_vector == pytest.approx(math.cos(math.atan2(10.0, 20.0)))
    assert ideal.by_field_rule == 1.0
    assert [message.template for message in ideal.reasons] == [PARTS_COUNTED]
    assert ideal.off_safe_side == "field-rule"


def test_a_straight_line_counts_the_same_by_both() -> None:
    for key in ("advantage.ideal", "advantage.actual"):
        assert reasons(situation(), single_line(), key) == []


def test_behind_a_pulley_the_field_rule_leaves_the_tension_as_it_is() -> None:
    at_oak = compared(situation(), redirect(), "place.oak.load")
    at_winch = compared(situation(), redirect(), "place.recovery_vehicle.winch.load")

    assert at_oak.reasons[0].template == SAME_TENSION
    assert SAME_TENSION not in [message.template for message in at_winch.reasons]


def test_what_rests_on_other_quantities_names_those_that_differ() -> None:
    site = situation(ground=slope(10.0))
    (total,) = compared(site, single_line(), "resistance.total").reasons
    (pull,) = compared(site, single_line(), "pull").reasons

    assert total.template == FOLLOWS
    assert str(total) == "It follows from: resistance of the slope, rolling resistance."
    assert str(pull) == "It follows from: total resistance."


@pytest.mark.parametrize("name", IDS)
def test_no_difference_is_left_without_a_reason(name: str) -> None:
    for rig in scenario(name).rigs.values():
        both = by_both(scenario(name).situation, rig)

        assert [each.step.key for each in both.differing if not each.reasons] == []


@pytest.mark.parametrize("rig", [kinetic(), tow()], ids=["kinetic", "tow"])
def test_kinetic_pulls_and_tows_stand_side_by_side_too(rig: Rig) -> None:
    both = by_both(near(ground=slope(12.0)), rig)
    keys = {each.step.key for each in both.differing}

    assert "resistance.total" in keys
    assert all(each.reasons for each in both.differing)


def test_the_method_of_the_scenario_changes_nothing() -> None:
    site = situation(ground=slope(12.0))
    one, other = (by_both(replace(site, method=m), redirect()) for m in ("vector", "field-rule"))

    assert [(c.by_vector, c.by_field_rule) for c in one.compared] == [
        (c.by_vector, c.by_field_rule) for c in other.compared
    ]


def test_a_slope_beyond_the_field_rule_says_so() -> None:
    both = by_both(situation(ground=slope(50.0)), single_line())

    assert both.field_rule is None
    assert both.compared == ()
    assert "up to 45 deg" in str(both.refused)


def test_a_finding_of_one_method_alone_is_named() -> None:
    # Between the load by vectors and the larger one by the field rule stands this limit.
    loads = compared(situation(ground=slope(5.0)), double_line(), "place.stuck_vehicle.front.load")
    between = (loads.by_vector + loads.by_field_rule) / 2
    site = situation(ground=slope(5.0))
    gear = {**site.gear, "soft-1": replace(site.gear["soft-1"], mbs=None, wll=between)}
    both = by_both(replace(site, gear=gear), double_line())

    assert _named(both, "field-rule") >= {"over-limit"}
    assert "over-limit" not in rules(both.vector.findings)
    assert between > 1.0 * KN


def _named(both: BothMethods, method: str) -> set[str]:
    return {only.finding.rule for only in both.only_one if only.method == method}
