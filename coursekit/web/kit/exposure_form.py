"""The form that records what an item was exposed to."""

from __future__ import annotations

from flask_babel import lazy_gettext as _l
from wtforms import IntegerField, RadioField, TextAreaField
from wtforms.validators import InputRequired, NumberRange, Optional

from coursekit.services.exposing import MOST_HOURS, Exposure
from coursekit.web.fields import NEEDED, options
from coursekit.web.kit.forms import LONGEST_REASON, ItemForm, optional
from coursekit.web.kit_words import EXPOSURES
from coursekit.web.moments import MomentField

_WHOLE = str(_l("A whole number from 1 to %(highest)d.")) % {"highest": MOST_HOURS}


class ExposureForm(ItemForm):
    """What an item lay in, or came too close to."""

    what = RadioField(
        _l("What was it exposed to?"),
        choices=options(EXPOSURES.items()),
        validators=[InputRequired(NEEDED)],
    )
    hours = IntegerField(
        _l("Hours in the sun"), validators=[Optional(), NumberRange(1, MOST_HOURS, _WHOLE)]
    )
    told = TextAreaField(_l("What was it, and where?"), validators=optional(LONGEST_REASON))
    at = MomentField(_l("When was it, if not just now?"))

    def exposure(self, item_id: int) -> Exposure:
        """Return what the service is to record."""
        return Exposure(
            item_id,
            self.version,
            self.what.data,
            self.told.data or "",
            self.key.data or "",
            self.hours.data,
            self.at.moment,
        )
