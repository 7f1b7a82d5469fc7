"""How often a usual mistake is named for what it is, and how often a guess is.

Every scenario, a number of seeds, one slip each, three significant figures, any
accepted unit; `COURSEKIT_SEEDS` raises the number of seeds from 5.  The goals are for
figures rounded to the nearest; those of loads that are rounded up stand beside them.
"""

import os
import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field

import pytest

from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import read_scenario
from coursekit.scenario.model import Scenario
from tests.benchmarks.conftest import Report
from tests.benchmarks.simulated_students import (
    Question,
    Slipped,
    guess,
    misnamed,
    questions,
    slipped,
)

pytestmark = pytest.mark.benchmark

SEEDS = int(os.environ.get("COURSEKIT_SEEDS", "5"))
PAIRS_OF_A_SEED = 20
ROUNDINGS = ("nearest", "up")


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


@dataclass
class Row:
    """What became of the answers of one slip: a row of the table of confusion."""

    of: int = 0
    named: int = 0
    first: int = 0
    beside: Counter[str] = field(default_factory=Counter)
    missed: Counter[str] = field(default_factory=Counter)

    def add(self, student: Slipped) -> None:
        """Count one answer."""
        mark = student.question.marked(student.text)
        self.of += 1
        self.first += mark.slips[:1] == (student.slip,)
        if student.slip in mark.slips:
            self.named += 1
            self.beside.update(slip for slip in mark.slips if slip != student.slip)
        else:
            self.missed.update(mark.slips or (mark.verdict,))

    def __str__(self) -> str:
        parts = [f"{self.of} made, {self.named} named, {self.first} first"]
        for label, found in (("beside", self.beside), ("taken for", self.missed)):
            if found:
                listed = ", ".join(f"{name} {count}" for name, count in found.most_common())
                parts.append(f"{label} {listed}")
        return "; ".join(parts)


@pytest.mark.parametrize("rounds", ROUNDINGS)
def test_a_usual_mistake_is_named(rounds: str, asked: list[list[Question]], report: Report) -> None:
    chance = random.Random(1)  # noqa: S311 - it keeps no secret
    table: dict[str, Row] = {}
    for question in every(asked):
        for student in slipped(question, chance, rounds):
            table.setdefault(student.slip, Row()).add(student)
    of, named, first = (
        sum(getattr(r, n) for r in table.values()) for n in ("of", "named", "first")
    )
    assert of > 0
    report(f"rounded {rounds}: {of} slips, {named / of:.1%} named, {first / of:.1%} named first")
    # One table is enough: both go by the same slips.
    for slip, row in sorted(table.items()) if rounds == ROUNDINGS[0] else ():
        report(f"{slip}: {row}")


@pytest.mark.parametrize("rounds", ROUNDINGS)
def test_a_right_number_in_another_unit_is_named(
    rounds: str, asked: list[list[Question]], report: Report
) -> None:
    chance = random.Random(3)  # noqa: S311 - it keeps no secret
    of, met = Counter[tuple[str, str]](), Counter[tuple[str, str]]()
    for question in every(asked):
        for student in misnamed(question, chance, rounds):
            between = (student.unit, student.written)
            of[between] += 1
            met[between] += "unit-slip" in question.marked(student.text).slips
    assert of
    share = met.total() / of.total()
    report(f"rounded {rounds}: {of.total()} unit faults, {share:.1%} named")
    for unit in sorted({unit for unit, _ in of}) if rounds == ROUNDINGS[0] else ():
        row = sorted(between for between in of if between[0] == unit)
        cells = (f"{written} {met[unit, written]} of {of[unit, written]}" for _, written in row)
        report(f"{unit}: {', '.join(cells)}")


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
