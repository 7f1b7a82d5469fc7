"""Each scenario of the repository holds a task worth doing, and its traps bite.

A trap is a named rig of the file that falls for it: the table `TRAPS` says what it must
show and where, and that nothing else stops it.  All of it is invented.
"""

from __future__ import annotations

import re
from collections import Counter
from math import hypot

import pytest

from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.rigging.gear import CONDITIONS
from coursekit.rigging.plan import unit_vector
from coursekit.rigging.rules.finding import RULES
from coursekit.rigging.solver import solve
from coursekit.scenario.offer import is_good, rig_of_task
from coursekit.scenario.proof import prove
from coursekit.scenario.tasks import OWN_RIG, ChoiceTask, ItemTask, QuantityTask, RigTask
from tests.core.scenario.stock import IDS, against, corners, scenario, solved
from tests.core.scenario.traps import TRAPS

FIRST_DAY_TRAPS = {
    "tow-ball", "unfit", "no-wll", "line-too-short", "line-too-long", "anchor-overloaded",
    "strap-mismatch", "winch-overloaded", "hitch-unstated", "vehicle-drags", "runs-away",
    "metal-joiner", "snatch-sunk", "ring-misrigged", "sharp-edge", "joint-at-pulley",
}  # fmt: skip
MOST_VARIATIONS = 600


@pytest.mark.parametrize(("name", "rig", "rules", "where"), TRAPS)
def test_the_rig_that_falls_for_a_trap_shows_what_it_should_and_nothing_else(
    name: str, rig: str, rules: set[str], where: str
) -> None:
    solution = solved(name, rig)

    assert against(solution) == rules
    assert where in {finding.item or finding.at for finding in solution.findings}
    assert not is_good(solution)


@pytest.mark.parametrize(("name", "rig", "rules", "where"), TRAPS)
def test_a_trap_bites_at_every_end_of_the_ranges(
    name: str, rig: str, rules: set[str], where: str
) -> None:
    for varied in corners(name):
        assert against(solve(varied.situation, varied.rigs[rig])) == rules, varied.shown


@pytest.mark.parametrize("name", IDS)
def test_each_named_rig_is_good_or_a_trap_of_the_table(name: str) -> None:
    good = {rig for rig in scenario(name).rigs if is_good(solved(name, rig))}
    traps = {rig for trap, rig, _, _ in TRAPS if trap == name}

    assert good | traps == set(scenario(name).rigs)
    assert not good & traps
    assert bool(good) == (scenario(name).expect == "go")


def test_the_traps_of_the_trade_are_all_laid() -> None:
    assert set().union(*(rules for _, _, rules, _ in TRAPS)) >= FIRST_DAY_TRAPS
    assert set(RULES) >= FIRST_DAY_TRAPS


@pytest.mark.parametrize("name", [name for name in IDS if scenario(name).expect == "go"])
def test_a_good_rig_has_something_to_spare_whatever_the_numbers(name: str) -> None:
    for varied in corners(name):
        given = solve(varied.situation, varied.rigs["given"])

        assert is_good(given)
        assert max(use.use for use in given.uses) <= 0.8, varied.shown


@pytest.mark.parametrize("name", IDS)
def test_a_damper_lies_on_every_line_of_a_good_rig(name: str) -> None:
    good = [rig for rig in scenario(name).rigs if is_good(solved(name, rig))]
    lines = [line for rig in good for line in scenario(name).rigs[rig].lines]

    assert all(line.dampers for line in lines)


@pytest.mark.parametrize("name", IDS)
def test_a_scenario_is_proven_and_offers_most_of_its_variations(name: str) -> None:
    proof = prove(scenario(name))

    assert proof.problems == ()
    assert proof.examined == proof.variations <= MOST_VARIATIONS
    assert proof.offered > 0.9 * proof.variations
    assert 2 <= len(scenario(name).vary) <= 4


@pytest.mark.parametrize("name", IDS)
def test_a_scenario_asks_five_to_seven_things_of_more_than_one_kind(name: str) -> None:
    tasks = scenario(name).tasks

    assert 5 <= len(tasks) <= 7
    assert len({type(task) for task in tasks}) >= 3
    assert sum(isinstance(task, QuantityTask) for task in tasks) >= 2
    assert any(task.after for task in tasks), "nothing is carried forward"


