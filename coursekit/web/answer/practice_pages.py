"""What the pages of practice show: the next skill and why, a question, its mark."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from zoneinfo import ZoneInfo

from flask_babel import format_date, ngettext
from flask_babel import gettext as _

from coursekit.rigging.working import ToldStep
from coursekit.scenario.tasks import QuantityTask
from coursekit.services.practising import (
    QUESTIONS_OF_A_SITTING,
    Practice,
    PracticeView,
    Skill,
)
from coursekit.web.answer.pages import Ground, ground_of
from coursekit.web.own_rig import own_rig
from coursekit.web.plan import solved, solved_plan
from coursekit.web.questions import about, question, question_of_skill
from coursekit.web.worded import worded
from coursekit.web.worked import worked_steps


@dataclass(frozen=True)
class SkillLine:
    """One skill: the question it answers, how it stands, and when it comes again."""

    key: str
    question: str
    standing: str
    when: str
    is_due: bool


@dataclass(frozen=True)
class PracticePage:
    """What to do next and why, and every skill."""

    title: str
    first: SkillLine | None
    why: str
    skills: tuple[SkillLine, ...]
    sitting: str
    sitting_bar: float


@dataclass(frozen=True)
class PracticeQuestionPage:
    """One question by itself; what follows an answer is empty until there is one."""

    title: str
    question: str
    about: str
    scenario: str
    brief: str
    ground: Ground
    verdict: str | None
    feedback: str
    working: tuple[ToldStep, ...]
    again: str
    sitting: str


def practice_page(found: Practice, timezone: ZoneInfo) -> PracticePage:
    """Return the page of all skills."""
    lines = tuple(_line(skill, found.now, timezone) for skill in found.skills)
    due = sum(line.is_due for line in lines)
    return PracticePage(
        title=_title(lines, due, QUESTIONS_OF_A_SITTING - found.answered),
        first=lines[0] if lines else None,
        why=_why(found.skills[0], found.now) if found.skills else "",
        skills=lines,
        sitting=_sitting(found.answered),
        sitting_bar=min(100.0, 100.0 * found.answered / QUESTIONS_OF_A_SITTING),
    )


def question_page(view: PracticeView, timezone: ZoneInfo) -> PracticeQuestionPage:
    """Return the page of one question."""
    asked = question(view.scenario, view.task)
    is_marked = view.verdict is not None
    return PracticeQuestionPage(
        title=_marked_title(view.verdict) if view.verdict else asked,
        question=asked,
        about=about(view.scenario, view.task),
        scenario=view.scenario.title,
        brief=view.scenario.brief,
        ground=_ground(view),
        verdict=view.verdict,
        feedback=" ".join(worded(view.scenario, said) for said in view.feedback),
        working=_working(view) if is_marked else (),
        again=_again(view.due, timezone) if is_marked else "",
        sitting=_sitting(view.answered),
    )


def _ground(view: PracticeView) -> Ground:
    """Return what stands on the ground; a rig that was built and marked is drawn with its loads."""
    built = own_rig(view.scenario, {view.task.id: view.typed})
    ground = ground_of(view.scenario, built or view.rig, view.task)
    solution = solved(view.scenario, built)
    if solution is None:
        return ground
    return replace(ground, plan=solved_plan(view.scenario, solution))


def _title(lines: tuple[SkillLine, ...], due: int, left: int) -> str:
    if not lines:
        return _("There is nothing to practise yet")
    if not due:
        return _("Nothing is due: %(when)s", when=lines[0].when)
    # Whoever begins has never tried any: a sitting's worth daunts nobody.
    if 0 < left < due:
        return ngettext(
            "%(num)d question to practise now", "%(num)d questions to practise now", left
        )
    return ngettext("%(num)d skill wants practice now", "%(num)d skills want practice now", due)


def _why(skill: Skill, now: datetime) -> str:
    if skill.state is None and skill.was_weak_in_class:
        return _("It went wrong in class, and you have not tried it since.")
    if skill.state is None:
        return _("You have not tried it yet.")
    chance = skill.retention(now) or 0.0
    if skill.is_due(now):
        return _(
            "You tried it before; by now it would go right about %(n)s times in 100.",
            n=f"{100 * chance:.0f}",
        )
    return _("It is not due yet; trying it early does no harm.")


def _line(skill: Skill, now: datetime, timezone: ZoneInfo) -> SkillLine:
    return SkillLine(
        key=skill.key,
        question=question_of_skill(skill.key),
        standing=_standing(skill),
        when=_when(skill, now, timezone),
        is_due=skill.is_due(now),
    )


def _standing(skill: Skill) -> str:
    if skill.tries:
        return _("%(right)s of %(tries)s right", right=skill.right, tries=skill.tries)
    if skill.was_weak_in_class:
        return _("went wrong in class")
    return _("right in class") if skill.in_class else _("not tried yet")


def _when(skill: Skill, now: datetime, timezone: ZoneInfo) -> str:
    if skill.due is None or skill.due <= now:
        return _("now")
    return _("again on %(day)s", day=_day(skill.due, timezone))


def _again(due: datetime | None, timezone: ZoneInfo) -> str:
    if due is None:
        return ""
    return _("This skill comes up again on %(day)s.", day=_day(due, timezone))


def _day(at: datetime, timezone: ZoneInfo) -> str:
    return str(format_date(at.astimezone(timezone).date(), "d MMM"))


def _marked_title(verdict: str) -> str:
    return {
        "right": _("Right"),
        "unit": _("The right number in another unit"),
        "slip": _("A usual mistake: see which"),
        "part": _("Partly right"),
        "missing": _("Nothing was answered"),
    }.get(verdict, _("Not right: see why"))


def _sitting(answered: int) -> str:
    if answered >= QUESTIONS_OF_A_SITTING:
        return _("Ten minutes are done: %(n)s questions. Enough for today.", n=answered)
    return _(
        "%(n)s of %(all)s questions: about ten minutes in all",
        n=answered,
        all=QUESTIONS_OF_A_SITTING,
    )


def _working(view: PracticeView) -> tuple[ToldStep, ...]:
    task = view.task
    if not isinstance(task, QuantityTask):
        return ()
    solution = solved(view.scenario, view.scenario.rigs.get(task.rig))
    if solution is None or task.of not in solution.chain:
        return ()
    return worked_steps(view.scenario, solution, task.of)
