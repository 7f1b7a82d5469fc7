"""The pages of the scenarios: all of them, one with its proof, its sheet, its marking guide."""

from __future__ import annotations

from flask import Response, render_template
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import NotFound

from coursekit.services import preparing
from coursekit.services.preparing import ScenarioVersion
from coursekit.web.force_time import force_time_chart
from coursekit.web.identity import actor, unit
from coursekit.web.plan import solved
from coursekit.web.prepare.guide_page import guide_page
from coursekit.web.prepare.pages import scenario_page, scenarios_page, sheet_page, working_page


def scenarios() -> ResponseReturnValue:
    """Show every scenario with its plan."""
    page = scenarios_page(preparing.newest_versions(unit(), actor()))
    return render_template("prepare/scenarios.html", page=page)


def scenario(version_id: int) -> ResponseReturnValue:
    """Show one scenario: its proof, its brief, and its named rigs worked out."""
    return render_template("prepare/scenario.html", page=scenario_page(_version(version_id)))


def working(version_id: int, name: str) -> ResponseReturnValue:
    """Show a named rig worked out step by step."""
    version = _version(version_id)
    solution = solved(version.scenario, version.scenario.rigs.get(name))
    if solution is None:
        raise NotFound
    page = working_page(version, name, solution)
    return render_template("prepare/working.html", page=page)


def sheet(version_id: int) -> ResponseReturnValue:
    """Show what a student needs on paper."""
    return render_template("prepare/sheet.html", page=sheet_page(_version(version_id)))


def guide(version_id: int) -> ResponseReturnValue:
    """Show how answers on paper are marked."""
    return render_template("prepare/guide.html", page=guide_page(_version(version_id)))


def force_time(version_id: int, name: str) -> ResponseReturnValue:
    """Serve the chart of a kinetic rig."""
    found = _version(version_id).scenario
    chart = force_time_chart(found, solved(found, found.rigs.get(name)))
    if chart is None:
        raise NotFound
    return Response(chart, mimetype="image/svg+xml")


def _version(version_id: int) -> ScenarioVersion:
    return preparing.scenario_version(unit(), actor(), version_id)
