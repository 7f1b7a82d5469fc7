"""Many papers of one variation are marked as each of them is by itself."""

from __future__ import annotations

import pytest

from coursekit.files.scenario_file import canonical_document, scenario_from_document
from coursekit.rigging.solver import solve
from coursekit.scenario.offer import is_number
from coursekit.scenario.tasks import QuantityTask
from coursekit.scenario.vary import read_variation, vary
from coursekit.services.marking import Marker, marked
from tests.benchmarks.simulated_papers import Class
from tests.core.scenario import stock

PAPERS = 4


@pytest.mark.parametrize("name", stock.IDS)
def test_a_shared_desk_gives_the_verdicts_and_words_of_a_desk_for_each_paper(name: str) -> None:
    scenario = vary(stock.scenario(name), 1).scenario
    group = Class(scenario, seed=5)
    marker = Marker(scenario, "en")

    for paper in [group.paper() for _ in range(PAPERS)]:
        together, alone = marker.paper(paper), marked(scenario, paper, "en")
        for one, other in zip(together.tasks, alone.tasks, strict=True):
            assert (one.task, one.verdict, one.marks, one.slips, one.flagged) == (
                other.task,
                other.verdict,
                other.marks,
                other.slips,
                other.flagged,
            )
            assert [str(said) for said in one.feedback] == [str(said) for said in other.feedback]
            assert (one.given, one.truth, one.expected) == (
                other.given,
                other.truth,
                other.expected,
            )
        assert (together.marks, together.outcome) == (alone.marks, alone.outcome)


@pytest.mark.parametrize("name", stock.IDS)
def test_what_is_carried_by_the_way_to_one_step_is_what_folding_everything_gives(
    name: str,
) -> None:
    scenario = stock.scenario(name)
    for rig in scenario.rigs.values():
        solution = solve(scenario.situation, rig)
        asked = [task.of for task in scenario.tasks if isinstance(task, QuantityTask)]
        for key in (key for key in asked if key in solution.chain):
            for before in solution.chain.upstream(key):
                value = solution.values[before.key]
                if not is_number(value):
                    continue
                own = {before.key: value * 1.01}
                whole = solution.chain.fold(own)
                carried = solution.chain.carried(key, solution.values, own)
                assert carried[key] == whole[key], (key, before.key)


@pytest.mark.parametrize("name", stock.IDS)
def test_the_numbers_of_a_variation_are_those_that_reading_its_texts_gives(name: str) -> None:
    document = canonical_document(stock.FOLDER / f"{name}.yaml")
    scenario = scenario_from_document(document, "stored")
    varied = vary(scenario, 1)
    read = scenario_from_document(document, "stored", dict(varied.values))

    assert varied.scenario == read
    assert read_variation(scenario, varied.values) == read
    assert read_variation(scenario, {"stuck_vehicle.mass": "1 kg"}) is None
