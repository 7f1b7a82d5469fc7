"""The words on the plan: placed clear of all else, rounded up, and never the answer."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.drawing.plan_frame import Box
from coursekit.drawing.plan_shapes import ANCHOR_REACH
from coursekit.drawing.plan_sheet import Shown
from coursekit.drawing.plan_words import PlanWords
from coursekit.drawing.site_plan import SitePlan, site_plan
from coursekit.quantities.display import show_load
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Anchor, Ground
from coursekit.rigging.solver import Solution, solve
from tests.shell.drawing.layouts import (
    DEG,
    LAYOUTS,
    REDIRECT,
    REDIRECT_RIG,
    recovery,
    situation,
    stuck,
    winch_line,
)

SOLVED = {name: solve(where, rig) for name, (where, rig) in LAYOUTS.items()}
SHOWN = {
    "all": Shown(),
    "nothing but the area": Shown(tensions=False, loads=False, weakest=False),
    "whole area": Shown(whole_area=True),
    "pounds": Shown(unit="lbf"),
}
each_layout = pytest.mark.parametrize("solution", SOLVED.values(), ids=SOLVED)
each_choice = pytest.mark.parametrize("shown", SHOWN.values(), ids=SHOWN)


def overlaps(plan: SitePlan) -> list[tuple[str, str]]:
    return [
        (one.lines[0], other.lines[0])
        for one, other in combinations(plan.labels, 2)
        if one.box.meets(other.box)
    ]


def texts(plan: SitePlan) -> set[str]:
    return {line for label in plan.labels for line in label.lines}


@each_layout
@each_choice
def test_labels_do_not_overlap(solution: Solution, shown: Shown) -> None:
    assert overlaps(site_plan(solution.situation, solution=solution, shown=shown)) == []


@each_layout
def test_labels_cover_no_anchor(solution: Solution) -> None:
    plan = site_plan(solution.situation, solution=solution)
    anchors = [Box.around((m.x, m.y), 1.8 * ANCHOR_REACH, 1.8 * ANCHOR_REACH) for m in plan.marks]

    assert not [label for label in plan.labels for each in anchors if label.box.meets(each)]


METRES = st.integers(-40, 40).map(float)
ANCHORS = st.lists(
    st.tuples(METRES, METRES, st.sampled_from(["tree", "rock", "ground-anchor", "structure"])),
    max_size=4,
    unique_by=lambda each: each[:2],
)


@settings(max_examples=60)
@given(METRES, st.integers(4, 40).map(float), st.integers(0, 359), ANCHORS)
def test_labels_of_any_layout_lie_apart_and_on_the_sheet(
    east: float, north: float, exit_to: int, anchors: list[tuple[float, float, str]]
) -> None:
    where = situation(
        stuck("loaded utility 4x4", exit_to, "rear"),
        recovery("wagon with winch", (east, north), "front"),
        Ground("wet-grass", slope=8 * DEG, downhill=exit_to * DEG),
        [Anchor(f"anchor {i}", kind, (x, y), 5e4) for i, (x, y, kind) in enumerate(anchors)],
    )
    rig = Rig("winch", (winch_line("recovery_vehicle.winch", "stuck_vehicle.rear"),))
    plan = site_plan(where, rig)
    sheet = Box(0.0, 0.0, plan.width, plan.height)

    assert overlaps(plan) == []
    assert [label for label in plan.labels if not sheet.holds(label.box)] == []


def test_tensions_fall_past_the_pulley_and_are_rounded_up() -> None:
    solution = SOLVED["redirect"]
    pull = solution.values["pull"]

    assert {show_load(pull), show_load(0.95 * pull)} <= texts(
        site_plan(REDIRECT, solution=solution)
    )


def test_design_loads_and_hold_lines_say_what_they_are() -> None:
    snatch, tow = SOLVED["snatch"], SOLVED["tow with a hold line"]

    assert f"design {show_load(snatch.values['kinetic.design'])}" in texts(
        site_plan(snatch.situation, solution=snatch)
    )
    assert any(t.startswith("hold ") for t in texts(site_plan(tow.situation, solution=tow)))


def test_the_weakest_link_is_marked_by_shape_and_word() -> None:
    solution = SOLVED["self-recovery"]
    plan = site_plan(solution.situation, solution=solution)
    beech = next(mark for mark in plan.marks if mark.name == "beech")

    assert solution.weakest is not None
    assert (solution.weakest.item, solution.weakest.at) == ("sling-2", "beech")
    assert plan.weakest == (beech.x, beech.y)
    assert {"\u25c6 weakest link", "sling-2"} <= texts(plan)


@each_layout
def test_what_is_not_shown_stands_neither_on_the_plan_nor_in_its_description(
    solution: Solution,
) -> None:
    shown = Shown(tensions=False, loads=False, weakest=False, stand_off=False)
    plan = site_plan(solution.situation, solution=solution, shown=shown)
    newtons = [line.load for line in solution.lines] + [place.load for place in solution.places]
    loads = {show_load(load) for load in newtons if load}
    said = " ".join((plan.description, *texts(plan), *(note.text for note in plan.strip.notes)))

    assert [load for load in loads if load in said] == []
    assert "weakest" not in said
    assert " m of " not in said
    assert plan.weakest is None


def test_a_load_that_is_asked_is_a_question() -> None:
    solution = SOLVED["redirect"]
    load = next(show_load(place.load or 0.0) for place in solution.places if place.at == "elm")
    plan = site_plan(REDIRECT, solution=solution, shown=Shown(asked=("elm",)))

    assert "load ?" in texts(plan)
    assert load not in " ".join((plan.description, *texts(plan)))


def test_the_distance_to_keep_is_rounded_up_and_said_to_reach_beyond_the_plan() -> None:
    notes = [note.text for note in site_plan(REDIRECT, solution=SOLVED["redirect"]).strip.notes]

    assert notes == [
        "keep out within 41.1 m of the rig",
        "(farther than this plan shows)",
        "never inside an angle or in line",
    ]


def test_the_description_tells_the_plan_in_words() -> None:
    shown = Shown(given={"ground.slope": "8 deg", "stuck_vehicle.mass": "2650 kg"})
    plan = site_plan(REDIRECT, REDIRECT_RIG, shown=shown)

    assert plan.description == (
        "North is up. loaded utility 4x4, 2650 kg, is to leave toward 090°, the ground falls "
        "8 deg toward 270°. wagon with winch, 2,900 kg, stands 21.3 m away toward 131°. "
        "elm, tree, stands 24.0 m away toward 088°. split rock, rock, stands 16.6 m away "
        "toward 057°. The line runs from wagon with winch (winch) to elm to "
        "loaded utility 4x4 (rear)."
    )


def test_a_long_name_takes_lines_and_loses_nothing() -> None:
    plan = site_plan(SOLVED["snatch"].situation)
    label = next(each for each in plan.labels if each.lines[0].startswith("long pickup"))

    assert " ".join(label.lines) == "long pickup with a canopy and a full trailer load 2,650 kg"


def test_every_word_can_be_translated() -> None:
    words = PlanWords(exit="Ausfahrt", north="Nord", weakest="schwächstes Glied")
    solution = SOLVED["redirect"]
    plan = site_plan(REDIRECT, solution=solution, words=words)

    assert {"Ausfahrt", "\u25c6 schwächstes Glied"} <= texts(plan)
    assert plan.strip.north == "Nord"
