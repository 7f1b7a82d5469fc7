"""The forms of the records."""

from __future__ import annotations

from flask_babel import lazy_gettext as _l
from wtforms import RadioField, StringField, TextAreaField
from wtforms.validators import Length

from coursekit.assessment.validity import Act
from coursekit.services.recording import Circumstances
from coursekit.web.fields import TOO_LONG, Form, options, required

LONGEST = 4000
_SHORT_ENOUGH = [Length(max=LONGEST, message=str(TOO_LONG) % {"max": LONGEST})]
_ACTS = (
    (Act.SUSPENDED.value, _l("Suspend: it does not hold until it is reinstated")),
    (Act.REINSTATED.value, _l("Reinstate: it holds again")),
    (Act.WITHDRAWN.value, _l("Withdraw: it never holds again")),
)


class IssueForm(Form):
    """What only those who were there know of a class."""

    place = StringField(_l("Where was it?"), validators=required(120))
    conditions = TextAreaField(_l("Ground, weather and light"), validators=_SHORT_ENOUGH)
    adjustments = TextAreaField(_l("What was adjusted for whom, by number"), _SHORT_ENOUGH)

    @property
    def circumstances(self) -> Circumstances:
        """What the service is to keep."""
        return Circumstances(
            self.place.data or "", self.conditions.data or "", self.adjustments.data or ""
        )


class JudgeForm(Form):
    """What becomes of a certificate, and why."""

    act = RadioField(_l("What becomes of it?"), choices=options(_ACTS), validate_choice=True)
    reason = TextAreaField(_l("Why?"), validators=required(LONGEST))
