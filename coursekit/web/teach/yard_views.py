"""The yard list: marked by thumb, handed in, and agreed on where two assessors differ."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, jsonify, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from wtforms import HiddenField, StringField, TextAreaField
from wtforms.validators import Length

from coursekit.problems import CoursekitError
from coursekit.services import yard
from coursekit.services.yard import Agreed, Noted
from coursekit.web import clock
from coursekit.web.errors import wants_json
from coursekit.web.fields import Form, Press, fresh_key
from coursekit.web.identity import actor, unit
from coursekit.web.teach.yard_page import sheet_page, yard_page
from coursekit.web.verdicts import LEVELS

LONGEST = 4000


class NoteForm(Form):
    """The level of one criterion, with a note."""

    criterion = HiddenField()
    level = StringField()
    note = StringField(_l("Note"), validators=[Length(max=yard.LONGEST_NOTE)])
    key = HiddenField()

    def noted(self, enrolment_id: int, class_scenario_id: int) -> Noted:
        """Return what the service is to keep."""
        level = self.level.data or ""
        return Noted(
            enrolment_id,
            class_scenario_id,
            self.criterion.data or "",
            int(level) if level.isdecimal() and len(level) == 1 else -1,
            self.note.data or "",
            self.key.data or "",
        )


class AgreeForm(Form):
    """Why two assessors agreed on what they did; the levels stand beside it by criterion."""

    reason = TextAreaField(_l("Why?"), validators=[Length(max=LONGEST)])


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
            if wants_json():
                return jsonify(error=str(error)), HTTPStatus.UNPROCESSABLE_ENTITY
            form.show(error)
        else:
            if wants_json():
                return jsonify(said=_("saved"), answered=1)
            return _to(enrolment_id, class_scenario_id)
    return _page(enrolment_id, class_scenario_id, form)


def yard_hand_in(enrolment_id: int, class_scenario_id: int) -> ResponseReturnValue:
    """Make the own list final."""
    form = Press()
    if form.validate_on_submit():
        try:
            yard.hand_in(unit(), actor(), enrolment_id, class_scenario_id, clock.now())
        except CoursekitError as error:
            form.show(error)
            return _page(enrolment_id, class_scenario_id, form)
        flash(_("Handed in. What you saw stands; nothing of it is changed."))
    return _to(enrolment_id, class_scenario_id)


def yard_agree(enrolment_id: int, class_scenario_id: int) -> ResponseReturnValue:
    """Keep what two assessors agreed on."""
    form = AgreeForm()
    if form.validate_on_submit():
        levels = {
            name.removeprefix("level-"): int(value)
            for name, value in request.form.items()
            if name.startswith("level-") and value in {"0", "1", "2"}
        }
        agreed = Agreed(enrolment_id, class_scenario_id, levels, form.reason.data or "")
        try:
            yard.agree(unit(), actor(), agreed, clock.now())
        except CoursekitError as error:
            form.show(error)
            return _page(enrolment_id, class_scenario_id, form, chosen=levels)
        flash(_("Agreed. Both lists stay beside it."))
        return _to(enrolment_id, class_scenario_id)
    return _page(enrolment_id, class_scenario_id, form)


def _page(
    enrolment_id: int, class_scenario_id: int, form: Form, chosen: dict[str, int] | None = None
) -> ResponseReturnValue:
    page = sheet_page(yard.yard_sheet(unit(), actor(), enrolment_id, class_scenario_id))
    html = render_template(
        "teach/yard_sheet.html",
        page=page,
        form=form,
        agreed=form if isinstance(form, AgreeForm) else AgreeForm(formdata=None),
        levels=[(int(level), shape, word) for level, (shape, word) in LEVELS.items()],
        fresh_key=fresh_key,
        chosen=chosen or {},
    )
    return html, form.status


def _to(enrolment_id: int, class_scenario_id: int) -> ResponseReturnValue:
    return redirect(
        url_for("teach.yard_sheet", enrolment_id=enrolment_id, class_scenario_id=class_scenario_id),
        HTTPStatus.SEE_OTHER,
    )
