"""What a student sees after handing in: outcome, marks with reasons, the rig with its loads."""

from __future__ import annotations

from dataclasses import dataclass, replace

from flask_babel import gettext as _

from coursekit.drawing.kinetic_chart import describe_snatch
from coursekit.drawing.site_plan import SitePlan
from coursekit.problems import Message
from coursekit.rigging.solver import Solution
from coursekit.rigging.working import ToldStep
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import OWN_RIG, AnyTask, QuantityTask
from coursekit.services.answering import ResultView, TaskResult
from coursekit.services.moderating import PaperHistory
from coursekit.web import words
from coursekit.web.answer_text import typed_text, understood_text
from coursekit.web.force_time import chart_words, snatch_of
from coursekit.web.load_lines import LoadLine, load_lines
from coursekit.web.mistakes import habit_texts
from coursekit.web.moderation_words import HistoryPart, history_part
from coursekit.web.own_rig import own_rig
from coursekit.web.plan import solved, solved_plan
from coursekit.web.questions import question
from coursekit.web.rig_text import rig_text
from coursekit.web.worded import worded
from coursekit.web.worked import worked_steps

CRITICAL = "critical"


@dataclass(frozen=True)
class TaskLine:
    """One task with its mark, what was answered and how it was read, and why.

    `working` leaves out the steps that stand under an earlier task already, `changes` tells
    how its marks came to be others than they were.
    """

    id: str
    changes: tuple[str, ...]
    question: str
    verdict: str
    marks: float
    out_of: float
    typed: str
    understood: str
    feedback: str
    working: tuple[ToldStep, ...]
    may_reply: bool = False
    replied: str = ""


@dataclass(frozen=True)
class FindingLine:
    """One finding about the rig that is not critical."""

    severity: str
    text: str


@dataclass(frozen=True)
class RigPart:
    """The rig drawn with its loads; `is_own` says whose it is."""

    is_own: bool
    plan: SitePlan
    text: tuple[str, ...]
    loads: tuple[LoadLine, ...]
    chart_alt: str


@dataclass(frozen=True)
class MarksPage:
    """The whole page of marks."""

    attempt_id: int
    title: str
    scenario: str
    outcome: str
    meaning: str
    short: tuple[str, ...]
    stops: tuple[str, ...]
    findings: tuple[FindingLine, ...]
    habits: tuple[str, ...]
    tasks: tuple[TaskLine, ...]
    rig: RigPart | None
    history: HistoryPart


def marks_page(result: ResultView, history: PaperHistory) -> MarksPage:
    """Return the page of a result, with what became of its marks."""
    told = history_part(result.scenario, history)
    own = own_solution(result)
    drawn = shown_solution(result)
    return MarksPage(
        result.attempt_id,
        _title(result, own),
        result.scenario.title,
        result.outcome,
        _meaning(result),
        _short(result),
        tuple(dict.fromkeys(worded(result.scenario, stop) for stop in result.stops)),
        _findings(result),
        tuple(habit_texts(result.scenario, result.tasks)),
        _task_lines(result, own, told),
        _rig_part(result.scenario, drawn, is_own=own is not None) if drawn else None,
        told,
    )


def own_solution(result: ResultView) -> Solution | None:
    """Return the student's own rig solved, None where there is none that can be."""
    return solved(result.scenario, own_rig(result.scenario, result.answers))


def shown_solution(result: ResultView) -> Solution | None:
    """Return the solution that the page draws: the own rig before the given one."""
    return own_solution(result) or solved(result.scenario, result.scenario.given_rig)


def _title(result: ResultView, own: Solution | None) -> str:
    scored = _("%(marks)s of %(out_of)s", marks=f"{result.marks:g}", out_of=f"{result.out_of:g}")
    if not result.safe:
        return _("%(scored)s, and it is unsafe", scored=scored)
    if own is not None:
        return _("%(scored)s, and the rig holds", scored=scored)
    return _("%(scored)s marks", scored=scored)


def _meaning(result: ResultView) -> str:
    needed = f"{result.decision.rule.pass_share * 100:.3g} %"
    if result.outcome == "unsafe":
        return _("Whatever the marks: what stands below would hurt somebody. Mend it first.")
    if result.outcome == "competent":
        return _(
            "At least %(needed)s of the marks, and nothing in your answers is unsafe.",
            needed=needed,
        )
    return _(
        "%(needed)s of the marks are needed. Nothing in your answers is unsafe.", needed=needed
    )


def _short(result: ResultView) -> tuple[str, ...]:
    """Return what is missed in a strand that has a minimum of its own."""
    return tuple(
        _(
            "%(strand)s: %(share)s of its marks; at least %(least)s are needed.",
            strand=words.STRANDS[one.strand],
            share=f"{one.share * 100:.3g} %",
            least=f"{(one.minimum or 0.0) * 100:.3g} %",
        )
        for one in result.decision.short_strands
    )


def _findings(result: ResultView) -> tuple[FindingLine, ...]:
    stops = {str(stop) for stop in result.stops}
    return tuple(
        FindingLine(found["severity"], worded(result.scenario, Message.of(found["said"])))
        for found in result.findings
        if found["severity"] != CRITICAL and found["message"] not in stops
    )


def _task_lines(
    result: ResultView, own: Solution | None, told: HistoryPart
) -> tuple[TaskLine, ...]:
    given = solved(result.scenario, result.scenario.given_rig)
    seen: set[tuple[bool, str]] = set()
    lines = []
    for mark in result.tasks:
        task = result.scenario.task(mark.task_id)
        is_own = own is not None and getattr(task, "rig", "") == OWN_RIG
        working = _working(result.scenario, task, own if is_own else given)
        fresh = tuple(step for step in working if (is_own, step.key) not in seen)
        seen |= {(is_own, step.key) for step in working}
        line = _task_line(result, task, mark, fresh)
        lines.append(replace(line, changes=told.tasks.get(task.id, ())))
    return tuple(lines)


def _task_line(
    result: ResultView, task: AnyTask, mark: TaskResult, working: tuple[ToldStep, ...]
) -> TaskLine:
    scenario = result.scenario
    typed = result.answers.get(task.id)
    return TaskLine(
        task.id,
        (),
        question(scenario, task),
        mark.verdict,
        mark.marks,
        mark.out_of,
        typed_text(scenario, task, typed),
        understood_text(scenario, task, typed),
        " ".join(worded(scenario, message) for message in mark.feedback),
        working,
        mark.verdict == "slip",
        worded(scenario, result.follow_ups[task.id].said) if task.id in result.follow_ups else "",
    )


def _working(scenario: Scenario, task: AnyTask, solution: Solution | None) -> tuple[ToldStep, ...]:
    if not isinstance(task, QuantityTask) or solution is None or task.of not in solution.chain:
        return ()
    return worked_steps(scenario, solution, task.of)


def _rig_part(scenario: Scenario, solution: Solution, *, is_own: bool) -> RigPart:
    snatch = snatch_of(scenario, solution)
    return RigPart(
        is_own,
        solved_plan(scenario, solution),
        rig_text(scenario, solution.rig),
        load_lines(scenario, solution),
        describe_snatch(snatch, chart_words()) if snatch else "",
    )
