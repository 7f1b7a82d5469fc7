"""The pages of the kit area and who may open them."""

from __future__ import annotations

from flask import Blueprint
from flask_babel import lazy_gettext as _l

from coursekit.web.kit import (
    ahead_views,
    calendar_views,
    change_views,
    file_views,
    issue_views,
    label_views,
    look_views,
    plan_views,
    register_views,
    repair_views,
    scan_views,
    sheet_views,
    table_views,
    views,
)
from coursekit.web.kit.file_forms import LARGEST_FORM
from coursekit.web.routes import ANYONE, FORM, POST, SIGNED_IN, STAFF, STOREKEEPER, Route, area

_ITEM = "/items/<int:item_id>"
ROUTES = (
    Route("", "store", views.store, STAFF, nav=_l("Kit")),
    Route("/scan", "scan", scan_views.scan, STAFF, camera=True),
    Route("/found", "found", views.found, STAFF),
    Route("/retired", "retired", views.retired, STAFF),
    Route("/retired.svg", "retired_chart", views.retired_chart, STAFF),
    Route("/ahead", "ahead", ahead_views.ahead, STAFF),
    Route("/ahead.svg", "ahead_chart", ahead_views.ahead_chart, STAFF),
    Route(
        "/items/new",
        "register_item",
        register_views.register_item,
        STOREKEEPER,
        FORM,
        keeps_typed=True,
    ),
    Route(
        "/types/new",
        "register_type",
        register_views.register_type,
        STOREKEEPER,
        FORM,
        keeps_typed=True,
    ),
    Route("/types/<int:type_id>", "type", change_views.show_type, STAFF),
    Route(
        "/types/<int:type_id>/change",
        "change_type",
        change_views.change_type,
        STOREKEEPER,
        FORM,
        keeps_typed=True,
    ),
    Route(
        "/classes/<int:class_id>",
        "class_kit",
        issue_views.class_kit,
        STAFF,
        FORM,
        keeps_typed=True,
    ),
    Route("/classes/<int:class_id>/plan", "plan", plan_views.plan, STAFF, FORM, keeps_typed=True),
    Route(
        "/classes/<int:class_id>/return",
        "give_back",
        issue_views.give_back,
        STAFF,
        FORM,
        keeps_typed=True,
    ),
    Route("/register.csv", "export_csv", table_views.export_csv, STAFF),
    Route("/register.xlsx", "export_xlsx", table_views.export_xlsx, STAFF),
    Route("/register.pdf", "register_pdf", sheet_views.register_pdf, STAFF),
    Route(f"{_ITEM}.pdf", "item_pdf", sheet_views.item_pdf, STAFF),
    Route(f"{_ITEM}/examinations.pdf", "inspections_pdf", sheet_views.inspections_pdf, STAFF),
    Route("/classes/<int:class_id>.pdf", "kit_list_pdf", sheet_views.kit_list_pdf, STAFF),
    Route(
        "/import",
        "import_kit",
        table_views.import_kit,
        STOREKEEPER,
        FORM,
        keeps_typed=True,
        largest=table_views.LARGEST_FORM,
    ),
    Route("/calendar", "calendar", calendar_views.calendar, STAFF, FORM),
    Route("/calendar/end", "end_calendar", calendar_views.end_calendar, STAFF, POST),
    Route("/calendars/<secret>/kit.ics", "calendar_feed", calendar_views.calendar_feed, ANYONE),
    Route("/recall", "recall", label_views.recall, STAFF, FORM, keeps_typed=True),
    Route("/labels", "labels", label_views.labels, STAFF),
    Route("/labels/sheet", "label_sheet", label_views.label_sheet, STAFF),
    Route(f"{_ITEM}/code.svg", "code", label_views.code, STAFF),
    # The code of a label: a student comes to the look before use, and to nothing else.
    Route(_ITEM, "item", look_views.opened, SIGNED_IN),
    Route(f"{_ITEM}/look", "look", look_views.look, SIGNED_IN, FORM, keeps_typed=True),
    Route(
        f"{_ITEM}/change",
        "change_item",
        change_views.change_item,
        STOREKEEPER,
        FORM,
        keeps_typed=True,
    ),
    Route(f"{_ITEM}/issue", "issue_item", issue_views.issue_item, STAFF, FORM, keeps_typed=True),
    Route(f"{_ITEM}/life.svg", "life", views.life, STAFF),
    Route(
        f"{_ITEM}/photo",
        "add_photo",
        file_views.add_photo,
        STAFF,
        FORM,
        keeps_typed=True,
        largest=LARGEST_FORM,
    ),
    Route(
        f"{_ITEM}/certificate",
        "add_certificate",
        file_views.add_certificate,
        STAFF,
        FORM,
        keeps_typed=True,
        largest=LARGEST_FORM,
    ),
    Route("/files/<int:file_id>", "file", file_views.show, STAFF),
    Route("/files/<int:file_id>/small", "small_file", file_views.show_small, STAFF),
    Route(
        "/files/<int:file_id>/remove",
        "remove_file",
        file_views.remove,
        STOREKEEPER,
        FORM,
        keeps_typed=True,
    ),
    # Anyone of the school's staff may hold an item back.
    Route(f"{_ITEM}/quarantine", "quarantine", views.quarantine, STAFF, FORM, keeps_typed=True),
    Route(f"{_ITEM}/release", "release", views.release, STAFF, FORM, keeps_typed=True),
    Route(f"{_ITEM}/lost", "lose", repair_views.lose, STAFF, FORM, keeps_typed=True),
    Route(f"{_ITEM}/found", "find", repair_views.find, STAFF, FORM, keeps_typed=True),
    Route(f"{_ITEM}/repair", "repair", repair_views.repair, STAFF, FORM, keeps_typed=True),
    Route(f"{_ITEM}/exposure", "expose", views.expose, STAFF, FORM, keeps_typed=True),
    Route(f"{_ITEM}/inspect", "inspect", views.inspect, STAFF, FORM, keeps_typed=True),
    Route(f"{_ITEM}/retire", "retire", views.retire, STOREKEEPER, FORM, keeps_typed=True),
    Route(
        f"{_ITEM}/entries/<int:entry_id>/correct",
        "correct",
        views.correct,
        STAFF,
        FORM,
        keeps_typed=True,
    ),
)


def blueprint() -> Blueprint:
    """Return the area."""
    return area("kit", ROUTES, "/kit")
