"""What the search finds on the invented site and in the scenarios of the repository."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from coursekit.problems import Problems
from coursekit.rigging.gear import SHACKLES, Item
from coursekit.rigging.rig import Rig
from coursekit.rigging.search import FoundRig, Search, safe_rigs
from coursekit.rigging.site import Ground, Situation
from coursekit.rigging.solver import solve
from tests.core import world
from tests.core.scenario import stock

PULLEYS = {"pulley-block", "pulley-ring"}
STRETCHED = {"kinetic-rope", "kinetic-strap"}


@cache
def found_for(name: str) -> Search:
    """Return what the search finds for a scenario; it is long, so it is done once."""
    return safe_rigs(stock.scenario(name).situation)


@cache
def found_near() -> Search:
    """Return what the search finds on the invented site where a strap reaches."""
    return safe_rigs(world.near(gear=gear_without(PULLEYS)))


def gear_without(kinds: set[str]) -> dict[str, Item]:
    """Return the gear of the invented site less some kinds: each kind multiplies the search."""
    return {item.id: item for item in world.GEAR if item.kind not in kinds}


def layout_of(situation: Situation, rig: Rig) -> tuple[object, ...]:
    """Return what makes a rig's layout: method, stations, lines without their shackles."""
    lines = sorted(rig.lines, key=lambda line: line.role != "pull")
    made_of = [
        tuple(i for i in line.made_of if situation.gear[i].kind not in SHACKLES) for line in lines
    ]
    return rig.method, tuple(line.stations for line in lines), tuple(made_of)


@pytest.mark.parametrize("name", stock.IDS)
def test_a_scenario_has_a_safe_rig_just_where_it_expects_one(name: str) -> None:
    search = found_for(name)

    assert search.is_complete
    assert bool(search.rigs) == (stock.scenario(name).expect == "go")


@pytest.mark.parametrize("name", stock.IDS)
def test_each_good_rig_of_a_scenario_is_among_the_layouts_found(name: str) -> None:
    situation = stock.scenario(name).situation
    found = {layout_of(situation, rig.rig) for rig in found_for(name).rigs}
    named = stock.scenario(name).rigs.values()

    good = {layout_of(situation, rig) for rig in named if solve(situation, rig).is_good}
    assert good <= found


@pytest.mark.parametrize("name", stock.IDS)
def test_every_rig_that_is_listed_is_safe_does_the_job_and_is_the_only_one_of_its_layout(
    name: str,
) -> None:
    situation = stock.scenario(name).situation
    rigs = found_for(name).rigs

    assert all(solve(situation, found.rig).is_good for found in rigs)
    assert len({layout_of(situation, found.rig) for found in rigs}) == len(rigs)


def best(situation: Situation) -> FoundRig:
    found = safe_rigs(situation).best
    assert found is not None
    return found


def test_a_steady_pull_goes_before_a_snatch_and_fewer_pieces_before_more() -> None:
    rigs = found_near().rigs
    snatches = [found.rig.method == "kinetic" for found in rigs]
    steady = [found.pieces for found in rigs if found.rig.method != "kinetic"]

    assert True in snatches
    assert snatches == sorted(snatches)
    assert steady == sorted(steady)


def test_a_runaway_is_held_by_a_line_from_above_and_that_line_is_not_charged() -> None:
    down = Ground("gravel", slope=world.deg(9.0), downhill=world.deg(90.0))
    found = best(world.near(ground=down, gear=gear_without(PULLEYS | STRETCHED)))

    assert len(found.rig.hold_lines) == 1
    assert found.rig.hold_lines[0].start in {"boulder", "picket"}
    assert found.pieces == len(list(found.rig.pull_line.items())) - len(found.rig.pull_line.dampers)


def test_a_damper_lies_on_the_line_where_one_is_at_hand() -> None:
    with_some, with_none = gear_without(PULLEYS), gear_without(PULLEYS | {"line-damper"})

    assert best(world.situation(gear=with_some)).rig.pull_line.dampers == ("damper-1",)
    assert best(world.situation(gear=with_none)).rig.pull_line.dampers == ()


def test_the_run_up_is_planned_inside_its_window_of_speeds() -> None:
    snatches = [f for f in found_near().rigs if f.rig.method == "kinetic"]

    assert snatches
    for found in snatches:
        lowest, highest = found.speeds or (0.0, 0.0)
        assert found.rig.speed == pytest.approx(1.10 * lowest)
        assert lowest < (found.rig.speed or 0.0) <= highest


def test_nothing_at_hand_is_an_answer() -> None:
    for bare in (
        world.situation(gear={}),
        world.situation(recovery=None),
        world.situation(anchors={}, gear={}, recovery=None),
        world.situation(recovery=world.recovery(winch=None)),
        world.situation(recovery=world.recovery(at=(0.0, 0.0))),
    ):
        search = safe_rigs(bare)
        assert search.is_complete
        assert all(found.solution.is_good for found in search.rigs)
    assert safe_rigs(world.situation(gear={})).rigs == ()


def test_a_situation_that_no_rig_can_be_solved_in_is_a_problem() -> None:
    with pytest.raises(Problems, match="exit"):
        safe_rigs(world.situation(stuck=world.stuck(exit=None)))


def test_a_search_says_when_it_ended_at_its_bound_or_was_cancelled() -> None:
    told: list[tuple[int, int]] = []
    stopped = safe_rigs(world.situation(), most=3)
    cancelled = safe_rigs(
        world.situation(),
        progress=lambda examined, safe: told.append((examined, safe)),
        cancelled=lambda: len(told) == 5,
    )

    assert (stopped.is_complete, stopped.solves) == (False, 3)
    assert (cancelled.is_complete, cancelled.examined) == (False, 5)
    assert [examined for examined, _ in told] == [1, 2, 3, 4, 5]


def test_two_hundred_items_end_at_the_bound_or_before() -> None:
    many = {
        f"{item.id}-{number}": replace(item, id=f"{item.id}-{number}", length=item.length)
        for item in world.GEAR
        if item.id != "winch-line"
        for number in range(11)
    }
    situation = world.situation(gear={**many, "winch-line": world.GEAR[0]})
    search = safe_rigs(situation, most=50)

    assert len(situation.gear) > 190
    assert 0 < search.solves <= 60
    assert search.rigs


def test_many_kinds_of_pulley_are_bounded_and_that_is_said() -> None:
    pulleys = (
        Item(f"block-{n}", "pulley-block", mbs=160e3, efficiency=0.80 + n / 1000.0)
        for n in range(60)
    )
    kept = {i.id: i for i in world.GEAR if i.id in {"winch-line", "bow-1", "bow-2", "sling-1"}}
    search = safe_rigs(world.situation(gear=kept | {item.id: item for item in pulleys}))
    turned = [found for found in search.rigs if found.rig.pull_line.pulleys]

    assert not search.is_complete
    assert {f.rig.pull_line.pulleys[0].by for f in turned} <= {f"block-{n}" for n in range(56, 60)}
    assert all(found.assignments <= 8 for found in turned)
