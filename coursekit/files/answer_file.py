"""Answer files: what a student typed, task by task, kept as typed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Annotated, Any

from pydantic import Field, PlainValidator, ValidationError

from coursekit.files.complaint import advice, complaint
from coursekit.files.plain_fields import Text, plain_number
from coursekit.files.reading import read_text
from coursekit.files.spec import Spec
from coursekit.files.wording import in_order, problems_of
from coursekit.files.yaml_tree import Tree, parse_yaml
from coursekit.problems import Problem, Problems, Where
from coursekit.scenario.model import Scenario

LARGEST_SEED = 2**53
"""Beyond it a number of JSON is no longer exact."""


def _seed(value: object) -> int:
    number = plain_number(value)
    if not number.is_integer() or not 0 <= number < LARGEST_SEED:
        raise complaint(f"{number:g} is no seed", "Write a whole number from 0 on")
    return int(number)


class _AnswersSpec(Spec):
    scenario: Text = Field(examples=["ford-exit"])
    seed: Annotated[int, PlainValidator(_seed)] | None = None
    # What a student typed may be anything; marking says what is wrong with it.
    answers: dict[str, Any] = Field(examples=["{total: 6.4 kN}"])


@dataclass(frozen=True)
class Answers:
    """The answers of one student: task id to a text, a list of texts or a rig's document."""

    scenario: str
    seed: int | None
    answers: Mapping[str, Any]
    tree: Tree

    def where(self, task_id: str) -> Where:
        """Return where the answer to a task stands."""
        return self.tree.where(("answers", task_id))


def read_answers(path: Path) -> Answers:
    """Return the answers of a file, or raise everything that is wrong with it."""
    return _answers(parse_yaml(read_text(path), str(path)))


def read_answers_text(text: str, name: str) -> Answers:
    """Return the answers of a text; `name` says where it is from."""
    return _answers(parse_yaml(text, name))


def _answers(tree: Tree) -> Answers:
    problems = list(tree.problems)
    try:
        spec = _AnswersSpec.model_validate(tree.data)
    except ValidationError as error:
        problems += problems_of(error, tree, _AnswersSpec)
    if problems:
        raise Problems(in_order(problems))
    return Answers(spec.scenario, spec.seed, spec.answers, tree)


def check_answers(answers: Answers, scenario: Scenario) -> None:
    """Raise where answers are to another scenario, or to a task that it does not have."""
    problems = []
    if answers.scenario != scenario.id:
        what = f"These are answers to {answers.scenario}, the scenario is {scenario.id}"
        mend = "Name the scenario that they belong to"
        problems.append(Problem(answers.tree.where(("scenario",)), what, mend))
    known = [task.id for task in scenario.tasks]
    problems += [
        Problem(answers.where(name), f"There is no task {name}", advice(name, known))
        for name in answers.answers
        if name not in known
    ]
    if problems:
        raise Problems(problems)
