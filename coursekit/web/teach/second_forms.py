"""The forms of second marking: blind marks for every task, and what both agree on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from flask_babel import lazy_gettext as _l
from wtforms import BooleanField, Field, StringField, TextAreaField
from wtforms.validators import Length

from coursekit.web.fields import TOO_LONG, Form
from coursekit.web.teach.moderate_forms import LONGEST_REASON, ReasonForm

_TASK = "task-"


class TaskMarks(Form):
    """Marks for some tasks, each in a field of its own."""

    @property
    def marks(self) -> dict[str, str]:
        """What was typed for each task."""
        return {
            name.removeprefix(_TASK): field.data or ""
            for name, field in self._fields.items()
            if name.startswith(_TASK)
        }

    def of_task(self, task_id: str) -> Field:
        """Return the field of a task's marks."""
        field: Field = self._fields[f"{_TASK}{task_id}"]
        return field

    def control(self, name: str) -> Field | None:
        """Return the control that a problem's field means: a task is named by its id."""
        return super().control(f"{_TASK}{name}") or super().control(name)


class BlindForm(TaskMarks):
    """Blind marks, and what in the paper would hurt somebody."""

    unsafe = TextAreaField(
        _l("What in this paper would hurt somebody?"),
        validators=[Length(max=LONGEST_REASON, message=str(TOO_LONG) % {"max": LONGEST_REASON})],
    )


class AgreeForm(TaskMarks, ReasonForm):
    """What both agree on where they differ."""

    is_unsafe = BooleanField(_l("It is unsafe, as the second marker found"))


Made = TypeVar("Made", bound=TaskMarks)


def with_tasks(form: type[Made], tasks: Sequence[str]) -> Made:
    """Return a form with a field for the marks of each task."""
    # WTForms sorts fields by when they were made, so the order of the tasks is kept.
    fields = {f"{_TASK}{task}": StringField(_l("Marks")) for task in tasks}
    made: Made = type(f"{form.__name__}OfPaper", (form,), fields)()
    return made
