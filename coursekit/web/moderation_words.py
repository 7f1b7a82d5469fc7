"""Moderation in the school's words: why marks change, and what became of a paper's marks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l

from coursekit.assessment.moderation import Move
from coursekit.scenario.model import Scenario
from coursekit.services.moderating import Change, MarkingRow, PaperHistory
from coursekit.services.reviewing import RequestRow
from coursekit.web.filters import marks, moment
from coursekit.web.verdicts import OUTCOMES
from coursekit.web.worded import worded

CODES = {
    "adding-up": _l("Marks added up wrongly"),
    "carried-over": _l("Marks carried over wrongly"),
    "not-seen": _l("Work that was not seen or not marked"),
    "scheme-misapplied": _l("The scheme was not followed"),
    "unusual-answer": _l("An unusual answer that the scheme does not cover"),
    "unreadable": _l("An answer that could not be read"),
    "wrong-place": _l("A right answer in the wrong place"),
    "wrong-key": _l("The key, a tolerance or the scenario was wrong"),
    "handling": _l("The paper was handled wrongly"),
    "circumstances": _l("Circumstances of the student"),
    "rules-broken": _l("The rules of the assessment were broken"),
    "other": _l("Another reason"),
}
_BY = {
    "changed": _l("changed by %(who)s, %(when)s"),
    "agreed": _l("agreed after a second marking, kept by %(who)s, %(when)s"),
    "excused": _l("decided by %(who)s, %(when)s"),
    "again": _l("marked again by version %(version)s of the scenario, by %(who)s, %(when)s"),
}


@dataclass(frozen=True)
class RequestLine:
    """What was asked about a paper: by whom, about what, and the answer."""

    heading: str
    reason: str
    is_open: bool
    answer: str
    answer_by: str
    url: str = ""


@dataclass(frozen=True)
class HistoryPart:
    """What became of a paper's marks; `tasks` holds the lines of each task that was changed."""

    tasks: dict[str, tuple[str, ...]]
    whole: tuple[str, ...]
    requests: tuple[RequestLine, ...]

    @property
    def is_changed(self) -> bool:
        """Whether anything is other than it was first marked."""
        return bool(self.tasks or self.whole)


def history_part(scenario: Scenario, history: PaperHistory) -> HistoryPart:
    """Return what a page of marks tells of its changes, the first first."""
    tasks: dict[str, tuple[str, ...]] = {}
    for change in history.changes:
        for move in change.moves:
            tasks[move.task] = (*tasks.get(move.task, ()), _task_line(change.marking, move))
    whole = tuple(line for change in history.changes for line in _whole(scenario, change))
    requests = tuple(request_line(scenario, request) for request in history.requests)
    return HistoryPart(tasks, whole, requests)


def request_line(scenario: Scenario, request: RequestRow) -> RequestLine:
    """Return what was asked, and the answer once there is one."""
    when, who = moment(request.asked_at), request.asked_by
    if request.stop is None:
        heading = _("%(who)s asks for another look, %(when)s", who=who, when=when)
    else:
        finding = worded(scenario, request.stop)
        heading = _(
            "%(who)s asks to excuse a critical finding, %(when)s: %(finding)s",
            who=who,
            when=when,
            finding=finding,
        )
    answered = request.answered_at is not None
    return RequestLine(
        heading,
        request.reason,
        request.is_open,
        request.answer or "",
        _answered(request) if answered else "",
    )


def because(marking: MarkingRow) -> str:
    """Return why a marking was made, the reason of the list before the words."""
    if not marking.reason:
        return ""
    code = CODES.get(marking.code or "other", CODES["other"])
    return _("%(code)s: %(reason)s", code=code, reason=marking.reason)


def made_by(marking: MarkingRow) -> str:
    """Return who made a marking, when, and by which version."""
    return str(_BY[marking.kind]) % {
        "who": marking.by or _("the solver"),
        "when": moment(marking.marked_at),
        "version": marking.version or 1,
    }


def _task_line(marking: MarkingRow, move: Move) -> str:
    return _(
        "%(before)s → %(after)s, %(by)s, because: %(why)s",
        before=_given(move.before),
        after=_given(move.after),
        by=made_by(marking),
        why=because(marking),
    )


def _given(value: float | None) -> str:
    return _("not asked") if value is None else marks(value)


def _whole(scenario: Scenario, change: Change) -> Iterator[str]:
    by, why = made_by(change.marking), because(change.marking)
    for stop in change.excused:
        yield _(
            "No longer held against it: %(finding)s (%(by)s, because: %(why)s)",
            finding=worded(scenario, stop),
            by=by,
            why=why,
        )
    if change.outcome_before != change.marking.outcome:
        yield _(
            "Outcome: %(before)s → %(after)s, %(by)s, because: %(why)s",
            before=OUTCOMES[change.outcome_before].word,
            after=OUTCOMES[change.marking.outcome].word,
            by=by,
            why=why,
        )


def _answered(request: RequestRow) -> str:
    when = moment(request.answered_at) if request.answered_at else ""
    if request.kind == "appeal":
        said = _("The marks were changed") if request.granted else _("The marks stand")
    else:
        said = _("The finding is excused") if request.granted else _("The finding stands")
    return _("%(said)s: %(who)s, %(when)s", said=said, who=request.answered_by, when=when)
