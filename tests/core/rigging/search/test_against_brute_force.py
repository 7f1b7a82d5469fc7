"""The search finds the layouts, the best rigs and the counts of a plain brute force."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.rigging.gear import Item
from coursekit.rigging.search import safe_rigs
from coursekit.rigging.site import Anchor, Situation
from tests.core import world
from tests.core.rigging.search.brute_force import brute_force, worst

WLL = st.floats(0.2, 4.0).map(world.tonnes)


@st.composite
def small_kits(draw: st.DrawFn) -> Situation:
    """Draw a small kit on a small site: what holds, what is strong, what slips, what reaches."""
    items = [
        replace(world.GEAR[0], length=draw(st.floats(25.0, 90.0))),
        *(Item(f"bow-{n}", "bow-shackle", wll=draw(WLL)) for n in range(draw(st.integers(0, 2)))),
        *(Item(f"soft-{n}", "soft-shackle", mbs=draw(WLL) * 5.0) for n in range(2)),
        *(Item(f"sling-{n}", "roundsling", wll=draw(WLL), length=3.0) for n in range(2)),
        Item("block", "pulley-block", mbs=160e3, efficiency=draw(st.floats(0.8, 0.98))),
    ]
    if draw(st.booleans()):
        items.append(Item("ring", "pulley-ring", mbs=160e3))
    holds = st.floats(2e3, 90e3)
    anchors = {
        "oak": Anchor("oak", "tree", (20.0, draw(st.floats(1.0, 10.0))), draw(holds)),
        "picket": Anchor("picket", "ground-anchor", (18.0, -4.0), draw(holds)),
    }
    points = {"front": world.point("stuck_vehicle", "front", wll=draw(WLL))}
    stuck = world.stuck(points=points, mass=draw(st.floats(1500.0, 6000.0)))
    there = world.recovery(
        points={"front": world.point("recovery_vehicle", "front")},
        held=draw(st.sampled_from(["anchored", "braked"])),
    )
    return world.situation(
        stuck=stuck, recovery=there, anchors=anchors, gear={item.id: item for item in items}
    )


@pytest.mark.independent("every permutation of a small kit through solve")
@settings(max_examples=12)
@given(small_kits())
def test_layouts_best_rigs_and_counts_are_those_of_a_brute_force(situation: Situation) -> None:
    expected, _ = brute_force(situation)
    search = safe_rigs(situation)
    short = {
        (f.rig.pull_line.stations, ("winch-line",)): f
        for f in search.rigs
        if f.rig.method == "winch" and len(f.rig.pull_line.pulleys) <= 2
    }

    assert short.keys() == expected.keys()
    for key, found in short.items():
        assert found.worst_use == pytest.approx(worst(expected[key].best), rel=1e-9)
        assert found.assignments == expected[key].ways


def test_the_search_solves_far_fewer_rigs_than_a_brute_force() -> None:
    kit = [item for item in world.GEAR if item.kind not in {"kinetic-rope", "kinetic-strap"}]
    names = {"winch-line", "sling-1", "bow-1", "bow-2", "soft-1", "block-1", "block-2"}
    anchors = {"oak": world.situation().anchors["oak"]}
    situation = world.situation(
        anchors=anchors, gear={item.id: item for item in kit if item.id in names}
    )
    _, solves = brute_force(situation)

    assert safe_rigs(situation).solves * 10 < solves
