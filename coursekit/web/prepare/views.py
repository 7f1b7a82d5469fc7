"""The pages of the scenarios: all of them, one with its proof, its sheet, its marking guide."""

from __future__ import annotations

from flask import Response, flash, redirect, render_template, request, url_for
from flask.typing import ResponseReturnValue
from flask_babel import ngettext
from werkzeug.exceptions import NotFound

from coursekit.problems import Problems
from coursekit.services import policies, preparing
from coursekit.services.preparing import ScenarioVersion
from coursekit.web import clock
from coursekit.web.fields import Press
from coursekit.web.force_time import force_time_chart
from coursekit.web.identity import actor, unit
from coursekit.web.plan import solved
from coursekit.web.prepare.guide_page import guide_page
from coursekit.web.prepare.pages import scenario_page, scenarios_page, sheet_page
from coursekit.web.prepare.proof_page import proof_page
from coursekit.web.prepare.rig_page import rig_page


def scenarios() -> ResponseReturnValue:
    """Show every scenario with its plan, and load what is new in the folder of files."""
    form = Press()
    if form.validate_on_submit() and _load(form):
        return redirect(url_for("prepare.scenarios"))
    page = scenarios_page(preparing.newest_versions(unit(), actor()))
    return render_template("prepare/scenarios.html", page=page, form=form), form.status


def scenario(version_id: int) -> ResponseReturnValue:
    """Show one scenario: its proof, its brief, and its named rigs worked out."""
    return render_template(
        "prepare/scenario.html", page=scenario_page(_version(version_id)), form=Press()
    )


def working(version_id: int, name: str) -> ResponseReturnValue:
    """Show a named rig worked out step by step."""
    version = _version(version_id)
    solution = solved(version.scenario, version.scenario.rigs.get(name))
    if solution is None:
        raise NotFound
    page = rig_page(version, name, solution)
    return render_template("prepare/working.html", page=page)


def sheet(version_id: int) -> ResponseReturnValue:
    """Show what a student needs on paper."""
    return render_template("prepare/sheet.html", page=sheet_page(_version(version_id)))


def proof(version_id: int) -> ResponseReturnValue:
    """Show how far the proof over all variations is, and lead on to its next step."""
    asked = request.args.get("examine", 0, type=int)
    page = proof_page(_version(version_id), asked)
    return render_template("prepare/proof.html", page=page)


def guide(version_id: int) -> ResponseReturnValue:
    """Show how answers on paper are marked."""
    version = _version(version_id)
    page = guide_page(version, policies.rule_now(unit(), actor(), version.scenario))
    return render_template("prepare/guide.html", page=page)


def force_time(version_id: int, name: str) -> ResponseReturnValue:
    """Serve the chart of a kinetic rig."""
    found = _version(version_id).scenario
    chart = force_time_chart(found, solved(found, found.rigs.get(name)))
    if chart is None:
        raise NotFound
    return Response(chart, mimetype="image/svg+xml")


def _load(form: Press) -> bool:
    """Load the folder of scenario files; every mistake in them is shown, with file and line."""
    try:
        report = preparing.load_folder(unit(), actor(), clock.now())
    except Problems as problems:
        form.notices += [str(problem) for problem in problems.items]
        return False
    new = len(report.added)
    flash(
        ngettext(
            "%(num)d scenario is new or changed.", "%(num)d scenarios are new or changed.", new
        )
    )
    return True


def _version(version_id: int) -> ScenarioVersion:
    return preparing.scenario_version(unit(), actor(), version_id)
