"""The pages of the teach area and who may open them."""

from __future__ import annotations

from flask import Blueprint
from flask_babel import lazy_gettext as _l

from coursekit.web.routes import FORM, INSTRUCTOR, POST, Route, area
from coursekit.web.teach import (
    again_views,
    cell_views,
    moderate_views,
    pull_views,
    report_views,
    second_views,
    views,
    yard_views,
)
from coursekit.web.teach.cell_form import LARGEST_FORM

_CLASS = "/classes/<int:class_id>"
_YARD = "/yard/<int:enrolment_id>/<int:class_scenario_id>"
_PAPER = "/papers/<int:attempt_id>"
_RUN = "/marking-again/<int:run_id>"
ROUTES = (
    Route("/classes", "classes", views.classes, INSTRUCTOR, nav=_l("Classes")),
    Route("/classes/new", "new_class", views.new_class, INSTRUCTOR, FORM, keeps_typed=True),
    Route(_CLASS, "class_now", views.show_class, INSTRUCTOR),
    Route(f"{_CLASS}/live", "live", views.live, INSTRUCTOR),
    Route(f"{_CLASS}/scenarios", "choose", views.choose, INSTRUCTOR, POST, keeps_typed=True),
    Route(f"{_CLASS}/join", "join_screen", views.join_screen, INSTRUCTOR),
    Route(f"{_CLASS}/join.svg", "join_qr", views.join_qr, INSTRUCTOR),
    Route(f"{_CLASS}/figures", "figures", views.figures, INSTRUCTOR),
    Route(f"{_CLASS}/report", "report", report_views.report, INSTRUCTOR),
    Route(f"{_CLASS}/report.pdf", "report_pdf", report_views.report_pdf, INSTRUCTOR),
    Route(f"{_CLASS}/report.csv", "report_csv", report_views.report_csv, INSTRUCTOR),
    Route(f"{_CLASS}/report.xlsx", "report_xlsx", report_views.report_xlsx, INSTRUCTOR),
    Route(
        f"{_CLASS}/report/<int:number>.svg", "report_chart", report_views.report_chart, INSTRUCTOR
    ),
    Route(f"{_CLASS}/yard", "yard_list", yard_views.yard_list, INSTRUCTOR),
    Route(_YARD, "yard_sheet", yard_views.yard_sheet, INSTRUCTOR, FORM, keeps_typed=True),
    Route(f"{_YARD}/hand-in", "yard_hand_in", yard_views.yard_hand_in, INSTRUCTOR, POST),
    Route(
        f"{_YARD}/agree", "yard_agree", yard_views.yard_agree, INSTRUCTOR, POST, keeps_typed=True
    ),
    Route(f"{_CLASS}/close", "close", views.close, INSTRUCTOR, FORM, keeps_typed=True),
    Route(_PAPER, "paper", moderate_views.paper, INSTRUCTOR),
    Route(
        f"{_PAPER}/tasks/<task_id>/marks",
        "change_mark",
        moderate_views.change_mark,
        INSTRUCTOR,
        FORM,
        keeps_typed=True,
    ),
    Route(
        f"{_PAPER}/findings/<int:stop>/excuse",
        "excuse",
        moderate_views.excuse,
        INSTRUCTOR,
        FORM,
        keeps_typed=True,
    ),
    Route(
        f"{_CLASS}/mark-again",
        "again_class",
        again_views.again_class,
        INSTRUCTOR,
        FORM,
        keeps_typed=True,
    ),
    Route(
        "/scenarios/<int:version_id>/mark-again",
        "again_scenario",
        again_views.again_scenario,
        INSTRUCTOR,
        FORM,
        keeps_typed=True,
    ),
    Route(_RUN, "again_run", again_views.again_run, INSTRUCTOR),
    Route(f"{_RUN}/go-on", "again_go_on", again_views.again_go_on, INSTRUCTOR, POST),
    Route(
        f"{_RUN}/confirm",
        "again_confirm",
        again_views.again_confirm,
        INSTRUCTOR,
        FORM,
        keeps_typed=True,
    ),
    Route(f"{_CLASS}/second", "second_list", second_views.second_marking_of, INSTRUCTOR),
    Route(f"{_PAPER}/second", "second", second_views.second, INSTRUCTOR, FORM, keeps_typed=True),
    Route(f"{_PAPER}/compare", "compare", second_views.compare, INSTRUCTOR, FORM, keeps_typed=True),
    Route("/reviews", "reviews", moderate_views.reviews, INSTRUCTOR),
    Route(
        "/reviews/<int:request_id>",
        "answer_review",
        moderate_views.answer_review,
        INSTRUCTOR,
        FORM,
        keeps_typed=True,
    ),
    Route(f"{_PAPER}/force-time.svg", "force_time", views.force_time, INSTRUCTOR),
    Route(f"{_CLASS}/pulls/new", "choose_pull", pull_views.choose_pull, INSTRUCTOR),
    Route(
        f"{_CLASS}/pulls/hold-point",
        "hold_point",
        pull_views.hold_point,
        INSTRUCTOR,
        FORM,
        keeps_typed=True,
    ),
    Route(f"{_CLASS}/pulls/rig", "log_rig", pull_views.log_rig, INSTRUCTOR, FORM, keeps_typed=True),
    Route(
        f"{_CLASS}/pulls/measured",
        "log_measured",
        cell_views.log_measured,
        INSTRUCTOR,
        FORM,
        keeps_typed=True,
        largest=LARGEST_FORM,
    ),
    Route(
        f"{_CLASS}/pulls/item", "log_item", pull_views.log_item, INSTRUCTOR, FORM, keeps_typed=True
    ),
    Route(f"{_CLASS}/pulls/<int:pull_id>", "pull", pull_views.pull, INSTRUCTOR),
)


def blueprint() -> Blueprint:
    """Return the area."""
    return area("teach", ROUTES)
