"""The pages of the prepare area and who may open them."""

from __future__ import annotations

from flask import Blueprint
from flask_babel import lazy_gettext as _l

from coursekit.web.prepare import views
from coursekit.web.routes import FORM, INSTRUCTOR, Route, area

_SCENARIO = "/<int:version_id>"
ROUTES = (
    Route(
        "", "scenarios", views.scenarios, INSTRUCTOR, FORM, keeps_typed=True, nav=_l("Scenarios")
    ),
    Route(_SCENARIO, "scenario", views.scenario, INSTRUCTOR),
    Route(f"{_SCENARIO}/sheet", "sheet", views.sheet, INSTRUCTOR),
    Route(f"{_SCENARIO}/guide", "guide", views.guide, INSTRUCTOR),
    Route(f"{_SCENARIO}/rigs/<name>", "working", views.working, INSTRUCTOR),
    Route(f"{_SCENARIO}/rigs/<name>/force-time.svg", "force_time", views.force_time, INSTRUCTOR),
)


def blueprint() -> Blueprint:
    """Return the area."""
    return area("prepare", ROUTES, "/scenarios")
