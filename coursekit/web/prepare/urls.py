"""The pages of the prepare area and who may open them."""

from __future__ import annotations

from flask import Blueprint
from flask_babel import lazy_gettext as _l

from coursekit.web.prepare import editor_views, views
from coursekit.web.prepare.editor_forms import LARGEST_FORM
from coursekit.web.routes import FORM, INSTRUCTOR, POST, Route, area

_SCENARIO = "/<int:version_id>"
_DRAFT = "/drafts/<int:draft_id>"
ROUTES = (
    Route(
        "", "scenarios", views.scenarios, INSTRUCTOR, FORM, keeps_typed=True, nav=_l("Scenarios")
    ),
    Route(_SCENARIO, "scenario", views.scenario, INSTRUCTOR),
    Route(f"{_SCENARIO}/sheet", "sheet", views.sheet, INSTRUCTOR),
    Route(f"{_SCENARIO}/proof", "proof", views.proof, INSTRUCTOR),
    Route(f"{_SCENARIO}/guide", "guide", views.guide, INSTRUCTOR),
    Route(f"{_SCENARIO}/rigs/<name>", "working", views.working, INSTRUCTOR),
    Route(f"{_SCENARIO}/rigs/<name>/force-time.svg", "force_time", views.force_time, INSTRUCTOR),
    Route(f"{_SCENARIO}/file", "file", editor_views.version_file, INSTRUCTOR),
    Route(f"{_SCENARIO}/change", "change", editor_views.change, INSTRUCTOR, POST),
    Route(f"{_SCENARIO}/copy", "copy", editor_views.copy, INSTRUCTOR, POST),
    Route("/new", "new", editor_views.new, INSTRUCTOR, FORM, keeps_typed=True),
    Route(
        "/import",
        "import_file",
        editor_views.import_file,
        INSTRUCTOR,
        POST,
        keeps_typed=True,
        largest=LARGEST_FORM,
    ),
    Route(_DRAFT, "edit", editor_views.edit, INSTRUCTOR, FORM, keeps_typed=True),
    Route(f"{_DRAFT}/try", "try_out", editor_views.try_out, INSTRUCTOR, POST),
    Route(f"{_DRAFT}/text", "draft_text", editor_views.text, INSTRUCTOR, FORM, keeps_typed=True),
    Route(f"{_DRAFT}/file", "draft_file", editor_views.draft_file, INSTRUCTOR),
    Route(f"{_DRAFT}/discard", "discard", editor_views.discard, INSTRUCTOR, FORM),
)


def blueprint() -> Blueprint:
    """Return the area."""
    return area("prepare", ROUTES, "/scenarios")
