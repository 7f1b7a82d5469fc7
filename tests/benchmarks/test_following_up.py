"""How often the question after a diagnosis parts the ways, and what it costs to find it.

Every scenario, a number of seeds, one slip each; `COURSEKIT_SEEDS` raises the number of
seeds from 1.  Where no numbers part the ways, they are laid side by side.
"""

import os
import random
import time
from collections import Counter

import pytest

from coursekit.assessment.follow_up import CONFIRMED, Diagnosed, Fresh, follow_up, told_by_number
from coursekit.files.replies import kind_of_task, quantity_reply
from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import read_scenario
from coursekit.quantities.voice import shower, units_of
from tests.benchmarks.conftest import Report
from tests.benchmarks.simulated_students import questions, slipped, typed

pytestmark = pytest.mark.benchmark

SEEDS = int(os.environ.get("COURSEKIT_SEEDS", "1"))


def test_the_question_parts_the_ways(report: Report) -> None:
    chance = random.Random(3)  # noqa: S311 - it keeps no secret
    asked, told, seconds = Counter[str](), Counter[str](), []
    for path in sorted(resource_dir("scenarios").glob("*.yaml")):
        base = read_scenario(path)
        for seed in range(SEEDS):
            for question in questions(base, seed):
                for student in slipped(question, chance):
                    mark = question.marked(student.text)
                    if mark.verdict != "slip":
                        continue
                    one = Diagnosed(
                        base, question.scenario, question.task, question.solution, mark.slips
                    )
                    began = time.perf_counter()
                    found = follow_up(one, seed)
                    seconds.append(time.perf_counter() - began)
                    asked[type(found).__name__] += 1
                    if isinstance(found, Fresh):
                        told[_told_by_the_same_slip(found, student.slip, chance)] += 1
    of = sum(asked.values())
    assert of > 0
    assert asked["NoneType"] == 0
    report(f"{of} diagnoses: {asked['Fresh'] / of:.1%} asked with fresh numbers, the rest by ways")
    share = told[CONFIRMED] / max(1, sum(told.values()))
    report(f"the same slip again, three figures, any unit: {share:.1%} told for what it is")
    report(f"mean {1000 * sum(seconds) / of:.0f} ms, longest {1000 * max(seconds):.0f} ms")


def _told_by_the_same_slip(found: Fresh, slip: str, chance: random.Random) -> str:
    """Return what is told of a student who works the fresh numbers with the same slip."""
    kind = kind_of_task(found.scenario, found.task)
    way = next((way for way in found.ways if way.key == slip), found.ways[0])
    reply = quantity_reply(typed(way.value, kind, chance), kind, decimal_comma=False)
    told = told_by_number(found, reply, shower(units_of(found.scenario)))
    return told.outcome if told.slip == slip else f"{told.outcome} as another"
