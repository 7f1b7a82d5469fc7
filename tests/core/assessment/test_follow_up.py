"""Asking back after a diagnosis: every slip has its question, and the question parts the ways."""

import random
from collections.abc import Iterator
from itertools import combinations

import pytest

from coursekit.assessment.diagnosis import WIDEST_MATCH, meets
from coursekit.assessment.follow_up import (
    ANOTHER,
    CONFIRMED,
    NEITHER,
    NO_WAY,
    RIGHT_NOW,
    RIGHT_WAY,
    Choice,
    Diagnosed,
    Fresh,
    choice,
    follow_up,
    fresh,
    told_by_choice,
    told_by_number,
)
from coursekit.assessment.replies import QuantityReply
from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.solver import solve
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_number, rig_of_task
from coursekit.scenario.tasks import QuantityTask
from tests.core.scenario import stock

SEED = 3


def diagnosed(scenario: Scenario, task: QuantityTask, slips: tuple[str, ...]) -> Diagnosed:
    rig = scenario.rigs[rig_of_task(task) or "given"]
    return Diagnosed(scenario, scenario, task, solve(scenario.situation, rig), slips)


def slips_that_cost_marks(scenario: Scenario) -> Iterator[tuple[QuantityTask, str]]:
    """Yield each task with each slip on its way that lies outside its tolerance."""
    for task in scenario.tasks:
        if not isinstance(task, QuantityTask) or rig_of_task(task) not in scenario.rigs:
            continue
        solution = diagnosed(scenario, task, ()).solution
        truth = solution.values.get(task.of)
        if not is_number(truth) or task.of not in solution.chain:
            continue
        for found in solution.chain.slips_at(task.of, solution.values):
            if is_number(found.value) and not task.tolerance.accepts(found.value, truth):
                yield task, found.slip.key


def of_meadow(*slips: str) -> Diagnosed:
    scenario = stock.scenario("meadow-gate")
    task = next(task for task in scenario.tasks if isinstance(task, QuantityTask))
    return diagnosed(scenario, task, slips)


def asked_freshly(*slips: str) -> Fresh:
    found = fresh(of_meadow(*slips), range(8))
    assert found is not None
    return found


def told(asked: Fresh, value: float) -> str:
    reply = QuantityReply(f"{value} N", value, rounding=0.002)
    return told_by_number(asked, reply, shower(units_of(asked.scenario))).outcome


@pytest.mark.parametrize("name", stock.IDS)
def test_every_slip_of_every_scenario_has_a_question(name: str) -> None:
    scenario = stock.scenario(name)
    for task, slip in slips_that_cost_marks(scenario):
        asked = choice(diagnosed(scenario, task, (slip,)), SEED)

        assert asked is not None, (task.id, slip)
        assert {way.key for way in asked.ways} == {RIGHT_WAY, slip}


def test_fresh_numbers_part_the_ways_by_more_than_two_windows() -> None:
    chance = random.Random(SEED)  # noqa: S311 - it keeps no secret
    found = 0
    for name in chance.sample(stock.IDS, 6):
        scenario = stock.scenario(name)
        task, slip = next(slips_that_cost_marks(scenario))
        asked = fresh(diagnosed(scenario, task, (slip,)), range(4))
        if asked is None:
            continue
        found += 1
        for one, other in combinations(asked.ways, 2):
            assert not meets(one.value, other.value, 2.0 * WIDEST_MATCH)
        truth = asked.ways[0].value
        assert not any(asked.task.tolerance.accepts(w.value, truth) for w in asked.ways[1:])
    assert found >= 4


def test_the_same_way_with_other_numbers_confirms_the_diagnosis() -> None:
    asked = asked_freshly("grade-left-out")

    assert told(asked, asked.ways[1].value) == CONFIRMED
    assert told(asked, asked.ways[0].value) == RIGHT_NOW
    assert told(asked, 1.0) == NEITHER
    others = asked.solution.chain.slips_at(asked.task.of, asked.solution.values)
    away = [
        found.value
        for found in others
        if is_number(found.value)
        and not any(meets(found.value, way.value, 0.02) for way in asked.ways)
        and not asked.task.tolerance.accepts(found.value, asked.ways[0].value)
    ]
    assert told(asked, away[0]) == ANOTHER


def test_an_answer_without_a_unit_confirms_nothing() -> None:
    asked = asked_freshly("grade-left-out")
    show = shower(units_of(asked.scenario))

    assert told_by_number(asked, QuantityReply("12", None), show).outcome == NEITHER


def test_ways_that_no_numbers_part_are_laid_side_by_side() -> None:
    scenario = stock.scenario("culvert-edge")
    task = scenario.task("pull")
    assert isinstance(task, QuantityTask)
    both = diagnosed(scenario, task, ("advantage-left-out", "pulleys-for-parts"))
    asked = follow_up(both, SEED)

    assert isinstance(asked, Choice)
    assert told_by_choice(asked, "pulleys-for-parts").slip == "pulleys-for-parts"
    assert told_by_choice(asked, RIGHT_WAY).outcome == RIGHT_NOW
    assert told_by_choice(asked, NO_WAY).outcome == NEITHER


def test_the_question_is_the_same_whenever_it_is_asked_and_gives_no_place_away() -> None:
    one = of_meadow("grade-left-out")
    first, second = follow_up(one, SEED), follow_up(one, SEED)
    asked = [choice(one, seed) for seed in range(9)]

    assert isinstance(first, Fresh)
    assert isinstance(second, Fresh)
    assert (first.numbers, first.ways[0]) == (second.numbers, second.ways[0])
    assert len({tuple(way.key for way in each.ways) for each in asked if each}) == 2
