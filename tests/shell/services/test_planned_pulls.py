"""Planned pulls of a class, and issue that keeps to them."""

from dataclasses import replace
from datetime import datetime

import pytest

from coursekit.problems import Problems
from coursekit.rigging.solver import solve
from coursekit.services import answering, issuing, kit, planning, teaching
from coursekit.services.answering import Join
from coursekit.services.class_now import class_now
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.services.issuing import Issue
from coursekit.services.kit import Correction
from coursekit.services.kit_list import KitList, kit_list
from coursekit.services.planning import ClassPlan, NewPlan
from coursekit.store.unit import Unit
from tests.cast import TODAY, Cast
from tests.kit_acts import hold
from tests.shell.classroom import pulled
from tests.shell.counted import CountedKit


def plan(unit: Unit, cast: Cast) -> ClassPlan:
    return planning.plan_desk(unit, cast.storekeeper.actor, cast.class_id).plan


def planned(unit: Unit, cast: Cast, now: datetime, number: int) -> int:
    seen = plan(unit, cast).number
    new = NewPlan(cast.class_id, {cast.version_id: number}, seen)
    return planning.plan_pulls(unit, cast.instructor.actor, new, now)


def listed(unit: Unit, cast: Cast) -> KitList:
    return kit_list(unit, cast.storekeeper.actor, cast.class_id, TODAY)


def issued(unit: Unit, cast: Cast, now: datetime, *item_ids: int, key: str = "issue-001") -> None:
    issuing.issue(unit, cast.storekeeper.actor, Issue(cast.class_id, item_ids, key), now)


@pytest.fixture
def lines(unit: Unit, cast: Cast, now: datetime) -> CountedKit:
    return CountedKit(unit, cast, now)


def hold_all_but(unit: Unit, cast: Cast, now: datetime, kind: str, *kept: int) -> None:
    for row in kit.list_items(unit, cast.storekeeper.actor, TODAY):
        if row.kind == kind and row.id not in kept:
            hold(unit, cast, row.mark, now)


