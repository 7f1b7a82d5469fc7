"""Whole papers as a class hands them in: right, slipped, guessed, left out, rigs and choices."""

from __future__ import annotations

import random
from collections.abc import Iterator
from typing import Any

from coursekit.files.rig_file import rig_document
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import (
    GIVEN_RIG,
    AnyTask,
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
)
from tests.benchmarks.simulated_students import Question, guess, slipped, solved_questions, typed

# What becomes of a quantity, and how often.
RIGHT, SLIPPED, GUESSED, NO_UNIT, MISSING = "right", "slipped", "guessed", "no unit", "missing"
HABITS = (RIGHT,) * 9 + (SLIPPED,) * 5 + (GUESSED,) * 3 + (NO_UNIT,) + (MISSING,) * 2


class Class:
    """A class at one variation; each paper is drawn anew."""

    def __init__(self, varied: Scenario, seed: int) -> None:
        self.varied = varied
        self.chance = random.Random(seed)  # noqa: S311 - drawn again alike, no secret
        self.questions = {one.task.id: one for one in solved_questions(varied, own=GIVEN_RIG)}
        self.slips = {
            name: [found.text for found in slipped(one, self.chance)]
            for name, one in self.questions.items()
        }

    def paper(self) -> dict[str, Any]:
        """Return what one student types."""
        return dict(self._answers())

    def _answers(self) -> Iterator[tuple[str, Any]]:
        for task in self.varied.tasks:
            answer = self._answer(task)
            if answer is not None:
                yield task.id, answer

    def _answer(self, task: AnyTask) -> Any:
        chance = self.chance
        match task:
            case QuantityTask():
                return self._quantity(self.questions.get(task.id))
            case RigTask():
                rigs = [None, *self.varied.rigs.values()]
                rig = chance.choice(rigs)
                return None if rig is None else rig_document(rig)
            case ItemTask() | ItemsTask():
                gear = sorted(self.varied.situation.gear)
                one = chance.choice(gear)
                return one if isinstance(task, ItemTask) else sorted({one, chance.choice(gear)})
            case ChoiceTask():
                return chance.choice(sorted(task.options))
            case OrderTask():
                return chance.sample(task.items, len(task.items))

    def _quantity(self, asked: Question | None) -> str | None:
        habit = self.chance.choice(HABITS)
        if asked is None or habit == MISSING:
            return None
        if habit == GUESSED:
            return guess(asked, self.chance)
        if habit == SLIPPED and self.slips[asked.task.id]:
            return self.chance.choice(self.slips[asked.task.id])
        near = asked.truth * self.chance.uniform(0.985, 1.02)
        text = typed(near, asked.kind, self.chance)
        return text.split(" ")[0] if habit == NO_UNIT else text
