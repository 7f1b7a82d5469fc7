"""Issuing the records of a class, and what becomes of a certificate afterwards."""

from __future__ import annotations

from http import HTTPStatus

from flask import abort, flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.assessment.validity import Act
from coursekit.problems import CoursekitError
from coursekit.services import recording, records
from coursekit.services.recording import Issued
from coursekit.services.results import class_results
from coursekit.web import clock
from coursekit.web.identity import actor, unit
from coursekit.web.records.class_page import class_records_page
from coursekit.web.records.forms import IssueForm, JudgeForm
from coursekit.web.records.record_page import record_page


def issue(class_id: int) -> ResponseReturnValue:
    """Show the results of a class and its records; issue those that are new."""
    form = IssueForm()
    if form.validate_on_submit():
        try:
            issued = recording.issue(unit(), actor(), class_id, form.circumstances, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_told(issued))
            return redirect(url_for("records.issue", class_id=class_id), HTTPStatus.SEE_OTHER)
    page = class_records_page(
        class_results(unit(), actor(), class_id),
        records.records_of_class(unit(), actor(), class_id, clock.now()),
    )
    return render_template("records/class.html", page=page, form=form), form.status


def judge(record_id: int) -> ResponseReturnValue:
    """Suspend, reinstate or withdraw a certificate."""
    page = record_page(records.record(unit(), actor(), record_id, clock.now()))
    if page.certificate_id is None:
        abort(HTTPStatus.NOT_FOUND)
    form = JudgeForm()
    if form.validate_on_submit():
        try:
            recording.judge(
                unit(), actor(), page.certificate_id, Act(form.act.data),
                form.reason.data, clock.now(),
            )  # fmt: skip
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Recorded. The check page says so from now on."))
            return redirect(url_for("records.record", record_id=record_id), HTTPStatus.SEE_OTHER)
    return render_template("records/judge.html", page=page, form=form), form.status


def _told(issued: Issued) -> str:
    if not issued.records:
        return _("Nothing is new: the records say already what they would say now.")
    made = ngettext("%(num)d record is issued", "%(num)d records are issued", issued.records)
    held = ngettext("%(num)d certificate", "%(num)d certificates", issued.certificates)
    return _("%(made)s, with %(held)s.", made=made, held=held)
