"""The yard list: marked by thumb, handed in, and agreed on where two assessors differ."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, jsonify, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import yard
from coursekit.web import clock
from coursekit.web.errors import wants_json
from coursekit.web.fields import Form, Press, fresh_key
from coursekit.web.identity import actor, unit
from coursekit.web.teach.yard_forms import AgreeForm, NoteForm, Typed
from coursekit.web.teach.yard_page import sheet_page, yard_page
from coursekit.web.verdicts import LEVELS


def yard_list(class_id: int) -> ResponseReturnValue:
    """Show who is marked in the yard, and how far assessors agree."""
    page = yard_page(yard.yard_of_class(unit(), actor(), class_id))
    return render_template("teach/yard.html", page=page)


def yard_sheet(enrolment_id: int, class_scenario_id: int) -> ResponseReturnValue:
    """Show one student's list, and keep one level."""
    form = NoteForm()
    if form.validate_on_submit():
        try:
            noted = form.noted(enrolment_id, class_scenario_id)
            yard.note(unit(), actor(), noted, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            if wants_json():
                return jsonify(said=_("saved"), answered=1)
            return _to(enrolment_id, class_scenario_id)
    if wants_json() and form.is_submitted():
        return jsonify(error=" ".join(form.messages)), form.status
    return _page(enrolment_id, class_scenario_id, form, form.typed, form.above)


def yard_hand_in(enrolment_id: int, class_scenario_id: int) -> ResponseReturnValue:
    """Make the own list final."""
    form = Press()
    if form.validate_on_submit():
        try:
            yard.hand_in(unit(), actor(), enrolment_id, class_scenario_id, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Handed in. What you saw stands; nothing of it is changed."))
            return _to(enrolment_id, class_scenario_id)
    return _page(enrolment_id, class_scenario_id, form, Typed(), form.messages)


def yard_agree(enrolment_id: int, class_scenario_id: int) -> ResponseReturnValue:
    """Keep what two assessors agreed on."""
    form = AgreeForm()
    if form.validate_on_submit():
        try:
            agreed = form.agreed(enrolment_id, class_scenario_id)
            yard.agree(unit(), actor(), agreed, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Agreed. Both lists stay beside it."))
            return _to(enrolment_id, class_scenario_id)
    return _page(enrolment_id, class_scenario_id, form, form.typed, form.above)


def _page(
    enrolment_id: int, class_scenario_id: int, form: Form, typed: Typed, above: tuple[str, ...]
) -> ResponseReturnValue:
    page = sheet_page(yard.yard_sheet(unit(), actor(), enrolment_id, class_scenario_id), typed)
    html = render_template(
        "teach/yard_sheet.html",
        page=page,
        form=form,
        above=above,
        agreed=form if isinstance(form, AgreeForm) else AgreeForm(formdata=None),
        levels=[(int(level), shape, word) for level, (shape, word) in LEVELS.items()],
        fresh_key=fresh_key,
    )
    return html, form.status


def _to(enrolment_id: int, class_scenario_id: int) -> ResponseReturnValue:
    return redirect(
        url_for("teach.yard_sheet", enrolment_id=enrolment_id, class_scenario_id=class_scenario_id),
        HTTPStatus.SEE_OTHER,
    )
