"""Forms of the yard: one level with its note, and what two agreed on, told by criterion.

How long a text may be the service says.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from flask import request
from flask_babel import lazy_gettext as _l
from wtforms import HiddenField, StringField, TextAreaField

from coursekit.problems import Problem
from coursekit.services.yard import Agreed, Noted
from coursekit.web.fields import Form

NO_LEVEL = -1
_AGREED = "level-"


@dataclass(frozen=True)
class Typed:
    """What was sent of a list and is still to be mended, by criterion, with what to mend."""

    levels: Mapping[str, int] = field(default_factory=dict)
    notes: Mapping[str, str] = field(default_factory=dict)
    errors: Mapping[str, str] = field(default_factory=dict)


class NoteForm(Form):
    """The level of one criterion, with a note."""

    criterion = HiddenField()
    level = StringField()
    note = StringField()
    key = HiddenField()

    def noted(self, enrolment_id: int, class_scenario_id: int) -> Noted:
        """Return what the service is to keep."""
        return Noted(
            enrolment_id,
            class_scenario_id,
            self.criterion.data or "",
            _level(self.level.data),
            self.note.data or "",
            self.key.data or "",
        )

    @property
    def typed(self) -> Typed:
        """What was sent, for the page that shows it again."""
        name = self.criterion.data or ""
        errors = " ".join(map(str, (*self.level.errors, *self.note.errors)))
        return Typed({name: _level(self.level.data)}, {name: self.note.data or ""}, {name: errors})

    @property
    def above(self) -> tuple[str, ...]:
        """What is told above the list: all that belongs to no criterion."""
        return tuple(map(str, (*self.notices, *self.criterion.errors, *self.key.errors)))


class AgreeForm(Form):
    """Why two assessors agreed on what they did; the levels stand beside it by criterion."""

    reason = TextAreaField(_l("Why?"))

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self._beside: dict[str, str] = {}

    def agreed(self, enrolment_id: int, class_scenario_id: int) -> Agreed:
        """Return what the service is to keep."""
        return Agreed(enrolment_id, class_scenario_id, self._levels, self.reason.data or "")

    @property
    def typed(self) -> Typed:
        """What was sent, for the page that shows it again."""
        return Typed(self._levels, {}, self._beside)

    @property
    def above(self) -> tuple[str, ...]:
        """What is told above the list: all that belongs to no criterion and no control."""
        return tuple(self.notices)

    @property
    def messages(self) -> tuple[str, ...]:
        """Everything that is to be mended, beside criteria too."""
        return (*super().messages, *self._beside.values())

    @property
    def _levels(self) -> dict[str, int]:
        sent = {
            name.removeprefix(_AGREED): _level(value)
            for name, value in request.form.items()
            if name.startswith(_AGREED)
        }
        return {name: level for name, level in sent.items() if level != NO_LEVEL}

    def _show_problem(self, problem: Problem) -> None:
        if self.control(problem.where.field) is None:
            self._beside[problem.where.field] = problem.text
        else:
            super()._show_problem(problem)


def _level(typed: str | None) -> int:
    """Return a level as it was sent; the service says whether there is such a one."""
    return int(typed) if typed and typed.isdecimal() and len(typed) == 1 else NO_LEVEL
