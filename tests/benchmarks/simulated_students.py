"""Students who make one usual mistake each, and students who guess; all of it drawn from seeds."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator
from dataclasses import dataclass, replace

from coursekit.assessment.marking import mark_paper
from coursekit.assessment.marks import TaskMark
from coursekit.files.replies import kind_of_task, quantity_reply
from coursekit.quantities.units import Kind, si_factor, units_for
from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.solver import Solution, solve
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_number, rig_of_task
from coursekit.scenario.tasks import QuantityTask
from coursekit.scenario.vary import vary

FIGURES = 3
# A guess lies within this factor of the truth, all factors alike likely.
FACTOR = 3.0


@dataclass(frozen=True)
class Question:
    """One quantity asked of one variation, with its rig solved."""

    scenario: Scenario
    task: QuantityTask
    solution: Solution
    truth: float

    @property
    def kind(self) -> Kind:
        """The kind of quantity that is asked for."""
        return kind_of_task(self.scenario, self.task)

    def marked(self, text: str) -> TaskMark:
        """Return the mark of a typed answer, this task alone on the paper."""
        alone = replace(self.scenario, tasks=(replace(self.task, after=()),))
        reply = quantity_reply(text, self.kind, decimal_comma=False)
        return mark_paper(alone, {self.task.id: reply}, shower(units_of(alone))).tasks[0]


@dataclass(frozen=True)
class Slipped:
    """The answer of a student who made one mistake and no other."""

    question: Question
    slip: str
    text: str


def questions(scenario: Scenario, seed: int) -> Iterator[Question]:
    """Yield every quantity that a variation asks for and that has a value."""
    yield from solved_questions(vary(scenario, seed).scenario)


def solved_questions(varied: Scenario, own: str | None = None) -> Iterator[Question]:
    """Yield the quantities of a variation; `own` is the rig that stands for the student's."""
    solved: dict[str, Solution] = {}
    for task in varied.tasks:
        rig = rig_of_task(task) or own
        if not isinstance(task, QuantityTask) or rig is None or rig not in varied.rigs:
            continue
        if rig not in solved:
            solved[rig] = solve(varied.situation, varied.rigs[rig])
        truth = solved[rig].values.get(task.of)
        if is_number(truth):
            yield Question(varied, task, solved[rig], float(truth))


@dataclass(frozen=True)
class Misnamed:
    """A right number beside another unit than its own, or beside none."""

    unit: str
    written: str
    text: str


def slipped(
    question: Question, chance: random.Random, rounds: str = "nearest"
) -> Iterator[Slipped]:
    """Yield an answer for each slip on the way that leaves a number outside the tolerance."""
    chain, values = question.solution.chain, question.solution.values
    if question.task.of not in chain:
        return
    seen = set()
    for found in chain.slips_at(question.task.of, values):
        # A zero shows no working, so no slip is named by it.
        if found.slip.key in seen or not is_number(found.value) or found.value == 0.0:
            continue
        if not question.task.tolerance.accepts(found.value, question.truth):
            seen.add(found.slip.key)
            text = typed(float(found.value), question.kind, chance, rounds)
            yield Slipped(question, found.slip.key, text)


def misnamed(
    question: Question, chance: random.Random, rounds: str = "nearest"
) -> Iterator[Misnamed]:
    """Yield the truth in each unit with another one beside it, or none, and no longer right."""
    units = [unit for unit in units_for(question.kind) if unit.symbol]
    if len(units) == 1:
        return
    for unit in units:
        other = chance.choice([each for each in units if each is not unit])
        number = figures(question.truth / float(si_factor(unit, question.kind)), rounds)
        value = float(number) * float(si_factor(other, question.kind))
        if not question.task.tolerance.accepts(value, question.truth) and float(number):
            yield Misnamed(str(unit), f"as {other}", f"{number} {other}")
        yield Misnamed(str(unit), "left out", number)


def guess(question: Question, chance: random.Random) -> str:
    """Return a random wrong answer: log-uniform within a factor of the truth."""
    while True:
        factor = math.exp(chance.uniform(-math.log(FACTOR), math.log(FACTOR)))
        value = question.truth * factor
        if not question.task.tolerance.accepts(value, question.truth):
            return typed(value, question.kind, chance)


def typed(value: float, kind: Kind, chance: random.Random, rounds: str = "nearest") -> str:
    """Return a value as it is typed: three figures, in any unit that is accepted."""
    unit = chance.choice(units_for(kind))
    number = float(value) / float(si_factor(unit, kind))
    return f"{figures(number, rounds)} {unit}".strip()


def figures(number: float, rounds: str = "nearest") -> str:
    """Return a number to three figures, rounded to the nearest, or up in size."""
    if number == 0.0:
        return "0"
    digits = FIGURES - 1 - math.floor(math.log10(abs(number)))
    scaled = abs(number) * 10.0**digits
    whole = math.ceil(scaled - 1e-9) if rounds == "up" else round(scaled)
    return f"{math.copysign(whole / 10.0**digits, number):.{max(0, digits)}f}"
