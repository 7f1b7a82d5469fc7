"""What the page shows that asks back after a diagnosis."""

from __future__ import annotations

from dataclasses import dataclass

from flask_babel import gettext as _

from coursekit.assessment.follow_up import NO_WAY, Choice, Fresh, worded_way
from coursekit.quantities.voice import shower, units_of
from coursekit.services.following_up import FollowUpView
from coursekit.web.answer.forms import AnswerForm, OneAnswer, task_form
from coursekit.web.answer.pages import Ground, ground_of
from coursekit.web.questions import about, question
from coursekit.web.worded import worded


@dataclass(frozen=True)
class FollowUpPage:
    """The question, with the ground that it is asked of; `told` once there is a reply."""

    attempt_id: int
    title: str
    question: str
    about: str
    scenario: str
    brief: str
    is_fresh: bool
    ground: Ground
    told: str


def follow_up_page(view: FollowUpView) -> FollowUpPage:
    """Return the page of a question that follows a diagnosis."""
    asked = view.asked
    scenario, task = asked.scenario, asked.task
    is_fresh = isinstance(asked, Fresh)
    told = worded(view.scenario, view.reply.said) if view.reply else ""
    return FollowUpPage(
        attempt_id=view.attempt_id,
        title=told
        or (_("Work it once more, with other numbers") if is_fresh else _("Which did you do?")),
        question=question(scenario, task),
        about=about(scenario, task),
        scenario=scenario.title,
        brief=scenario.brief,
        is_fresh=is_fresh,
        ground=ground_of(scenario, scenario.rigs.get(task.rig), task),
        told=told,
    )


def follow_up_form(view: FollowUpView) -> AnswerForm:
    """Return the form that takes the reply: a number, or one of the ways."""
    asked = view.asked
    if isinstance(asked, Choice):
        return OneAnswer(_ways(view, asked), _("Which did you do?"), data={"answer": None})
    return task_form(asked.scenario, asked.task, view.attempt_id, None)


def _ways(view: FollowUpView, asked: Choice) -> list[tuple[str, str]]:
    show = shower(units_of(view.scenario))
    told = [(way.key, worded(view.scenario, worded_way(asked, way, show))) for way in asked.ways]
    return [*told, (NO_WAY, _("None of these"))]
