"""The planned pulls of a class: what the kit has to have left for."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import planning
from coursekit.services.errors import Conflict
from coursekit.services.planning import NewPlan, PlanDesk
from coursekit.web import clock
from coursekit.web.identity import actor, unit
from coursekit.web.kit.plan_form import plan_form


def plan(class_id: int) -> ResponseReturnValue:
    """Say how often a class pulls each rig."""
    desk, is_anew = _desk(class_id), False
    form = plan_form(desk.plan)
    if form.validate_on_submit():
        new = NewPlan(class_id, form.pulls, form.version)
        try:
            planning.plan_pulls(unit(), actor(), new, clock.now())
        except CoursekitError as error:
            form.show(error)
            is_anew = isinstance(error, Conflict)
        else:
            flash(_("Planned. What is issued from now on has to have enough left for it."))
            return redirect(url_for("kit.class_kit", class_id=class_id), HTTPStatus.SEE_OTHER)
    if is_anew:
        # The next try is made against the plan that is shown beside what was typed.
        desk = _desk(class_id)
        form.stamp(desk.plan.number, again=True)
    return render_template("kit/plan.html", desk=desk, form=form, is_anew=is_anew), form.status


def _desk(class_id: int) -> PlanDesk:
    return planning.plan_desk(unit(), actor(), class_id)
