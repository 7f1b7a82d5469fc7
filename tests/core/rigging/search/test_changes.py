"""What single change would make an unsafe situation safe."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coursekit.rigging.search import Change, safe_rigs, single_changes
from coursekit.rigging.site import Ground, Situation
from coursekit.rigging.solver import solve
from tests.core import world
from tests.core.scenario import stock

NO_GO = [name for name in stock.IDS if stock.scenario(name).expect == "no-go"]
PLAIN = {"winch-line", "bow-1", "damper-1"}


def plain(**more: object) -> Situation:
    """The winch and one shackle, and nothing to turn a line at."""
    gear = {item.id: item for item in world.GEAR if item.id in PLAIN}
    return world.situation(**{"gear": gear, "anchors": {}, **more})


def kinds(situation: Situation) -> dict[str, Change]:
    assert not safe_rigs(situation).rigs
    return {change.kind: change for change in single_changes(situation)}


@pytest.mark.parametrize("name", NO_GO)
def test_each_change_is_proven_by_a_rig_that_solves_well_with_it(name: str) -> None:
    for change in single_changes(stock.scenario(name).situation):
        proof = solve(change.situation, change.proof.rig)
        assert proof.is_good, str(change.message)


def test_digging_out_by_one_class_is_proposed_where_it_does() -> None:
    sunk = plain(stuck=world.stuck(mass=1900.0), ground=Ground("deep-mud", bogged="sills"))
    change = kinds(sunk)["dig-out"]

    assert change.situation.ground.bogged == "hubs"
    assert "no deeper than: hubs" in str(change.message)


def test_a_vehicle_that_drags_is_to_be_tied_back() -> None:
    slips = world.recovery(held="braked", grip=0.05)

    assert "tie-back" in kinds(plain(recovery=slips))


def test_the_item_that_is_missing_is_named_with_the_rating_it_needs() -> None:
    bare = {item.id: item for item in world.GEAR if item.id == "winch-line"}
    found = kinds(plain(gear=bare))
    change = found["another-item"]
    added = change.proof.rig.pull_line.to.joined_with[0].item
    weaker = replace(
        change.situation.gear[added],
        wll=(change.situation.gear[added].wll or 0.0) * 0.99 or None,
        mbs=(change.situation.gear[added].mbs or 0.0) * 0.99 or None,
    )
    gear = {**change.situation.gear, added: weaker}

    assert "rating" in change.message.values
    assert not solve(replace(change.situation, gear=gear), change.proof.rig).is_good


def test_one_more_of_what_is_at_hand_is_proposed_by_its_name() -> None:
    gear = {item.id: item for item in world.GEAR if item.id in {"tow-1", "soft-1", "damper-1"}}
    change = kinds(world.near(gear=gear, anchors={}))["one-more"]

    assert change.message.values == {"item": "soft-1"}


def test_an_anchor_is_named_with_what_it_would_have_to_hold() -> None:
    weak = {"boulder": replace(world.situation().anchors["boulder"], at=(20.0, 0.0), holds=100.0)}
    gear = {item.id: item for item in world.GEAR if item.kind in {"roundsling", "winch-line"}}
    gear |= {item.id: item for item in world.GEAR if item.id in {"bow-1", "winch-line"}}
    change = kinds(replace(world.with_own_winch(), anchors=weak, gear=gear))["stronger-anchor"]
    holds = change.situation.anchors["boulder"].holds

    assert change.proof.solution.values["place.boulder.use"] == pytest.approx(1.0, abs=1e-5)
    assert holds is not None
    assert holds > 100.0


def test_nothing_is_proposed_where_no_single_change_does() -> None:
    assert single_changes(world.situation(gear={}, anchors={}, recovery=None)) == ()
