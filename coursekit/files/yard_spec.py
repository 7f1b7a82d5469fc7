"""Yard lists as a document writes them: tasks in their order, each with criteria in theirs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from pydantic import Field, field_validator

from coursekit.files.complaint import complaint
from coursekit.files.plain_fields import Flag, Identifier, Marks, Text
from coursekit.files.spec import Spec
from coursekit.quantities.errors import quoted
from coursekit.scenario.yard import Criterion, YardTask


class CriterionSpec(Spec):
    """One thing to be seen in the yard."""

    id: Identifier = Field(examples=["stop-word"])
    text: Text = Field(examples=["Names the stop word before anybody moves"])
    critical: Flag = False
    marks: Marks = 1.0
    source: Text | None = None


class YardTaskSpec(Spec):
    """One task in the yard."""

    id: Identifier = Field(examples=["brief"])
    title: Text = Field(examples=["Brief the team"])
    criteria: tuple[CriterionSpec, ...] = Field(
        examples=["[{id: stop-word, text: Names the stop word, critical: true}]"]
    )

    @field_validator("criteria")
    @classmethod
    def _look_at_something(cls, criteria: tuple[CriterionSpec, ...]) -> tuple[CriterionSpec, ...]:
        if not criteria:
            raise complaint("The task has nothing to look at", "Add a criterion")
        refuse_repeated("criterion", (one.id for one in criteria))
        return criteria

    def task(self) -> YardTask:
        """Return the task."""
        return YardTask(
            self.id,
            self.title,
            tuple(
                Criterion(one.id, one.text, one.critical, one.marks, one.source)
                for one in self.criteria
            ),
        )


def refuse_repeated(what: str, names: Iterable[str]) -> None:
    """Refuse a name that stands twice in one list."""
    for name, number in Counter(names).items():
        if number > 1:
            raise complaint(f"Another {what} has the id {quoted(name)}", "Give each its own")
