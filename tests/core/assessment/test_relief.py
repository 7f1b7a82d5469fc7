"""What is told of a rig that does not hold: the load, the limit, and what at hand would hold."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coursekit.assessment.bench import Bench
from coursekit.assessment.marks import TaskMark
from coursekit.assessment.replies import RigReply
from coursekit.assessment.rigs import mark_rig
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.rigging.solver import solve
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import RigTask
from tests.core.world import KN, changed, redirect, single_line, situation

SHACKLES = ("bow-1", "bow-2", "soft-1", "soft-2", "soft-3")


def show(value: float, unit: str, rounds: str) -> str:
    return f"{value:.0f} {unit} {rounds}"


def told(site: Situation, rig: Rig) -> str:
    return " ".join(str(message) for message in marked(site, rig).feedback)


def marked(site: Situation, rig: Rig) -> TaskMark:
    scenario = Scenario("ledge", "Ledge", "foundation", "", site, (), "sha256:0")
    return mark_rig(Bench(scenario, show), RigTask("build", 6), RigReply(rig))


def weak_bow() -> Situation:
    return changed(situation(), "bow-1", wll=3 * KN)


def test_an_overloaded_item_is_told_with_its_load_up_and_its_limit_down() -> None:
    """On one line without a pulley every item carries the pull: statics."""
    pull = solve(weak_bow(), single_line()).values["pull"]

    stop = f"bow-1 is loaded with {pull:.0f} N up, and it may carry 3000 N down."

    assert stop in told(weak_bow(), single_line())
    assert [str(one) for one in marked(weak_bow(), single_line()).stops] == [stop]


def test_what_at_hand_would_hold_in_its_place_is_named() -> None:
    words = told(weak_bow(), single_line())

    assert "this would hold in its place: bow-2, soft-1, soft-2." in words


def test_what_is_too_weak_or_unfit_as_well_is_not_named() -> None:
    site = changed(weak_bow(), "bow-2", wll=2 * KN)
    for name in ("soft-1", "soft-2"):
        site = changed(site, name, condition=("cut",))

    assert "this would hold in its place: soft-3." in told(site, single_line())


def test_nothing_is_named_where_nothing_would_hold() -> None:
    site = weak_bow()
    for name in SHACKLES[1:]:
        site = changed(site, name, condition=("cut",))

    assert "in its place" not in told(site, single_line())


def test_an_overloaded_anchor_is_told_with_its_load_and_the_anchor_that_holds() -> None:
    """The elm stands as far off on the other side, so it feels as much as the oak.

    Nobody has tested the oak: half of its figure may be counted on.
    """
    plain = situation()
    weak = replace(plain.anchors["oak"], holds=2 * KN)
    site = replace(plain, anchors={**plain.anchors, "oak": weak})
    load = solve(site, redirect()).values["place.oak.load"]

    words = told(site, redirect())

    assert f"oak is loaded with {load:.0f} N up, and it may carry 1000 N down." in words
    assert "this would hold in its place: elm" in words


def test_an_overloaded_point_of_a_vehicle_is_told_with_another_of_it() -> None:
    plain = situation()
    at = single_line().pull_line.to.at
    point = at.partition(".")[2]
    weak = replace(plain.stuck.points[point], wll=2 * KN)
    points = {**plain.stuck.points, point: weak}
    site = replace(plain, stuck=replace(plain.stuck, points=points))

    words = told(site, single_line())

    assert f"{at} is loaded with" in words
    assert "in its place: stuck_vehicle." in words


@pytest.mark.parametrize("names", [("bow-1",), ("bow-1", "winch-line")])
def test_what_a_stall_would_overload_is_told_in_one_remark(names: tuple[str, ...]) -> None:
    """The winch stalls at its first-layer pull, 43 kN."""
    site = changed(situation(), "bow-1", wll=15 * KN)
    if "winch-line" in names:
        site = changed(site, "winch-line", mbs=40 * KN)

    words = [str(one) for one in marked(site, single_line()).feedback if "hang up" in str(one)]

    assert len(words) == 1
    assert all(name in words[0] for name in names)
    if len(names) == 1:
        assert "may carry 15000 N down" in words[0]
