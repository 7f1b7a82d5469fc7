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
from coursekit.web.kit.plan_form import PlanForm, plan_form


def plan(class_id: int) -> ResponseReturnValue:
    """Say how often a class pulls each rig."""
    desk, is_anew = _desk(class_id), False
    form = plan_form(desk.plan)
    if form.validate_on_submit():
        try:
            planning.plan_pulls(unit(), actor(), _new_plan(class_id, form), clock.now())
        except CoursekitError as error:
            form.show(error)
            is_anew = isinstance(error, Conflict)
        else:
            flash(_("Planned. What is issued from now on has to have enough left for it."))
            return redirect(url_for("kit.class_kit", class_id=class_id), HTTPStatus.SEE_OTHER)
    if is_anew:
        # The next try is made against the plan that is shown beside what was typed.
        desk = _desk(class_id)
        form.seen.data = str(desk.plan.number)
    return render_template("kit/plan.html", desk=desk, form=form, is_anew=is_anew), form.status


def _desk(class_id: int) -> PlanDesk:
    return planning.plan_desk(unit(), actor(), class_id)


def _new_plan(class_id: int, form: PlanForm) -> NewPlan:
    seen = form.seen.data or ""
    return NewPlan(class_id, form.pulls, int(seen) if seen.isdecimal() else -1)
