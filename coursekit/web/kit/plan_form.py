"""The form that says how often a class pulls each rig."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask_babel import lazy_gettext as _l
from wtforms import Field, IntegerField
from wtforms.validators import InputRequired, NumberRange

from coursekit.services.planning import ClassPlan
from coursekit.wear.planning import MOST_PULLS
from coursekit.web.fields import NEEDED
from coursekit.web.stamped import StampedForm

_PULLS = "pulls-"
_TOLD = _l("A whole number from 0 to %(most)s.", most=MOST_PULLS)


class PlanForm(StampedForm):
    """Pulls of each scenario; `seen` is the plan that it was made from."""

    @property
    def rows(self) -> list[Field]:
        """The controls of the scenarios, in their order."""
        return [field for name, field in self._fields.items() if name.startswith(_PULLS)]

    @property
    def pulls(self) -> Mapping[int, int]:
        """The pulls of each scenario version."""
        return {int(field.name.removeprefix(_PULLS)): field.data for field in self.rows}

    def control(self, name: str) -> Field | None:
        """Return the control that a problem's field means."""
        return super().control(name.replace("pulls.", _PULLS, 1))


def plan_form(plan: ClassPlan) -> PlanForm:
    """Return the form with a control for each scenario that is to be pulled."""
    fields: dict[str, Any] = {
        f"{_PULLS}{one.version_id}": IntegerField(
            one.scenario.title,
            validators=[InputRequired(NEEDED), NumberRange(0, MOST_PULLS, str(_TOLD))],
            default=one.pulls,
        )
        for one in plan.scenarios
        if one.is_meant
    }
    form: PlanForm = type("PlanFormOfClass", (PlanForm,), fields)()
    form.stamp(plan.number)
    return form
