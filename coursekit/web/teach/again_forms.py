"""The forms of marking again: which papers, whether marks may fall, and why."""

from __future__ import annotations

from flask_babel import lazy_gettext as _l
from wtforms import RadioField, SelectField
from wtforms.validators import InputRequired

from coursekit.web.fields import NEEDED, Form, options
from coursekit.web.teach.moderate_forms import ReasonForm

KEPT, FALL = "kept", "fall"


class FallForm(Form):
    """Whether marks may fall when a paper is marked again."""

    falling = RadioField(
        _l("May marks fall?"),
        choices=options(
            [
                (
                    KEPT,
                    _l("No: no task loses marks, unless its answer would have hurt somebody"),
                ),
                (FALL, _l("Yes: the corrected key decides, up and down")),
            ]
        ),
        default=KEPT,
        validators=[InputRequired(NEEDED)],
    )

    @property
    def may_fall(self) -> bool:
        """Whether a task may lose marks."""
        return bool(self.falling.data == FALL)


class ClassAgainForm(FallForm):
    """A scenario of one class to be marked again."""

    slug = SelectField(_l("Scenario"), validators=[InputRequired(NEEDED)])


class ConfirmForm(ReasonForm):
    """Why the new marks count."""
