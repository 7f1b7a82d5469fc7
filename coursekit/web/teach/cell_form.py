"""The form that logs a pull from the file of a load cell."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from flask_babel import lazy_gettext as _l
from flask_wtf.file import FileField
from wtforms import HiddenField, RadioField, SelectField, SubmitField

from coursekit.files.load_cell import LARGEST_CELL_FILE
from coursekit.quantities.units import Kind, units_for
from coursekit.web.fields import TOO_LARGE, QuantityField, options
from coursekit.web.security import is_too_large
from coursekit.web.teach.matching import Matched
from coursekit.web.teach.pull_forms import PullForm, pull_form
from coursekit.web.words import item_name

MEGABYTE = 1024 * 1024
# The frame of a form around a file takes far less.
LARGEST_FORM = LARGEST_CELL_FILE + MEGABYTE
AS_READ, BALANCED = "as-read", "balanced"


class CellForm(PullForm):
    """A measured pull: tried first, then logged."""

    file = FileField(_l("File of the load cell, CSV"))
    unit = SelectField(
        _l("Unit of its forces"),
        choices=options(
            [
                ("", _l("as its head says")),
                *((unit.symbol, unit.symbol) for unit in units_for(Kind.FORCE)),
            ]
        ),
    )
    zero = RadioField(
        _l("Zero of the cell"),
        choices=options(
            [
                (AS_READ, _l("Take the readings as they stand")),
                (BALANCED, _l("Balance it: take off what the cell read before the pull")),
            ]
        ),
        default=AS_READ,
    )
    place = SelectField(_l("Beside which item did the cell sit?"))
    speed = QuantityField(_l("Closing speed, if it was measured"), Kind.SPEED)
    upload = HiddenField()
    try_it = SubmitField(_l("Try it, write nothing"))
    log_it = SubmitField(_l("Log the measured pull"))

    def __init__(self) -> None:
        # What is too large is never read: the form comes back empty, with the reason.
        sent = {"formdata": None} if is_too_large() else {}
        super().__init__(**sent)

    def validate(self, extra_validators: Mapping[str, Sequence[Any]] | None = None) -> bool:
        """Whether what was sent may be acted upon; a file that is too large never is."""
        if is_too_large():
            self.tell(self.file, str(TOO_LARGE) % {"most": LARGEST_CELL_FILE // MEGABYTE})
            return False
        return super().validate(extra_validators)


def cell_form(matched: Sequence[Matched], places: Sequence[str], speed_unit: str) -> CellForm:
    """Return the form of a rig with the items beside which a cell measures something."""
    form = pull_form(matched, CellForm)
    form.place.choices = options((place, item_name(place)) for place in places)
    form.speed.example_unit = speed_unit
    return form
