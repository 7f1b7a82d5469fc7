"""Asking back after a diagnosis: one short question, whose reply changes no mark."""

from __future__ import annotations

from http import HTTPStatus

from flask import redirect, render_template, url_for
from flask.typing import ResponseReturnValue

from coursekit.problems import CoursekitError
from coursekit.services import following_up
from coursekit.services.following_up import FollowUpView, Reply
from coursekit.web import clock
from coursekit.web.answer.follow_up_page import follow_up_form, follow_up_page
from coursekit.web.answer.forms import AnswerForm
from coursekit.web.identity import actor, unit


def follow_up(attempt_id: int, task_id: str) -> ResponseReturnValue:
    """Ask whether a diagnosis was right, and show what the reply told."""
    view = following_up.follow_up_view(unit(), actor(), attempt_id, task_id)
    form = follow_up_form(view)
    if form.validate_on_submit() and _replied(view, form):
        address = url_for("answer.follow_up", attempt_id=attempt_id, task_id=task_id)
        return redirect(address, HTTPStatus.SEE_OTHER)
    page = follow_up_page(view)
    return render_template("answer/follow_up.html", page=page, form=form), form.status


def _replied(view: FollowUpView, form: AnswerForm) -> bool:
    reply = Reply(view.attempt_id, view.task.id, str(form.typed))
    try:
        following_up.reply_to_follow_up(unit(), actor(), reply, clock.now())
    except CoursekitError as error:
        form.show(error)
        return False
    return True