def test_a_class_that_nobody_planned_for_pulls_as_is_usual(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    # One student: one pull that is shown, one for the group; common practice, no source.
    (one,) = plan(unit, cast).scenarios
    assert (plan(unit, cast).number, one.pulls, one.made, one.is_meant) == (0, 2, 0, True)

    for name in ("Bo Reed", "Cy Marsh", "Di Holt", "Ed Fenn"):
        answering.join_class(unit, Join(cast.join_code, name), now)
    assert plan(unit, cast).scenarios[0].pulls == 3


def test_the_newest_plan_holds(unit: Unit, cast: Cast, now: datetime) -> None:
    assert [planned(unit, cast, now, number) for number in (7, 4)] == [1, 2]
    assert plan(unit, cast).scenarios[0].pulls == 4


def test_a_plan_that_was_made_anew_since_is_a_conflict(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    planned(unit, cast, now, 7)
    with pytest.raises(Conflict, match="planned anew"):
        planning.plan_pulls(
            unit, cast.storekeeper.actor, NewPlan(cast.class_id, {cast.version_id: 3}, 0), now
        )

    assert plan(unit, cast).scenarios[0].pulls == 7


@pytest.mark.parametrize("number", [-1, 61])
def test_a_number_out_of_range_is_told_beside_its_scenario(
    unit: Unit, cast: Cast, now: datetime, number: int
) -> None:
    with pytest.raises(Problems, match=f"pulls.{cast.version_id}.*out of range"):
        planned(unit, cast, now, number)


def test_a_scenario_that_the_class_does_not_pull_is_not_planned(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    with pytest.raises(Problems, match="no such rig"):
        planning.plan_pulls(unit, cast.storekeeper.actor, NewPlan(cast.class_id, {999: 3}, 0), now)


def test_a_class_that_is_over_is_not_planned_for(unit: Unit, cast: Cast, now: datetime) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    with pytest.raises(Refused, match="is over"):
        planned(unit, cast, now, 3)


def test_only_staff_of_the_school_plan(unit: Unit, cast: Cast, now: datetime) -> None:
    new = NewPlan(cast.class_id, {cast.version_id: 3}, 0)
    with pytest.raises(NotFound):
        planning.plan_pulls(unit, cast.outsider.actor, new, now)
    with pytest.raises(NotFound):
        planning.plan_desk(unit, cast.outsider.actor, cast.class_id)
    with pytest.raises(RoleNeeded):
        planning.plan_pulls(unit, cast.student.actor, new, now)


def test_pulls_that_were_made_are_no_longer_ahead(unit: Unit, cast: Cast, now: datetime) -> None:
    planned(unit, cast, now, 5)
    pulled(unit, cast, now)
    (one,) = plan(unit, cast).scenarios

    assert (one.pulls, one.made, one.left) == (5, 1, 4)


def test_a_pull_that_was_logged_by_mistake_is_still_ahead(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    planned(unit, cast, now, 5)
    pulled(unit, cast, now)
    for mark in ("Line 1", "Bow 1", "Damper 1"):
        life = kit.item_life(unit, cast.instructor.actor, cast.items[mark], TODAY)
        entry = next(line for line in life.lines if line.kind == "pull")
        undo = Correction(entry.entry_id, "another rig", f"undo-{mark.replace(' ', '-')}")
        kit.correct(unit, cast.instructor.actor, undo, now)

    assert plan(unit, cast).scenarios[0].left == 5


@pytest.mark.independent("the load of the given rig, solved, against a quarter of the line's limit")
def test_the_size_of_a_planned_pull_is_that_of_the_solved_load(
    unit: Unit, cast: Cast, now: datetime, lines: CountedKit
) -> None:
    scenario = class_now(unit, cast.instructor.actor, cast.class_id).scenarios[0].scenario
    (rig,) = [r for r in scenario.rigs.values() if not solve(scenario.situation, r).stops]
    line = replace(scenario.situation.gear["winch-line"], mbs=88_000.0, wll=None)
    gear = {**scenario.situation.gear, "winch-line": line}
    values = solve(replace(scenario.situation, gear=gear), rig).values
    item_id = lines.with_left("Line 9", 30)
    planned(unit, cast, now, 4)
    found = listed(unit, cast).enough[item_id]

    assert values["item.winch-line.load"] < 0.25 * values["item.winch-line.limit"]
    assert (found.planned, found.heavy, found.use) == (4, 0, 4.0)


def test_issue_is_refused_when_more_pulls_are_planned_than_are_left(
    unit: Unit, cast: Cast, now: datetime, lines: CountedKit
) -> None:
    item_id = lines.with_left("Line 9", 6)
    planned(unit, cast, now, 8)
    assert listed(unit, cast).enough[item_id].covered == 6
    assert item_id in {row.id for row in listed(unit, cast).short}

    told = "Line 9 has enough left for 6 of the 8 pulls.*Take Line 1 in its place, plan fewer"
    with pytest.raises(Problems, match=told):
        issued(unit, cast, now, item_id)
    planned(unit, cast, now, 6)
    issued(unit, cast, now, item_id)

    life = kit.item_life(unit, cast.storekeeper.actor, item_id, TODAY)
    assert life.item.status == "out"
    assert life.lines[-1].detail == {"pulls": "6", "plan": "2"}


def test_two_of_a_type_share_a_place_evenly_rounded_up(
    unit: Unit, cast: Cast, now: datetime, lines: CountedKit
) -> None:
    first, second = lines.with_left("Line 8", 4), lines.with_left("Line 9", 5)
    planned(unit, cast, now, 9)
    with pytest.raises(Problems, match="Line 8 has enough left for 4 of the 9 pulls"):
        issued(unit, cast, now, first, second)
    planned(unit, cast, now, 8)
    issued(unit, cast, now, first, second)

    found = listed(unit, cast)
    assert {row.id for row in found.out} == {first, second}
    assert [(found.enough[i].planned, found.enough[i].sharing) for i in (first, second)] == [
        (4, 2),
        (4, 2),
    ]


def test_one_that_is_out_with_the_class_takes_its_turn(
    unit: Unit, cast: Cast, now: datetime, lines: CountedKit
) -> None:
    first, second = lines.with_left("Line 8", 8), lines.with_left("Line 9", 4)
    planned(unit, cast, now, 8)
    with pytest.raises(Problems, match="Line 9 has enough left for 4 of the 8"):
        issued(unit, cast, now, second)
    issued(unit, cast, now, first)
    issued(unit, cast, now, second, key="issue-002")


def test_one_that_has_too_little_left_for_a_turn_relieves_nobody(
    unit: Unit, cast: Cast, now: datetime, lines: CountedKit
) -> None:
    first, second = lines.with_left("Line 8", 3), lines.with_left("Line 9", 6)
    planned(unit, cast, now, 3)
    issued(unit, cast, now, first)
    planned(unit, cast, now, 8)
    with pytest.raises(Problems, match="Line 9 has enough left for 6 of the 8"):
        issued(unit, cast, now, second, key="issue-002")


def test_lines_that_can_only_do_it_together_are_proposed_together(
    unit: Unit, cast: Cast, now: datetime, lines: CountedKit
) -> None:
    both = {lines.with_left("Line 8", 5), lines.with_left("Line 9", 4)}
    hold_all_but(unit, cast, now, "winch-line", *both)
    planned(unit, cast, now, 8)
    found = listed(unit, cast)

    assert both <= {row.id for row in found.proposed}
    assert found.rigs[0].rig is not None
    issued(unit, cast, now, *(row.id for row in found.proposed))


def test_no_rig_is_on_the_list_where_all_together_have_too_little_left(
    unit: Unit, cast: Cast, now: datetime, lines: CountedKit
) -> None:
    both = {lines.with_left("Line 8", 5), lines.with_left("Line 9", 4)}
    hold_all_but(unit, cast, now, "winch-line", *both)
    planned(unit, cast, now, 11)
    found = listed(unit, cast)

    assert found.rigs[0].lacking == ("winch-line",)
    assert both == {row.id for row in found.short}


def test_what_is_out_is_told_of_when_more_is_planned_since(
    unit: Unit, cast: Cast, now: datetime, lines: CountedKit
) -> None:
    item_id = lines.with_left("Line 9", 6)
    planned(unit, cast, now, 6)
    issued(unit, cast, now, item_id)
    planned(unit, cast, now, 9)
    found = listed(unit, cast)

    assert not found.enough[item_id].is_enough
    assert "Line 1" in {row.mark for row in found.proposed}


def test_a_rig_that_only_the_search_found_is_planned_for_too(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    soft = CountedKit(unit, cast, now, "soft-shackle", "140 kN").with_left("Soft 9", 8)
    assert listed(unit, cast).enough[soft].planned == 0
    for kind in ("bow-shackle", "hook"):
        hold_all_but(unit, cast, now, kind)
    hold_all_but(unit, cast, now, "soft-shackle", soft)
    planned(unit, cast, now, 2)
    (one,) = listed(unit, cast).rigs
    assert {row.mark for row in one.items.values()} >= {"Soft 9"}

    planned(unit, cast, now, 4)
    with pytest.raises(Problems, match="Soft 9 has enough left for 2 of the 4 pulls"):
        issued(unit, cast, now, soft)
    assert listed(unit, cast).rigs[0].rig is None


def test_what_is_held_while_it_is_out_serves_no_rig(unit: Unit, cast: Cast, now: datetime) -> None:
    issued(unit, cast, now, cast.items["Bow 1"])
    hold(unit, cast, "Bow 1")

    assert "Bow 2" in {row.mark for row in listed(unit, cast).proposed}


def test_the_counter_tells_what_the_chosen_class_plans_for_an_item(
    unit: Unit, cast: Cast, now: datetime, lines: CountedKit
) -> None:
    item_id = lines.with_left("Line 9", 6)
    planned(unit, cast, now, 8)
    desk = issuing.item_desk(unit, cast.storekeeper.actor, item_id, cast.class_id, TODAY)

    found = desk.enough
    assert found is not None
    assert (found.covered, found.planned) == (6, 8)


def test_another_item_can_be_asked_for(unit: Unit, cast: Cast, now: datetime) -> None:
    asked = (cast.items["Rope 1"],)
    found = kit_list(unit, cast.storekeeper.actor, cast.class_id, TODAY, asked)

    assert "Rope 1" in {row.mark for row in found.spares}
    assert found.enough[cast.items["Rope 1"]].planned == 0
    issued(unit, cast, now, *asked)
