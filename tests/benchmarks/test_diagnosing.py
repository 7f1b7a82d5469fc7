"""How often a usual mistake is named for what it is, and how often a guess is.

Every scenario, a number of seeds, one slip each, three significant figures, any
accepted unit; `COURSEKIT_SEEDS` raises the number of seeds from 5.
"""

import os
import random
from collections import Counter
from collections.abc import Iterator

import pytest

from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import read_scenario
from coursekit.scenario.model import Scenario
from tests.benchmarks.conftest import Report
from tests.benchmarks.simulated_students import Question, guess, questions, slipped

pytestmark = pytest.mark.benchmark

SEEDS = int(os.environ.get("COURSEKIT_SEEDS", "5"))
PAIRS_OF_A_SEED = 20
MOST_LISTED = 12


@pytest.fixture(scope="module")
def scenarios() -> list[Scenario]:
    return [read_scenario(path) for path in sorted(resource_dir("scenarios").glob("*.yaml"))]


@pytest.fixture(scope="module")
def asked(scenarios: list[Scenario]) -> list[list[Question]]:
    """The quantities of every variation, those of one variation together."""
    seeds = range(max(SEEDS, 1))
    return [list(questions(one, seed)) for one in scenarios for seed in seeds]


def every(asked: list[list[Question]]) -> Iterator[Question]:
    return (question for paper in asked for question in paper)


def test_a_usual_mistake_is_named(asked: list[list[Question]], report: Report) -> None:
    chance = random.Random(1)  # noqa: S311 - it keeps no secret
    named, first, of, missed, confused = 0, 0, 0, Counter[str](), Counter[str]()
    for question in every(asked):
        for student in slipped(question, chance):
            mark = question.marked(student.text)
            found = mark.slips
            of += 1
            named += student.slip in found
            first += found[:1] == (student.slip,)
            where = f"{question.scenario.id}.{question.task.id}: {student.slip}"
            if student.slip not in found:
                missed[f"{where} -> {mark.verdict} {', '.join(found)}"] += 1
            for other in found:
                if other != student.slip:
                    confused[" / ".join(sorted((student.slip, other)))] += 1
    assert of > 0
    report(f"{of} slips: {named / of:.1%} named, {first / of:.1%} named first")
    for text, count in missed.most_common(MOST_LISTED):
        report(f"missed {count} x {text}")
    for text, count in confused.most_common(MOST_LISTED):
        report(f"met together {count} x {text}")


def test_a_guess_is_rarely_a_usual_mistake_and_hardly_ever_a_habit(
    asked: list[list[Question]], report: Report
) -> None:
    chance = random.Random(2)  # noqa: S311 - it keeps no secret
    guesses, met, pairs, habits = 0, 0, 0, 0
    for paper in asked:
        for _ in range(PAIRS_OF_A_SEED if len(paper) > 1 else 0):
            both = [
                question.marked(guess(question, chance)) for question in chance.sample(paper, 2)
            ]
            guesses += 2
            met += sum(mark.verdict == "slip" for mark in both)
            pairs += 1
            shared = set(both[0].slips) & set(both[1].slips) - {"unit-slip"}
            habits += bool(shared)
    assert pairs > 0
    report(f"{guesses} guesses: {met / guesses:.1%} meet some slip")
    report(f"{pairs} pairs of guesses: a habit in {1000 * habits / pairs:.2f} of 1,000")
