"""The student's way through a class: brief, tasks, handing in, marks."""

from __future__ import annotations

from http import HTTPStatus

from flask import Response, flash, jsonify, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from werkzeug.exceptions import NotFound

from coursekit.problems import CoursekitError
from coursekit.scenario.tasks import AnyTask
from coursekit.services import answering, moderating, retries, reviewing
from coursekit.services.answering import AttemptView, TypedAnswer
from coursekit.services.errors import Conflict, Refused
from coursekit.web import clock, identity
from coursekit.web.answer.forms import AnswerForm, AppealForm
from coursekit.web.answer.pages import (
    AppealPage,
    CardPage,
    attempt_page,
    class_page,
    hand_in_page,
    task_page,
    understood,
)
from coursekit.web.answer.rig_form import answer_form, is_redrawn
from coursekit.web.errors import wants_json
from coursekit.web.fields import Press
from coursekit.web.force_time import force_time_chart
from coursekit.web.identity import actor, unit
from coursekit.web.marks_page import marks_page, shown_solution
from coursekit.web.tries import try_lines


def my_class() -> ResponseReturnValue:
    """Show the scenarios of the class and how far each is."""
    page = class_page(answering.my_class(unit(), actor()), clock.now())
    return render_template("answer/my_class.html", page=page, form=Press())


def card() -> ResponseReturnValue:
    """Show how to come back from another device."""
    person = identity.someone()
    mine = answering.my_class(unit(), actor())
    page = CardPage(mine.title, person.school.name, person.name, identity.class_card())
    return render_template("answer/card.html", page=page)


def start(class_scenario_id: int) -> ResponseReturnValue:
    """Begin a scenario, or go on with it."""
    attempt_id = answering.start_attempt(unit(), actor(), class_scenario_id, clock.now())
    return redirect(url_for("answer.attempt", attempt_id=attempt_id), HTTPStatus.SEE_OTHER)


def again(class_scenario_id: int) -> ResponseReturnValue:
    """Begin another try, or say why it may not begin yet."""
    try:
        attempt_id = retries.try_again(unit(), actor(), class_scenario_id, clock.now())
    except Refused as error:
        flash(str(error))
        return redirect(url_for("answer.my_class"), HTTPStatus.SEE_OTHER)
    return redirect(url_for("answer.attempt", attempt_id=attempt_id), HTTPStatus.SEE_OTHER)


def attempt(attempt_id: int) -> ResponseReturnValue:
    """Show the brief with the row of tasks."""
    view = _view(attempt_id)
    if view.status == "submitted":
        return redirect(url_for("answer.marks", attempt_id=attempt_id))
    return render_template("answer/attempt.html", page=attempt_page(view))


def task(attempt_id: int, task_id: str) -> ResponseReturnValue:
    """Show one task and take its answer."""
    view = _view(attempt_id)
    asked = _task(view, task_id)
    if view.status == "submitted":
        return _already_handed_in(attempt_id)
    form = answer_form(view.scenario, asked, view.attempt_id, view.answers.get(asked.id))
    if is_redrawn(form):
        return _task_page(view, asked, form)
    if form.validate_on_submit() and _saved(view, asked, form):
        return _sent(attempt_id, asked)
    return _mend(view, asked, form)


def hand_in(attempt_id: int) -> ResponseReturnValue:
    """Ask once, then hand in for marking."""
    view = _view(attempt_id)
    form = Press()
    if view.status == "submitted":
        return redirect(url_for("answer.marks", attempt_id=attempt_id))
    if form.validate_on_submit():
        try:
            answering.submit_attempt(unit(), actor(), attempt_id, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            return redirect(url_for("answer.marks", attempt_id=attempt_id), HTTPStatus.SEE_OTHER)
    page = hand_in_page(view)
    return render_template("answer/hand_in.html", page=page, form=form), form.status


def marks(attempt_id: int) -> ResponseReturnValue:
    """Show marks, reasons, the rig with its loads, and the worked steps."""
    history = moderating.paper_history(unit(), actor(), attempt_id)
    page = marks_page(answering.result_view(unit(), actor(), attempt_id), history)
    made = try_lines(retries.tries(unit(), actor(), attempt_id), attempt_id, "answer.marks")
    may_appeal = history.open_appeal is None
    return render_template("answer/marks.html", page=page, tries=made, may_appeal=may_appeal)


def appeal(attempt_id: int) -> ResponseReturnValue:
    """Let the student ask for another look at the own paper."""
    result, form = answering.result_view(unit(), actor(), attempt_id), AppealForm()
    if form.validate_on_submit():
        try:
            text = form.reason.data or ""
            reviewing.appeal(unit(), actor(), attempt_id, text, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(_("Sent. Somebody who has not marked this paper answers you here."))
            return redirect(url_for("answer.marks", attempt_id=attempt_id), HTTPStatus.SEE_OTHER)
    page = AppealPage(attempt_id, result.scenario.title)
    return render_template("answer/appeal.html", page=page, form=form), form.status


def force_time(attempt_id: int) -> ResponseReturnValue:
    """Serve the chart of a kinetic pull, once its attempt is handed in."""
    result = answering.result_view(unit(), actor(), attempt_id)
    chart = force_time_chart(result.scenario, shown_solution(result))
    if chart is None:
        raise NotFound
    return Response(chart, mimetype="image/svg+xml")


def _view(attempt_id: int) -> AttemptView:
    return answering.attempt_view(unit(), actor(), attempt_id)


def _task(view: AttemptView, task_id: str) -> AnyTask:
    for asked in view.scenario.tasks:
        if asked.id == task_id:
            return asked
    raise NotFound


def _saved(view: AttemptView, asked: AnyTask, form: AnswerForm) -> bool:
    answer = TypedAnswer(view.attempt_id, asked.id, form.typed, form.key.data or "")
    try:
        answering.save_answer(unit(), actor(), answer, clock.now())
    except CoursekitError as error:
        form.show(error)
        if isinstance(error, Conflict):
            form.renew_key()
        return False
    return True


def _sent(attempt_id: int, asked: AnyTask) -> ResponseReturnValue:
    view = _view(attempt_id)
    read = understood(view, asked)
    said = _("Saved. Read as: %(read)s", read=read) if read else _("Saved.")
    if wants_json():
        return jsonify(said=said, answered=len(view.answers))
    flash(said)
    return redirect(task_page(view, asked).after, HTTPStatus.SEE_OTHER)


def _mend(view: AttemptView, asked: AnyTask, form: AnswerForm) -> ResponseReturnValue:
    if wants_json() and form.is_submitted():
        return jsonify(error=" ".join(form.messages)), form.status
    return _task_page(view, asked, form)


def _task_page(view: AttemptView, asked: AnyTask, form: AnswerForm) -> ResponseReturnValue:
    page = task_page(view, asked)
    return render_template("answer/task.html", page=page, form=form), form.status


def _already_handed_in(attempt_id: int) -> ResponseReturnValue:
    if wants_json():
        return jsonify(error=_("This is handed in already.")), HTTPStatus.CONFLICT
    return redirect(url_for("answer.marks", attempt_id=attempt_id))
