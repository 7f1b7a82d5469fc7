"""The forms of moderation: a mark, a reason, an answer to what was asked."""

from __future__ import annotations

from flask_babel import lazy_gettext as _l
from wtforms import RadioField, SelectField, StringField, TextAreaField
from wtforms.validators import InputRequired

from coursekit.web.fields import NEEDED, PLEASE_CHOOSE, options, required
from coursekit.web.moderation_words import CODES
from coursekit.web.stamped import StampedForm

LONGEST_REASON = 2_000


class ReasonForm(StampedForm):
    """Why marks change: a reason of the list, and words that the student reads too."""

    code = SelectField(
        _l("What kind of reason is it?"),
        choices=options([PLEASE_CHOOSE, *CODES.items()]),
        validators=[InputRequired(NEEDED)],
    )
    reason = TextAreaField(_l("Say why"), validators=required(LONGEST_REASON))


class MarkForm(ReasonForm):
    """Other marks for one task."""

    marks = StringField(_l("Marks"), validators=required(20))


class ExcuseForm(StampedForm):
    """Why a critical finding should not stand."""

    reason = TextAreaField(_l("What is wrong with the key?"), validators=required(LONGEST_REASON))


class AnswerForm(StampedForm):
    """An answer to what was asked, with its reason."""

    granted = RadioField(_l("Your decision"), validators=[InputRequired(NEEDED)])
    reason = TextAreaField(_l("Say why"), validators=required(LONGEST_REASON))
