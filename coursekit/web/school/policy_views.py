"""The head's pages of the school's rules."""

from __future__ import annotations

from http import HTTPStatus

from flask import flash, redirect, render_template, url_for
from flask.typing import ResponseReturnValue
from flask_babel import gettext as _

from coursekit.problems import CoursekitError
from coursekit.services import policies
from coursekit.services.errors import Conflict
from coursekit.web import clock
from coursekit.web.identity import actor, unit
from coursekit.web.school.policy_form import PolicyForm
from coursekit.web.school.policy_page import rules_page


def rules() -> ResponseReturnValue:
    """Show the rules in force, and every version before."""
    page = rules_page(policies.policy_versions(unit(), actor()))
    return render_template("school/rules.html", page=page)


def change_rules() -> ResponseReturnValue:
    """Put another version of the rules in force."""
    version = policies.policy_in_force(unit(), actor())
    form = PolicyForm()
    form.begin(version)
    if form.validate_on_submit():
        try:
            policies.change_policy(unit(), actor(), form.change, clock.now())
        except CoursekitError as error:
            form.show(error)
            form.stamp(version.number, again=isinstance(error, Conflict))
        else:
            flash(_("These rules hold from now on. What was decided before keeps its own."))
            return redirect(url_for("school.rules"), HTTPStatus.SEE_OTHER)
    return render_template("school/change_rules.html", form=form), form.status
