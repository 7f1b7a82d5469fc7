"""The pages of the school area and who may open them."""

from __future__ import annotations

from flask import Blueprint
from flask_babel import lazy_gettext as _l

from coursekit.web.routes import FORM, HEAD, INSTRUCTOR, POST, Route, area
from coursekit.web.school import people_views, policy_views, privacy_views, standards_views

JUDGES = INSTRUCTOR | HEAD
_SHEET = "/standards/<int:sheet_id>"
_PERSON = "/people/<int:person_id>"
_DATA = "/data/<int:person_id>"
ROUTES = (
    Route("", "people", people_views.people, HEAD, nav=_l("School")),
    Route("/people/new", "add_person", people_views.add_person, HEAD, FORM, keeps_typed=True),
    Route(_PERSON, "person", people_views.person, HEAD),
    Route(f"{_PERSON}/roles", "roles", people_views.roles, HEAD, FORM, keeps_typed=True),
    Route(f"{_PERSON}/password", "password", people_views.password, HEAD, FORM, keeps_typed=True),
    Route(f"{_PERSON}/end", "end_person", people_views.end_person, HEAD, FORM),
    Route("/data", "privacy", privacy_views.privacy, HEAD),
    Route("/data/past/erase", "erase_past", privacy_views.erase_past, HEAD, FORM),
    Route(_DATA, "subject", privacy_views.subject, HEAD),
    Route(f"{_DATA}/data.zip", "data", privacy_views.data, HEAD),
    Route(f"{_DATA}/erase", "erase", privacy_views.erase, HEAD, FORM, keeps_typed=True),
    Route("/rules", "rules", policy_views.rules, HEAD),
    Route("/rules/change", "change_rules", policy_views.change_rules, HEAD, FORM, keeps_typed=True),
    Route("/standards", "standards", standards_views.show_standards, JUDGES),
    Route("/standards/of/<int:version_id>", "open_sheet", standards_views.open_sheet, HEAD, POST),
    Route(_SHEET, "sheet", standards_views.sheet, JUDGES, FORM, keeps_typed=True),
    Route(f"{_SHEET}/next-round", "next_round", standards_views.next_round, HEAD, POST),
    Route(f"{_SHEET}/adopt", "adopt", standards_views.adopt, HEAD, FORM, keeps_typed=True),
)


def blueprint() -> Blueprint:
    """Return the area."""
    return area("school", ROUTES, "/school")
