"""Marking again: choosing the papers, watching a run, confirming it."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.problems import CoursekitError
from coursekit.services import marking_again, preparing
from coursekit.services.marking_again import Wish
from coursekit.web import clock
from coursekit.web.fields import Press, options
from coursekit.web.identity import actor, unit
from coursekit.web.teach.again_forms import ClassAgainForm, ConfirmForm, FallForm
from coursekit.web.teach.again_pages import (
    class_again_page,
    run_page,
    scenario_again_page,
    slug_choices,
)


def again_class(class_id: int) -> ResponseReturnValue:
    """Choose a scenario of a class whose papers are marked again."""
    touched, form = marking_again.class_touched(unit(), actor(), class_id), ClassAgainForm()
    form.slug.choices = options(slug_choices(touched.scenarios))
    if form.validate_on_submit():
        wish = Wish(form.slug.data, class_id, form.may_fall)
        run_id = _begun(wish, form)
        if run_id is not None:
            return _to_run(run_id)
    page = class_again_page(touched)
    return render_template("teach/again.html", page=page, form=form), form.status


def again_scenario(version_id: int) -> ResponseReturnValue:
    """Mark all papers of a scenario again by its newest version."""
    scenario = preparing.scenario_version(unit(), actor(), version_id).scenario
    papers, open_classes = marking_again.scenario_touched(unit(), actor(), scenario.id)
    form = FallForm()
    if form.validate_on_submit():
        run_id = _begun(Wish(scenario.id, None, form.may_fall), form)
        if run_id is not None:
            return _to_run(run_id)
    page = scenario_again_page(version_id, scenario.title, papers, open_classes)
    return render_template("teach/again.html", page=page, form=form), form.status


def again_run(run_id: int) -> ResponseReturnValue:
    """Show how far a run is, and what it would do."""
    return _run(run_id, ConfirmForm())


def again_go_on(run_id: int) -> ResponseReturnValue:
    """Look at the next papers of a run."""
    if Press().validate_on_submit():
        marking_again.go_on(unit(), actor(), run_id)
    return _to_run(run_id)


def again_confirm(run_id: int) -> ResponseReturnValue:
    """Let the new marks count."""
    form = ConfirmForm()
    if form.validate_on_submit():
        code, reason = form.code.data or "", form.reason.data or ""
        try:
            kept = marking_again.confirm_run(unit(), actor(), run_id, code, reason, clock.now())
        except CoursekitError as error:
            form.show(error)
        else:
            flash(
                ngettext(
                    "%(num)d paper has its new marking beside the old one.",
                    "%(num)d papers have their new marking beside the old one.",
                    kept,
                )
            )
            return _to_run(run_id)
    return _run(run_id, form)


def _begun(wish: Wish, form: FallForm) -> int | None:
    try:
        run_id = marking_again.begin_run(unit(), actor(), wish, clock.now())
        # A class of the usual size is done with the first step.
        marking_again.go_on(unit(), actor(), run_id)
    except CoursekitError as error:
        form.show(error)
        return None
    flash(_("Nothing is written yet: look at who would move, then confirm it."))
    return run_id


def _run(run_id: int, form: ConfirmForm) -> ResponseReturnValue:
    page = run_page(marking_again.run_view(unit(), actor(), run_id))
    press = Press()
    return (
        render_template("teach/again_run.html", page=page, form=form, press=press),
        form.status,
    )


def _to_run(run_id: int) -> ResponseReturnValue:
    return redirect(url_for("teach.again_run", run_id=run_id), HTTPStatus.SEE_OTHER)
