"""The form that logs a pull from the file of a load cell."""

from __future__ import annotations

from collections.abc import Sequence

from flask_babel import lazy_gettext as _l
from flask_wtf.file import FileField
from wtforms import HiddenField, RadioField, SelectField, SubmitField

from coursekit.files.load_cell import LARGEST_CELL_FILE
from coursekit.quantities.units import Kind, units_for
from coursekit.web.fields import QuantityField, options
from coursekit.web.teach.matching import Matched
from coursekit.web.teach.pull_forms import PullForm, pull_form
from coursekit.web.uploads import MEGABYTE, UploadForm, form_around
from coursekit.web.words import item_name

LARGEST_FORM = form_around(LARGEST_CELL_FILE)
AS_READ, BALANCED = "as-read", "balanced"


class CellForm(UploadForm, PullForm):
    """A measured pull: tried first, then logged."""

    hint = _l("Up to %(size)d MB.", size=LARGEST_CELL_FILE // MEGABYTE)
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
    most = QuantityField(_l("The most that the cell reads, if it is known"), Kind.FORCE)
    place = SelectField(_l("Beside which item did the cell sit?"))
    speed = QuantityField(_l("Closing speed, if it was measured"), Kind.SPEED)
    upload = HiddenField()
    try_it = SubmitField(_l("Try it, write nothing"))
    log_it = SubmitField(_l("Log the measured pull"))


def cell_form(matched: Sequence[Matched], places: Sequence[str], speed_unit: str) -> CellForm:
    """Return the form of a rig with the items beside which a cell measures something."""
    form = pull_form(matched, CellForm)
    form.place.choices = options((place, item_name(place)) for place in places)
    form.speed.example_unit = speed_unit
    return form
