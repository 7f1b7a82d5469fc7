"""Second marking: choosing a paper, marking it blind, comparing, agreeing."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import second_marking
from coursekit.services.errors import Conflict
from coursekit.services.second_marking import Agreed, SecondMarks
from coursekit.web import clock
from coursekit.web.identity import actor, unit
from coursekit.web.teach.second_forms import AgreeForm, BlindForm, with_tasks
from coursekit.web.teach.second_pages import blind_page, compare_page, second_list


def second_marking_of(class_id: int) -> ResponseReturnValue:
    """List the papers of a class for a second marker, and how far two markers agree."""
    found = second_marking.class_second_marking(unit(), actor(), class_id)
    return render_template("teach/second_list.html", page=second_list(found))


def second(attempt_id: int) -> ResponseReturnValue:
    """Mark a paper blind."""
    page = blind_page(second_marking.blind_paper(unit(), actor(), attempt_id))
    form = with_tasks(BlindForm, [task.id for task in page.tasks])
    if form.validate_on_submit():
        given = SecondMarks(attempt_id, form.marks, form.unsafe.data or "")
        try:
            second_marking.mark_second(unit(), actor(), given, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Kept. Your marks do not count by themselves: compare them now."))
            return _to_comparison(attempt_id)
    return render_template("teach/second.html", page=page, form=form), form.status


def compare(attempt_id: int) -> ResponseReturnValue:
    """Show two markings side by side, and take what both agree on."""
    page = compare_page(second_marking.comparison(unit(), actor(), attempt_id))
    form = with_tasks(AgreeForm, [task.id for task in page.differing])
    if form.validate_on_submit():
        agreed = Agreed(
            attempt_id,
            form.marks,
            bool(form.is_unsafe.data),
            form.code.data or "",
            form.reason.data or "",
            form.version,
        )
        try:
            second_marking.agree(unit(), actor(), agreed, clock.now())
        except CoursekitError as error:
            form.show(error)
            form.stamp(page.number, again=isinstance(error, Conflict))
        else:
            flash(_("What you agreed on counts now, and both markings stay."))
            return _to_comparison(attempt_id)
    form.stamp(page.number)
    return render_template("teach/compare.html", page=page, form=form), form.status


def _to_comparison(attempt_id: int) -> ResponseReturnValue:
    return redirect(url_for("teach.compare", attempt_id=attempt_id), HTTPStatus.SEE_OTHER)
