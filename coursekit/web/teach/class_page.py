"""Class now: who is in and how far, answers task by task, and the task before the class."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.services.class_now import AttemptNow, ClassNow, ScenarioNow, StudentNow, TaskNow
from coursekit.services.pulls import PullRow
from coursekit.wear.ledger import Ending
from coursekit.web.kit_words import ENDINGS
from coursekit.web.mistakes import solution_of
from coursekit.web.subjects import subject
from coursekit.web.teach.focus import (
    Focus,
    answer_title,
    focus_on,
    most_often,
    right_of,
)
from coursekit.web.words import RIG_METHODS

SUBMITTED = "submitted"
CODE_GROUP = 4
FULL_BAR = 100.0


@dataclass(frozen=True)
class TaskRow:
    """One task in the table of a scenario."""

    name: str
    url: str
    here: bool
    sent: int
    right: int
    marked: int
    sent_bar: float
    right_bar: float
    often: str


@dataclass(frozen=True)
class ScenarioRows:
    """One scenario of the class with its tasks."""

    title: str
    url: str
    tasks: tuple[TaskRow, ...]


@dataclass(frozen=True)
class Progress:
    """How far a student is with one scenario."""

    scenario: str
    text: str
    outcome: str
    url: str


@dataclass(frozen=True)
class StudentRow:
    """One student who is in."""

    name: str
    progress: tuple[Progress, ...]


@dataclass(frozen=True)
class PullLink:
    """A pull that was logged."""

    url: str
    at: datetime
    text: str


@dataclass(frozen=True)
class JoinPanel:
    """How students come in: the code in groups, the address, and its QR."""

    code: str
    spoken: str
    address: str
    qr: str
    is_local: bool


@dataclass(frozen=True)
class LivePart:
    """What changes while the class works."""

    title: str
    focus: Focus | None
    before: str
    after: str
    scenarios: tuple[ScenarioRows, ...]
    students: tuple[StudentRow, ...]
    pulls: tuple[PullLink, ...]


@dataclass(frozen=True)
class ClassPage:
    """The whole page of a class that is open or over."""

    id: int
    title: str
    course: str
    on: date
    status: str
    live_url: str
    live: LivePart
    join: JoinPanel | None


def class_page(now: ClassNow, wanted: str, join: JoinPanel | None) -> ClassPage:
    """Return the page of a class; `wanted` names the task that was chosen, if any."""
    head = now.head
    return ClassPage(
        id=head.id,
        title=head.title,
        course=head.course,
        on=head.on,
        status=head.status,
        live_url=url_for("teach.live", class_id=head.id, task=wanted or None),
        live=live_part(now, wanted),
        join=join,
    )


def live_part(now: ClassNow, wanted: str) -> LivePart:
    """Return what changes while the class works."""
    chosen = _chosen(now.scenarios, wanted)
    focus = focus_on(chosen[0].scenario, chosen[1]) if chosen else None
    before, after = _neighbours(now, chosen)
    return LivePart(
        title=_title(now, focus, chosen),
        focus=focus,
        before=before,
        after=after,
        scenarios=tuple(_scenario_rows(now, one, chosen) for one in now.scenarios),
        students=tuple(_student_row(now, student) for student in now.students),
        pulls=tuple(_pull_link(now, pull) for pull in now.pulls),
    )


def join_panel(code: str, address: str, class_id: int, *, is_local: bool) -> JoinPanel:
    """Return how students come in."""
    return JoinPanel(
        code=f"{code[:CODE_GROUP]} {code[CODE_GROUP:]}",
        spoken=" ".join(code),
        address=address,
        qr=url_for("teach.join_qr", class_id=class_id),
        is_local=is_local,
    )


Chosen = tuple[ScenarioNow, TaskNow]


def _chosen(scenarios: Sequence[ScenarioNow], wanted: str) -> Chosen | None:
    """Return the task that was asked for, else the one that most have wrong."""
    tasks = [(scenario, task) for scenario in scenarios for task in scenario.tasks]
    for scenario, task in tasks:
        if _task_key(scenario, task) == wanted:
            return scenario, task
    marked = [(scenario, task) for scenario, task in tasks if task.marks]
    return max(marked, key=lambda one: len(one[1].marks) - right_of(one[1]), default=None)


def _task_key(scenario: ScenarioNow, task: TaskNow) -> str:
    return f"{scenario.class_scenario_id}.{task.task.id}"


def _neighbours(now: ClassNow, chosen: Chosen | None) -> tuple[str, str]:
    """Return the addresses of the task before and the task after, nothing at either end."""
    if chosen is None:
        return "", ""
    keys = [_task_key(scenario, task) for scenario in now.scenarios for task in scenario.tasks]
    here = keys.index(_task_key(*chosen))
    before = keys[here - 1] if here else ""
    after = keys[here + 1] if here + 1 < len(keys) else ""
    return _task_url(now, before), _task_url(now, after)


def _task_url(now: ClassNow, key: str) -> str:
    return url_for("teach.class_now", class_id=now.head.id, task=key) if key else ""


def _title(now: ClassNow, focus: Focus | None, chosen: Chosen | None) -> str:
    if focus is not None and chosen is not None and chosen[1].marks:
        return answer_title(focus, chosen[1])
    if not now.students and now.head.join_code:
        return _("Nobody is in yet: show the code")
    if not now.students:
        return ngettext(
            "No students; %(num)d pull was logged",
            "No students; %(num)d pulls were logged",
            len(now.pulls),
        )
    return ngettext(
        "%(num)d is in; nothing is handed in yet",
        "%(num)d are in; nothing is handed in yet",
        len(now.students),
    )


def _scenario_rows(now: ClassNow, one: ScenarioNow, chosen: Chosen | None) -> ScenarioRows:
    return ScenarioRows(
        title=one.scenario.title,
        url=url_for("prepare.scenario", version_id=one.version_id),
        tasks=tuple(_task_row(now, one, task, chosen) for task in one.tasks),
    )


def _task_row(now: ClassNow, one: ScenarioNow, task: TaskNow, chosen: Chosen | None) -> TaskRow:
    name, right, all_in = subject(one.scenario, task.task), right_of(task), len(now.students) or 1
    return TaskRow(
        name=name[:1].upper() + name[1:],
        url=_task_url(now, _task_key(one, task)),
        here=chosen is not None and task is chosen[1],
        sent=task.sent,
        right=right,
        marked=len(task.marks),
        sent_bar=round(FULL_BAR * task.sent / all_in, 1),
        right_bar=round(FULL_BAR * right / all_in, 1),
        often=_often(one, task),
    )


def _often(one: ScenarioNow, task: TaskNow) -> str:
    mistake = most_often(one.scenario, task, solution_of(one.scenario, task.task))
    return f"{mistake.name}, {mistake.count}" if mistake else ""


def _student_row(now: ClassNow, student: StudentNow) -> StudentRow:
    titles = {one.class_scenario_id: one.scenario.title for one in now.scenarios}
    return StudentRow(student.name, tuple(_progress(titles, a) for a in student.attempts))


def _progress(titles: dict[int, str], attempt: AttemptNow) -> Progress:
    scenario = titles[attempt.class_scenario_id]
    if attempt.status != SUBMITTED or attempt.marks is None or attempt.out_of is None:
        text = _("%(n)d of %(all)d answered", n=attempt.answered, all=attempt.tasks)
        return Progress(scenario, text, "", "")
    text = _("%(marks)s of %(out_of)s", marks=f"{attempt.marks:g}", out_of=f"{attempt.out_of:g}")
    url = url_for("teach.paper", attempt_id=attempt.attempt_id)
    return Progress(scenario, text, attempt.outcome or "", url)


def _pull_link(now: ClassNow, pull: PullRow) -> PullLink:
    url = url_for("teach.pull", class_id=now.head.id, pull_id=pull.pull_id)
    return PullLink(url, pull.at, " · ".join(_pull_texts(pull)))


def _pull_texts(pull: PullRow) -> Iterator[str]:
    yield str(RIG_METHODS[pull.method])
    if pull.scenario:
        yield pull.scenario
    yield str(ENDINGS[Ending(pull.ended)])
    yield ngettext("%(num)d item", "%(num)d items", pull.items)
    if pull.is_late:
        yield _("entered late")
