"""The planned pulls of a class: what the kit has to have left for."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import planning
from coursekit.services.errors import Conflict
from coursekit.services.planning import NewPlan
from coursekit.web import clock
from coursekit.web.identity import actor, unit
from coursekit.web.kit.plan_form import PlanForm, plan_form


def plan(class_id: int) -> ResponseReturnValue:
    """Say how often a class pulls each rig."""
    desk = planning.plan_desk(unit(), actor(), class_id)
    form = plan_form(desk.plan)
    if form.validate_on_submit() and _planned(class_id, form):
        flash(_("Planned. What is issued from now on has to have enough left for it."))
        return redirect(url_for("kit.class_kit", class_id=class_id), HTTPStatus.SEE_OTHER)
    return render_template("kit/plan.html", desk=desk, form=form), form.status


def _planned(class_id: int, form: PlanForm) -> bool:
    seen = form.seen.data or ""
    new = NewPlan(class_id, form.pulls, int(seen) if seen.isdecimal() else -1)
    try:
        planning.plan_pulls(unit(), actor(), new, clock.now())
    except CoursekitError as error:
        form.show(error)
        if isinstance(error, Conflict):
            # The next try is made against the plan that was shown beside the message.
            form.seen.data = str(planning.plan_desk(unit(), actor(), class_id).plan.number)
        return False
    return True
