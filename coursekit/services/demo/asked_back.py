"""What invented students reply when they are asked back after a usual mistake."""

from __future__ import annotations

from datetime import datetime

from coursekit.assessment.follow_up import RIGHT_WAY, Choice, Way
from coursekit.files.replies import kind_of_task
from coursekit.quantities.display import show
from coursekit.quantities.voice import units_of
from coursekit.services import answering
from coursekit.services.actor import Actor
from coursekit.services.following_up import SLIP, FollowUpView, Reply, follow_up_view
from coursekit.services.following_up import reply_to_follow_up as send
from coursekit.store.unit import Unit


def reply_to_all(unit: Unit, student: Actor, attempt_id: int, at: datetime, *, again: bool) -> None:
    """Reply to every question of a paper: make the mistake `again`, or get it right."""
    for mark in answering.result_view(unit, student, attempt_id).tasks:
        if mark.verdict == SLIP:
            view = follow_up_view(unit, student, attempt_id, mark.task_id)
            send(unit, student, Reply(attempt_id, mark.task_id, _typed(view, again=again)), at)


def _typed(view: FollowUpView, *, again: bool) -> str:
    way = next(way for way in view.asked.ways if (way.key != RIGHT_WAY) is again)
    if isinstance(view.asked, Choice):
        return way.key
    return _number(view, way)


def _number(view: FollowUpView, way: Way) -> str:
    scenario = view.asked.scenario
    kind = kind_of_task(scenario, view.asked.task)
    return show(way.value, kind, units_of(scenario)[kind])