def test_the_scenarios_span_levels_methods_units_and_ways_to_ask() -> None:
    stock = [scenario(name) for name in IDS]
    levels = Counter(each.level for each in stock)
    methods = {rig.method for each in stock for rig in each.rigs.values()}
    forces = Counter(units_of(each)[Kind.FORCE] for each in stock)

    assert len(stock) >= 12
    assert min(levels[level] for level in ("foundation", "intermediate", "advanced")) >= 4
    assert methods == {"winch", "kinetic", "tow"}
    assert {each.situation.method for each in stock} == {"vector", "field-rule"}
    assert {each.expect for each in stock} == {"go", "no-go"}
    assert min(forces["kN"], forces["lbf"]) >= 4
    asked = Counter(type(task).__name__ for each in stock for task in each.tasks)
    assert len(asked) == 6
    assert min(asked.values()) >= 2


@pytest.mark.parametrize("name", IDS)
def test_loads_may_be_overstated_further_and_capacities_understated(name: str) -> None:
    for task in scenario(name).tasks:
        if not isinstance(task, QuantityTask) or task.of == "kinetic.stiffness":
            continue
        rounds = solved(name, rig_of_task(task) or "").chain.step(task.of).rounds
        low, high = task.tolerance.below, task.tolerance.above
        assert low >= high if rounds == "down" else low <= high, task.id


@pytest.mark.parametrize("name", IDS)
def test_a_critical_choice_says_why(name: str) -> None:
    choices = [task for task in scenario(name).tasks if isinstance(task, ChoiceTask)]

    assert all(len(task.because) > 60 for task in choices)


@pytest.mark.parametrize("name", IDS)
def test_neither_brief_nor_names_give_an_answer_away(name: str) -> None:
    own = scenario(name)
    words = set(re.findall(r"[a-z]+", own.brief.lower()))
    names = " ".join([*own.situation.gear, *own.situation.anchors]).lower()

    assert not words & {"unfit", "overloaded", "kinked", "frayed", "bleached", "weakest", "trap"}
    assert not any(condition in names for condition in CONDITIONS)
    assert not any(rule in names for rule in RULES)


@pytest.mark.parametrize("name", IDS)
def test_no_text_states_a_number_that_each_student_has_of_their_own(name: str) -> None:
    own = scenario(name)
    texts = [own.brief, *(task.prompt or "" for task in own.tasks)]
    for grid in own.vary:
        values = [grid.text(index) for index in range(grid.count)]

        assert not [text for text in texts if any(re.search(rf"\b{v}\b", text) for v in values)]


def _told(brief: str, ahead: float, aside: float) -> bool:
    """Whether a brief tells where a place is, to the nearest whole unit."""
    numbers = {int(number) for number in re.findall(r"\b\d+\b", brief)}
    parts = {round(abs(part)) for part in (ahead, aside) if round(abs(part))}
    return parts <= numbers or round(hypot(ahead, aside)) in numbers


@pytest.mark.parametrize("name", IDS)
def test_the_brief_says_where_things_stand_so_that_no_plan_need_be_measured(name: str) -> None:
    own = scenario(name)
    situation = own.situation
    unit = 0.3048 if units_of(own)[Kind.LENGTH] == "ft" else 1.0
    places = [anchor.at for anchor in situation.anchors.values()]
    places += [situation.recovery.at] if situation.recovery else []
    way = unit_vector(situation.stuck.exit or 0.0)

    for east, north in places:
        ahead = (east * way[0] + north * way[1]) / unit
        aside = (east * way[1] - north * way[0]) / unit
        assert _told(own.brief, ahead, aside), (east, north)


@pytest.mark.parametrize("name", IDS)
def test_where_the_student_builds_nothing_hangs_on_the_rig_of_the_file(name: str) -> None:
    own = scenario(name)
    if not any(isinstance(task, RigTask) for task in own.tasks):
        return
    of_the_ground = ("weight", "resistance.", "runaway", "tow.need", "tow.grip")
    for task in own.tasks:
        if isinstance(task, QuantityTask | ItemTask) and task.rig != OWN_RIG:
            assert task.of.startswith(of_the_ground), task.id
