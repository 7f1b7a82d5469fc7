"""Practising alone: what to do next and why, one question, its mark at once."""

from __future__ import annotations

from http import HTTPStatus
from zoneinfo import ZoneInfo

from flask import redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue

from coursekit.problems import CoursekitError
from coursekit.services import practising
from coursekit.services.practising import PracticeView
from coursekit.web import clock
from coursekit.web.answer.forms import AnswerForm
from coursekit.web.answer.practice_pages import practice_page, question_page
from coursekit.web.answer.rig_form import answer_form, is_redrawn
from coursekit.web.fields import Press
from coursekit.web.identity import actor, timezone, unit

LONGEST_SKILL = 120


def practice() -> ResponseReturnValue:
    """Show what to practise next, why, and how each skill stands."""
    found = practising.my_practice(unit(), actor(), clock.now())
    page = practice_page(found, ZoneInfo(timezone()))
    return render_template("answer/practice.html", page=page, form=Press())


def practise() -> ResponseReturnValue:
    """Ask a question of the skill that was chosen, or of the one to try next."""
    skill = request.form.get("skill", "")[:LONGEST_SKILL] or None
    question_id = practising.ask(unit(), actor(), clock.now(), skill)
    address = url_for("answer.practice_question", question_id=question_id)
    return redirect(address, HTTPStatus.SEE_OTHER)


def question(question_id: int) -> ResponseReturnValue:
    """Show one question and take its answer; once it is answered, its mark and why."""
    view = _view(question_id)
    form = answer_form(view.scenario, view.task, view.question_id, view.typed)
    is_answered = view.verdict is None and not is_redrawn(form) and form.validate_on_submit()
    if is_answered and _answered(view, form):
        address = url_for("answer.practice_question", question_id=question_id)
        return redirect(address, HTTPStatus.SEE_OTHER)
    page = question_page(view, ZoneInfo(timezone()))
    return render_template("answer/practice_question.html", page=page, form=form), form.status


def _view(question_id: int) -> PracticeView:
    return practising.question_view(unit(), actor(), question_id, clock.now())


def _answered(view: PracticeView, form: AnswerForm) -> bool:
    try:
        practising.answer_question(unit(), actor(), view.question_id, form.typed, clock.now())
    except CoursekitError as error:
        form.show(error)
        return False
    return True
