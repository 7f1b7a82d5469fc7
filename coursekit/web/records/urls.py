"""The pages of the records area and who may open them."""

from __future__ import annotations

from flask import Blueprint
from flask_babel import lazy_gettext as _l

from coursekit.web.records import calendar_views, check_views, issue_views, views
from coursekit.web.routes import (
    ANYONE,
    FORM,
    HEAD,
    INSTRUCTOR,
    POST,
    SIGNED_IN,
    STUDENT,
    Route,
    area,
)

_RECORD = "/records/<int:record_id>"
_CLASS = "/records/classes/<int:class_id>"
_KEEPERS = INSTRUCTOR | HEAD
ROUTES = (
    Route("/records", "records", views.records, _KEEPERS, nav=_l("Records")),
    Route("/records/table.csv", "table_csv", views.table_csv, _KEEPERS),
    Route("/records/table.xlsx", "table_xlsx", views.table_xlsx, _KEEPERS),
    Route(_CLASS, "issue", issue_views.issue, _KEEPERS, FORM, keeps_typed=True),
    Route("/records/people/<int:person_id>", "person", views.person, SIGNED_IN),
    Route("/records/people/<int:person_id>.pdf", "person_pdf", views.person_pdf, SIGNED_IN),
    Route("/records/people/<int:person_id>.csv", "person_csv", views.person_csv, SIGNED_IN),
    Route("/records/people/<int:person_id>.xlsx", "person_xlsx", views.person_xlsx, SIGNED_IN),
    Route("/my-records", "mine", views.mine, STUDENT),
    Route(_RECORD, "record", views.record, SIGNED_IN),
    Route(f"{_RECORD}.pdf", "record_pdf", views.record_pdf, SIGNED_IN),
    Route(f"{_RECORD}.csv", "record_csv", views.record_csv, SIGNED_IN),
    Route(f"{_RECORD}.xlsx", "record_xlsx", views.record_xlsx, SIGNED_IN),
    Route(f"{_RECORD}/certificate", "certificate", views.certificate, SIGNED_IN),
    Route(f"{_RECORD}/certificate.pdf", "certificate_pdf", views.certificate_pdf, SIGNED_IN),
    Route(f"{_RECORD}/code.svg", "code", views.code, SIGNED_IN),
    Route(f"{_RECORD}/judge", "judge", issue_views.judge, HEAD, FORM, keeps_typed=True),
    Route("/records/calendar", "calendar", calendar_views.calendar, _KEEPERS, FORM),
    Route("/records/calendar/end", "end_calendar", calendar_views.end_calendar, _KEEPERS, POST),
    Route("/calendars/<secret>/classes.ics", "calendar_feed", calendar_views.calendar_feed, ANYONE),
    Route("/check", "check", check_views.check, ANYONE),
    # Upper case, so that the code's picture of the whole address stays small.
    Route("/C/<code>", "check_code", check_views.check_code, ANYONE),
)


def blueprint() -> Blueprint:
    """Return the area."""
    return area("records", ROUTES)
