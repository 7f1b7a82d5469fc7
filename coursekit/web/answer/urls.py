"""The pages of the answer area and who may open them."""

from __future__ import annotations

from flask import Blueprint
from flask_babel import lazy_gettext as _l

from coursekit.web.answer import follow_up_views, practice_views, views
from coursekit.web.routes import FORM, POST, STUDENT, Route, area

ROUTES = (
    Route("/my-class", "my_class", views.my_class, STUDENT, nav=_l("My class")),
    Route("/my-class/card", "card", views.card, STUDENT),
    Route("/my-class/<int:class_scenario_id>/start", "start", views.start, STUDENT, POST),
    Route("/my-class/<int:class_scenario_id>/again", "again", views.again, STUDENT, POST),
    Route("/attempts/<int:attempt_id>", "attempt", views.attempt, STUDENT),
    Route(
        "/attempts/<int:attempt_id>/tasks/<task_id>",
        "task",
        views.task,
        STUDENT,
        FORM,
        keeps_typed=True,
    ),
    Route(
        "/attempts/<int:attempt_id>/hand-in",
        "hand_in",
        views.hand_in,
        STUDENT,
        FORM,
        keeps_typed=True,
    ),
    Route("/attempts/<int:attempt_id>/marks", "marks", views.marks, STUDENT),
    Route(
        "/attempts/<int:attempt_id>/appeal",
        "appeal",
        views.appeal,
        STUDENT,
        FORM,
        keeps_typed=True,
    ),
    Route("/attempts/<int:attempt_id>/force-time.svg", "force_time", views.force_time, STUDENT),
    Route(
        "/attempts/<int:attempt_id>/tasks/<task_id>/follow-up",
        "follow_up",
        follow_up_views.follow_up,
        STUDENT,
        FORM,
        keeps_typed=True,
    ),
    Route("/practice", "practice", practice_views.practice, STUDENT, nav=_l("My practice")),
    Route("/practice/next", "practise", practice_views.practise, STUDENT, POST),
    Route(
        "/practice/<int:question_id>",
        "practice_question",
        practice_views.question,
        STUDENT,
        FORM,
        keeps_typed=True,
    ),
)


def blueprint() -> Blueprint:
    """Return the area."""
    return area("answer", ROUTES)
