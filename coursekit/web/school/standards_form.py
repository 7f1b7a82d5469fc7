"""The forms of a panel: a chance in percent for each task, and the reason for taking a cut on."""

from __future__ import annotations

from collections.abc import Iterator

from flask_babel import lazy_gettext as _l
from wtforms import Field, IntegerField, TextAreaField
from wtforms.validators import InputRequired, NumberRange

from coursekit.scenario.model import Scenario
from coursekit.services.standards import Chances, Sheet
from coursekit.web.fields import NEEDED, Form, required
from coursekit.web.questions import question
from coursekit.web.stamped import StampedForm

LONGEST_REASON = 500
PERCENT = 100
_PREFIX = "task-"


class AdoptForm(Form):
    """Why the cut becomes the pass mark."""

    reason = TextAreaField(
        _l("Why does it become the pass mark?"), validators=required(LONGEST_REASON)
    )


class ChancesForm(StampedForm):
    """A percentage for each task; stamped with the round that its page showed."""

    @property
    def tasks(self) -> Iterator[Field]:
        """The controls of the tasks, in the scenario's order."""
        return (field for field in self if field.short_name.startswith(_PREFIX))

    def begin(self, sheet: Sheet) -> None:
        """Fill in what the judge gave last, unless something was typed."""
        self.stamp(sheet.round)
        if self.is_submitted() or sheet.own is None:
            return
        for task_id, chance in sheet.own.chances.items():
            self[f"{_PREFIX}{task_id}"].data = round(PERCENT * chance)

    def chances(self, sheet_id: int) -> Chances:
        """What the service is to keep."""
        typed = {one.short_name.removeprefix(_PREFIX): one.data / PERCENT for one in self.tasks}
        return Chances(sheet_id, self.version, typed)


def chances_form(scenario: Scenario) -> ChancesForm:
    """Return the form of a scenario's tasks."""
    allowed = NumberRange(0, PERCENT, str(_l("A number from 0 to 100.")))
    controls = {
        f"{_PREFIX}{task.id}": IntegerField(
            question(scenario, task), validators=[InputRequired(NEEDED), allowed]
        )
        for task in scenario.tasks
    }
    made: ChancesForm = type("ChancesOfScenario", (ChancesForm,), controls)()
    return made
