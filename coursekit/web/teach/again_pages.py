"""View models of marking again: what can be marked again, and what a run would do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.scenario.model import Scenario
from coursekit.services.marking_again import ClassTouched, RunPaper, RunRow, RunView, Touched
from coursekit.web.filters import marks, moment
from coursekit.web.subjects import subject
from coursekit.web.verdicts import OUTCOMES

FULL_BAR = 100.0
REFUSED = "refused"


@dataclass(frozen=True)
class RunLink:
    """A run over the papers of a class."""

    url: str
    text: str


@dataclass(frozen=True)
class AgainPage:
    """What of a class, or of a scenario, can be marked again."""

    title: str
    back: str
    back_name: str
    intro: str
    is_possible: bool
    runs: tuple[RunLink, ...]


@dataclass(frozen=True)
class MovedLine:
    """One paper that a run moves."""

    url: str
    student: str
    marks: str
    before: str
    after: str
    tasks: str


@dataclass(frozen=True)
class RefusedLine:
    """One paper that can't be marked again."""

    url: str
    student: str
    why: str


@dataclass(frozen=True)
class RunPage:
    """A run: how far it is, and what it would do."""

    run_id: int
    title: str
    scenario: str
    back: str
    is_marked: bool
    confirmed: str
    done: int
    papers: int
    bar: float
    rule: str
    outcomes: tuple[tuple[str, str, int], ...]
    moved: tuple[MovedLine, ...]
    refused: tuple[RefusedLine, ...]
    more: int


def slug_choices(scenarios: Iterable[Touched]) -> list[tuple[str, str]]:
    """Return the scenarios of a class that have papers, each with its versions."""
    return [(one.slug, _choice(one)) for one in scenarios if one.papers]


def class_again_page(touched: ClassTouched) -> AgainPage:
    """Return the page on which the papers of a class are marked again."""
    head = touched.head
    papers = sum(one.papers for one in touched.scenarios)
    return AgainPage(
        title=_("Which papers of %(title)s should be marked again?", title=head.title),
        back=url_for("teach.class_now", class_id=head.id),
        back_name=head.title,
        intro=_open_words([head.title]) if head.status == "open" else "",
        is_possible=head.status == "closed" and papers > 0,
        runs=tuple(_run_link(run) for run in touched.runs),
    )


def scenario_again_page(
    version_id: int, title: str, papers: int, open_classes: tuple[str, ...]
) -> AgainPage:
    """Return the page on which all papers of a scenario are marked again."""
    return AgainPage(
        title=ngettext(
            "Should %(num)d paper of %(title)s be marked again?",
            "Should %(num)d papers of %(title)s be marked again?",
            papers,
            title=title,
        ),
        back=url_for("prepare.scenario", version_id=version_id),
        back_name=title,
        intro=_open_words(open_classes) if open_classes else "",
        is_possible=papers > 0 and not open_classes,
        runs=(),
    )


def run_page(view: RunView) -> RunPage:
    """Return the page of a run."""
    run = view.run
    moved = [paper for paper in view.papers if paper.refusal is None]
    refused = [paper for paper in view.papers if paper.refusal is not None]
    listed = len(view.papers)
    return RunPage(
        run_id=run.run_id,
        title=_title(view),
        scenario=_("%(title)s, version %(number)d", title=run.title, number=run.number),
        back=_back(run),
        is_marked=run.is_marked,
        confirmed=_confirmed(run),
        done=run.done,
        papers=run.papers,
        bar=round(FULL_BAR * run.done / max(1, run.papers), 1),
        rule=_("Marks may fall.") if run.may_fall else _("No task loses marks, save for danger."),
        outcomes=tuple(
            (str(OUTCOMES[before].word), str(OUTCOMES[after].word), n)
            for before, after, _moved, n in view.counts
            if before != after
        ),
        moved=tuple(_moved(view.scenario, paper) for paper in moved),
        refused=tuple(_refused(paper) for paper in refused),
        more=_all_moved(view) - listed,
    )


def _all_moved(view: RunView) -> int:
    return sum(n for _before, _after, moved, n in view.counts if moved)


def _title(view: RunView) -> str:
    run = view.run
    if not run.is_marked:
        return _("%(done)d of %(all)d papers are looked at", done=run.done, all=run.papers)
    moved = _all_moved(view) - sum(paper.refusal is not None for paper in view.papers)
    if run.confirmed_at is not None:
        return ngettext(
            "Marked again: %(num)d paper moved", "Marked again: %(num)d papers moved", moved
        )
    if not moved:
        return _("Nobody's marks would move")
    return ngettext(
        "The marks of %(num)d paper would move", "The marks of %(num)d papers would move", moved
    )


def _back(run: RunRow) -> str:
    if run.class_id is not None:
        return url_for("teach.again_class", class_id=run.class_id)
    return url_for("teach.again_scenario", version_id=run.version_id)


def _confirmed(run: RunRow) -> str:
    if run.confirmed_at is None:
        return ""
    when = moment(run.confirmed_at)
    return _("Confirmed by %(who)s, %(when)s", who=run.confirmed_by, when=when)


def _choice(one: Touched) -> str:
    papers = ngettext("%(num)d paper", "%(num)d papers", one.papers)
    if one.number == one.newest_number:
        return _("%(title)s: %(papers)s, no newer version", title=one.title, papers=papers)
    return _(
        "%(title)s: %(papers)s by version %(old)d, newest is version %(new)d",
        title=one.title,
        papers=papers,
        old=one.number,
        new=one.newest_number,
    )


def _open_words(titles: Iterable[str]) -> str:
    return _(
        "Still open: %(titles)s. Its students answer by the old version, and some marks would "
        "change while others are still being earned. Close the class first, then come back.",
        titles=", ".join(titles),
    )


def _run_link(run: RunRow) -> RunLink:
    when = moment(run.started_at)
    if run.confirmed_at is not None:
        text = _("%(title)s, %(when)s: confirmed", title=run.title, when=when)
    elif run.is_marked:
        text = _("%(title)s, %(when)s: waits to be confirmed", title=run.title, when=when)
    else:
        text = _(
            "%(title)s, %(when)s: %(done)d of %(all)d looked at, go on",
            title=run.title,
            when=when,
            done=run.done,
            all=run.papers,
        )
    return RunLink(url_for("teach.again_run", run_id=run.run_id), text)


def _moved(scenario: Scenario, paper: RunPaper) -> MovedLine:
    names = {task.id: subject(scenario, task) for task in scenario.tasks}
    return MovedLine(
        url=url_for("teach.paper", attempt_id=paper.attempt_id),
        student=f"{paper.student} ({paper.class_title})",
        marks=f"{marks(paper.marks_before)} → {marks(paper.marks_after)}",
        before=paper.outcome_before,
        after=paper.outcome_after,
        tasks="; ".join(
            f"{names.get(task, task)}: {_given(before)} → {_given(after)}"
            for task, before, after, _out_of in paper.moves
        ),
    )


def _given(value: float | None) -> str:
    return _("not asked") if value is None else marks(value)


def _refused(paper: RunPaper) -> RefusedLine:
    return RefusedLine(
        url_for("teach.paper", attempt_id=paper.attempt_id),
        f"{paper.student} ({paper.class_title})",
        paper.refusal.text(_) if paper.refusal else "",
    )
