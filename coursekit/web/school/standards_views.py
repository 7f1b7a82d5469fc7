"""The pages of panels: which scenarios are judged, rating one, taking its cut on."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import standards
from coursekit.services.actor import Role
from coursekit.services.errors import Conflict, Refused
from coursekit.services.standards import Adoption
from coursekit.web import clock
from coursekit.web.fields import Press
from coursekit.web.identity import actor, unit
from coursekit.web.school.standards_form import AdoptForm, chances_form
from coursekit.web.school.standards_page import sheet_page, standards_page


def show_standards() -> ResponseReturnValue:
    """Show every scenario with its panel's pass mark."""
    page = standards_page(standards.standards(unit(), actor()))
    return render_template(
        "school/standards.html", page=page, form=Press(), is_head=actor().has(Role.HEAD)
    )


def open_sheet(version_id: int) -> ResponseReturnValue:
    """Open a sheet on a scenario, or go to the one that is open."""
    return _to(standards.open_sheet(unit(), actor(), version_id, clock.now()))


def sheet(sheet_id: int) -> ResponseReturnValue:
    """Show a sheet, and take what a judge expects."""
    found = standards.sheet_of(unit(), actor(), sheet_id)
    form = chances_form(found.scenario)
    form.begin(found)
    if form.validate_on_submit():
        try:
            standards.rate(unit(), actor(), form.chances(sheet_id), clock.now())
        except CoursekitError as error:
            form.show(error)
            form.stamp(found.round, again=isinstance(error, Conflict))
        else:
            flash(_("Your ratings are kept. You may change them while the round lasts."))
            return _to(sheet_id)
    page = sheet_page(found)
    is_head = actor().has(Role.HEAD)
    return render_template("school/sheet.html", page=page, form=form, is_head=is_head), form.status


def next_round(sheet_id: int) -> ResponseReturnValue:
    """End the blind round."""
    try:
        standards.next_round(unit(), actor(), sheet_id)
    except Refused as error:
        flash(str(error))
    return _to(sheet_id)


def adopt(sheet_id: int) -> ResponseReturnValue:
    """Take the cut of a sheet on as the pass mark of its scenario."""
    page = sheet_page(standards.sheet_of(unit(), actor(), sheet_id))
    form = AdoptForm()
    if form.validate_on_submit():
        adoption = Adoption(sheet_id, form.reason.data)
        try:
            standards.adopt(unit(), actor(), adoption, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("It is the pass mark of this scenario from now on."))
            return redirect(url_for("school.standards"), HTTPStatus.SEE_OTHER)
    return render_template("school/adopt.html", page=page, form=form), form.status


def _to(sheet_id: int) -> ResponseReturnValue:
    return redirect(url_for("school.sheet", sheet_id=sheet_id), HTTPStatus.SEE_OTHER)
