"""View models of moderation: another mark, a finding to excuse, what waits for an answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.services.answering import ResultView
from coursekit.services.moderating import PaperHistory
from coursekit.services.reviewing import RequestRow, WaitingRow
from coursekit.web.marks_page import TaskLine, marks_page
from coursekit.web.moderation_words import RequestLine, request_line
from coursekit.web.worded import worded


@dataclass(frozen=True)
class ChangePage:
    """One task of a paper, to be given other marks."""

    attempt_id: int
    student: str
    number: int
    task: TaskLine


@dataclass(frozen=True)
class ExcusePage:
    """One critical finding that may be set aside."""

    attempt_id: int
    student: str
    number: int
    finding: str


@dataclass(frozen=True)
class WaitingLine:
    """One request that waits."""

    url: str
    text: str
    detail: str
    at: datetime


@dataclass(frozen=True)
class WaitingPage:
    """All requests that wait for an answer."""

    title: str
    lines: tuple[WaitingLine, ...]


@dataclass(frozen=True)
class AnswerPage:
    """A request with the paper that it is about."""

    attempt_id: int
    student: str
    number: int
    asked: RequestLine
    is_appeal: bool


def change_page(result: ResultView, history: PaperHistory, task_id: str) -> ChangePage | None:
    """Return the page of one task's marks, None where the paper has no such task."""
    tasks = {task.id: task for task in marks_page(result, history).tasks}
    if task_id not in tasks:
        return None
    return ChangePage(result.attempt_id, result.student, history.number, tasks[task_id])


def excusable(result: ResultView) -> tuple[tuple[int, str], ...]:
    """Return the critical findings of a paper by their places, each text once."""
    texts: dict[str, int] = {}
    for place, stop in enumerate(result.stops):
        texts.setdefault(worded(result.scenario, stop), place)
    return tuple((place, text) for text, place in texts.items())


def excuse_page(result: ResultView, history: PaperHistory, stop: int) -> ExcusePage | None:
    """Return the page of one critical finding, None where the paper has no such finding."""
    if not 0 <= stop < len(result.stops):
        return None
    finding = worded(result.scenario, result.stops[stop])
    return ExcusePage(result.attempt_id, result.student, history.number, finding)


def open_requests(history: PaperHistory) -> tuple[tuple[int, str], ...]:
    """Return what waits for an answer about a paper, each with what a link to it says."""
    return tuple(
        (
            asked.request_id,
            _("The student asks for another look: answer it")
            if asked.kind == "appeal"
            else _("A critical finding is to be excused: decide on it"),
        )
        for asked in history.requests
        if asked.is_open
    )


def waiting_page(rows: Sequence[WaitingRow]) -> WaitingPage:
    """Return the list of what waits for an answer."""
    title = (
        ngettext(
            "%(num)d question about marks waits for an answer",
            "%(num)d questions about marks wait for an answer",
            len(rows),
        )
        if rows
        else _("No question about marks waits for an answer")
    )
    return WaitingPage(title, tuple(_waiting(row) for row in rows))


def answer_page(result: ResultView, history: PaperHistory, asked: RequestRow) -> AnswerPage:
    """Return the page on which a request is answered."""
    return AnswerPage(
        result.attempt_id,
        result.student,
        history.number,
        request_line(result.scenario, asked),
        is_appeal=asked.kind == "appeal",
    )


def _waiting(row: WaitingRow) -> WaitingLine:
    text = (
        _("%(who)s asks for another look", who=row.asked_by)
        if row.kind == "appeal"
        else _("%(who)s asks to excuse a finding of %(name)s", who=row.asked_by, name=row.student)
    )
    url = url_for("teach.answer_review", request_id=row.request_id)
    return WaitingLine(url, text, f"{row.scenario} · {row.class_title}", row.asked_at)
