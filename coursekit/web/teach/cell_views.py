"""A pull logged from the file of a load cell: a dry run first, then the entries."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from flask import render_template, request
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from werkzeug.utils import secure_filename

from coursekit.files.load_cell import read_cell
from coursekit.problems import CoursekitError, Problems
from coursekit.quantities.parse import Quantity
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import units_of
from coursekit.services import class_now, measuring
from coursekit.services.measuring import Measured, MeasuredPull
from coursekit.services.pulls import PullReport
from coursekit.wear.measured import CellReading, places_for_cell
from coursekit.web import clock
from coursekit.web.identity import actor, unit
from coursekit.web.plan import solved
from coursekit.web.security import is_too_large
from coursekit.web.teach.cell_form import BALANCED, CellForm, cell_form
from coursekit.web.teach.cell_page import cell_page
from coursekit.web.teach.cell_upload import CellUpload, mark_of, opened, upload_of
from coursekit.web.teach.matching import Matched, matched_kit, still_at_rest
from coursekit.web.teach.pull_forms import chosen_items
from coursekit.web.teach.pull_pages import rig_page
from coursekit.web.teach.pull_views import show_error, to_report
from coursekit.web.teach.pulled import Pulled, pulled_rig
from coursekit.web.uploads import CHOOSE_FIRST


def log_measured(class_id: int) -> ResponseReturnValue:
    """Try the file of a load cell, showing what it would log, or log it."""
    now = class_now.class_now(unit(), actor(), class_id)
    pulled = pulled_rig(now, request.args)
    kit_now = _kit(pulled)
    form = _form(pulled, kit_now)
    tried: tuple[CellUpload, Measured] | None = None
    may_act = form.validate_on_submit()
    upload = _upload(form) if form.is_submitted() and not is_too_large() else None
    if upload is not None and may_act:
        try:
            done = _act(pulled, form, upload, clock.now())
        except CoursekitError as error:
            show_error(form, error)
        else:
            if isinstance(done, PullReport):
                return to_report(class_id, done)
            tried = done
    page = cell_page(rig_page(now, pulled), pulled, tried)
    at_rest = still_at_rest(kit_now)
    return render_template(
        "teach/log_measured.html", page=page, form=form, resting=at_rest
    ), form.status


def _kit(pulled: Pulled) -> tuple[Matched, ...]:
    chosen = frozenset[int]() if is_too_large() else chosen_items(request.form)
    return matched_kit(pulled, chosen)


def _form(pulled: Pulled, kit: Sequence[Matched]) -> CellForm:
    solution = solved(pulled.scenario, pulled.rig)
    places = places_for_cell(solution) if solution else ()
    return cell_form(kit, places, units_of(pulled.scenario)[Kind.SPEED])


def _act(
    pulled: Pulled, form: CellForm, upload: CellUpload, now: datetime
) -> PullReport | tuple[CellUpload, Measured]:
    """Log what was tried and is still the same, else try it."""
    pull = _pull(pulled, form, upload)
    # The mark is of the whole pull, so that nothing is logged that was not shown.
    mark = mark_of(vars(pull))
    if form.log_it.data and upload.seen == mark:
        return measuring.record_measured_pull(unit(), actor(), pull, now)
    measured = measuring.try_measured_pull(unit(), actor(), pull, now)
    if form.log_it.data:
        form.notices.append(_("Something has changed: look at the new figures, then log it."))
    form.upload.data = upload.sealed(mark)
    return upload, measured


def _upload(form: CellForm) -> CellUpload | None:
    """Return the file that was chosen now, else the one that the page carries.

    It is kept on the page even where another control is to be mended, so that nobody
    chooses it twice; what is wrong with it stands beside it.
    """
    read_as = (form.unit.data or "", form.zero.data or "")
    try:
        upload = _read(form, read_as) if form.file.data else opened(form.upload.data or "")
    except Problems as error:
        for problem in error.items:
            form.tell(form.file, str(problem))
        upload = None
    else:
        if upload is None:
            form.tell(form.file, str(CHOOSE_FIRST))
        elif upload.read_as != read_as:
            form.tell(
                form.file, _("Choose the file once more, to be read with this unit and zero.")
            )
            upload = None
    form.upload.data = upload.sealed(upload.seen) if upload else ""
    return upload


def _read(form: CellForm, read_as: tuple[str, str]) -> CellUpload:
    name, data = form.read()
    unit_of_forces, zero = read_as
    read = read_cell(
        secure_filename(name) or "file", data, unit=unit_of_forces, balance=zero == BALANCED
    )
    return upload_of(read, read_as)


def _within(reading: CellReading, stated: Quantity | None) -> CellReading:
    """Return a reading with the end of the cell's range: of two that are told the lower."""
    if stated is None:
        return reading
    return replace(reading, most=min(stated.value, reading.most or stated.value))


def _pull(pulled: Pulled, form: CellForm, upload: CellUpload) -> MeasuredPull:
    is_kinetic = pulled.rig.speed is not None
    quantity = form.speed.quantity if is_kinetic else None
    return MeasuredPull(
        class_id=pulled.class_id,
        version_id=pulled.version_id,
        rig=pulled.document,
        items=form.items,
        ended=form.ended.data,
        key=form.key.data or "",
        at=form.at.moment,
        reading=_within(upload.reading, form.most.quantity),
        place=form.place.data,
        speed=quantity.value if quantity else None,
    )
