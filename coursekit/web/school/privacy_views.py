"""What the school keeps about people: giving it out, erasing it, and what is past."""

from __future__ import annotations

from http import HTTPStatus

from flask import Response, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from flask_babel import ngettext
from wtforms import BooleanField

from coursekit.files.personal_archive import ARCHIVE_TYPE
from coursekit.problems import CoursekitError
from coursekit.services import erasing, personal_data
from coursekit.services.erasing import Erasure
from coursekit.services.personal_data import LONGEST_SEARCH
from coursekit.web import clock
from coursekit.web.fields import Form, Press
from coursekit.web.given_out import attached
from coursekit.web.identity import actor, unit
from coursekit.web.school.privacy_page import privacy_page, subject_page


class EraseForm(Form):
    """Asks once more; appeal notes and the like may go with the name."""

    texts = BooleanField(_l("Also remove what they wrote in their own words, such as appeals"))


def privacy() -> ResponseReturnValue:
    """Show whose names are past, and look for somebody."""
    looked_for = request.args.get("name", "")[:LONGEST_SEARCH]
    kept = personal_data.retention(unit(), actor(), clock.now())
    found = personal_data.subjects(unit(), actor(), looked_for)
    page = privacy_page(kept, looked_for, found)
    return render_template("school/privacy.html", page=page)


def subject(person_id: int) -> ResponseReturnValue:
    """Show one person, with the ways to give their data out or to erase the name."""
    page = subject_page(personal_data.subject(unit(), actor(), person_id))
    return render_template("school/subject.html", page=page)


def data(person_id: int) -> Response:
    """Give one person's data out, for the head to hand on."""
    archive = personal_data.data_of(unit(), actor(), person_id, clock.now())
    return attached(archive, ARCHIVE_TYPE, f"data-of-person-{person_id}.zip")


def erase(person_id: int) -> ResponseReturnValue:
    """Ask once, then take a name out for good."""
    page = subject_page(personal_data.subject(unit(), actor(), person_id))
    form = EraseForm(texts=True)
    if form.validate_on_submit():
        erasure = Erasure(person_id, texts=bool(form.texts.data))
        try:
            erasing.erase_person(unit(), actor(), erasure, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("The name is erased. What must stay is kept without it."))
            address = url_for("school.subject", person_id=person_id)
            return redirect(address, HTTPStatus.SEE_OTHER)
    return render_template("school/erase.html", page=page, form=form), form.status


def erase_past() -> ResponseReturnValue:
    """Ask once, then take out every name and empty every record that is past its period."""
    page = privacy_page(personal_data.retention(unit(), actor(), clock.now()), "", ())
    form = Press()
    if form.validate_on_submit():
        count = erasing.erase_past(unit(), actor(), clock.now())
        emptied = erasing.empty_past_records(unit(), actor(), clock.now())
        flash(ngettext("%(num)d name is erased.", "%(num)d names are erased.", count))
        if emptied:
            flash(ngettext("%(num)d record is emptied.", "%(num)d records are emptied.", emptied))
        return redirect(url_for("school.privacy"), HTTPStatus.SEE_OTHER)
    return render_template("school/erase_past.html", page=page, form=form), form.status
