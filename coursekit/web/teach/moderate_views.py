"""Moderation: changing a mark, asking to excuse a finding, answering what was asked."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from werkzeug.exceptions import NotFound

from coursekit.problems import CoursekitError
from coursekit.services import answering, moderating, retries, reviewing
from coursekit.services.answering import ResultView
from coursekit.services.errors import Conflict
from coursekit.services.moderating import MarkChange, PaperHistory
from coursekit.services.reviewing import Answered, Excuse, RequestRow
from coursekit.web import clock
from coursekit.web.fields import options
from coursekit.web.identity import actor, unit
from coursekit.web.marks_page import marks_page
from coursekit.web.stamped import StampedForm
from coursekit.web.teach.moderate_forms import AnswerForm, ExcuseForm, MarkForm
from coursekit.web.teach.moderate_pages import (
    answer_page,
    change_page,
    excusable,
    excuse_page,
    open_requests,
    waiting_page,
)
from coursekit.web.tries import try_lines


def paper(attempt_id: int) -> ResponseReturnValue:
    """Show one student's paper: answers as typed, marks, reasons, worked steps, changes."""
    result, history = _paper(attempt_id)
    asked = [one.stop for one in history.open_excuses]
    return render_template(
        "teach/paper.html",
        page=marks_page(result, history),
        student=result.student,
        tries=try_lines(retries.tries(unit(), actor(), attempt_id), attempt_id, "teach.paper"),
        sent=result.submitted_at,
        page_reviews=open_requests(history),
        excusable=[one for one in excusable(result) if result.stops[one[0]] not in asked],
    )


def change_mark(attempt_id: int, task_id: str) -> ResponseReturnValue:
    """Give one task of a paper other marks."""
    result, history = _paper(attempt_id)
    page, form = change_page(result, history, task_id), MarkForm()
    if page is None:
        raise NotFound
    if form.validate_on_submit():
        change = MarkChange(
            attempt_id,
            task_id,
            form.marks.data or "",
            form.code.data or "",
            form.reason.data or "",
            form.version,
        )
        try:
            moderating.change_mark(unit(), actor(), change, clock.now())
        except CoursekitError as error:
            _show(form, error, attempt_id)
        else:
            flash(_("The new mark stands beside the old one, and the student sees why."))
            return _to_paper(attempt_id)
    form.stamp(page.number)
    return render_template("teach/change_mark.html", page=page, form=form), form.status


def excuse(attempt_id: int, stop: int) -> ResponseReturnValue:
    """Ask that a critical finding be set aside because the key was wrong."""
    result, history = _paper(attempt_id)
    page, form = excuse_page(result, history, stop), ExcuseForm()
    if page is None:
        raise NotFound
    if form.validate_on_submit():
        wish = Excuse(attempt_id, stop, form.reason.data or "", form.version)
        try:
            reviewing.ask_to_excuse(unit(), actor(), wish, clock.now())
        except CoursekitError as error:
            _show(form, error, attempt_id)
        else:
            flash(_("Asked. The finding stands until another instructor has decided."))
            return _to_paper(attempt_id)
    form.stamp(page.number)
    return render_template("teach/excuse.html", page=page, form=form), form.status


def reviews() -> ResponseReturnValue:
    """List what students and instructors ask about marks, the oldest first."""
    page = waiting_page(reviewing.waiting_requests(unit(), actor()))
    return render_template("teach/reviews.html", page=page)


def answer_review(request_id: int) -> ResponseReturnValue:
    """Answer an appeal, or decide on excusing a finding."""
    asked = reviewing.one_request(unit(), actor(), request_id)
    if not asked.is_open:
        return _to_paper(asked.attempt_id)
    result, history = _paper(asked.attempt_id)
    form = AnswerForm()
    form.granted.choices = options(_decisions(asked))
    if form.validate_on_submit():
        answer = Answered(request_id, form.granted.data == "yes", form.reason.data or "")
        try:
            reviewing.answer_request(unit(), actor(), answer, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Answered. The answer stands on the paper, and the student reads it."))
            return _to_paper(asked.attempt_id)
    page = answer_page(result, history, asked)
    return render_template("teach/answer_review.html", page=page, form=form), form.status


def _decisions(asked: RequestRow) -> list[tuple[str, str]]:
    if asked.kind == "appeal":
        return [("no", _("The marks stand")), ("yes", _("I have changed the marks"))]
    return [("no", _("The finding stands")), ("yes", _("The key was wrong: excuse it"))]


def _paper(attempt_id: int) -> tuple[ResultView, PaperHistory]:
    result = answering.result_view(unit(), actor(), attempt_id)
    return result, moderating.paper_history(unit(), actor(), attempt_id)


def _show(form: StampedForm, error: CoursekitError, attempt_id: int) -> None:
    form.show(error)
    if isinstance(error, Conflict):
        newer = moderating.paper_history(unit(), actor(), attempt_id).number
        form.stamp(newer, again=True)


def _to_paper(attempt_id: int) -> ResponseReturnValue:
    return redirect(url_for("teach.paper", attempt_id=attempt_id), HTTPStatus.SEE_OTHER)
