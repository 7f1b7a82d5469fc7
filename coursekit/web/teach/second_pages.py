"""View models of second marking: which papers, one of them blind, and two markings compared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.assessment.agreement import cohen_kappa
from coursekit.assessment.moderation import Held, PairsSeen, marks_table, outcome_table
from coursekit.drawing.site_plan import SitePlan
from coursekit.rigging.solver import Solution
from coursekit.rigging.working import ToldStep
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import AnyTask, ChoiceTask, ItemsTask, ItemTask, OrderTask, RigTask
from coursekit.services.second_marking import BlindPaper, Comparison, PaperTwice, SecondPage
from coursekit.web.answer_text import typed_text, understood_text
from coursekit.web.filters import marks, percent
from coursekit.web.own_rig import own_rig
from coursekit.web.plan import solved, solved_plan
from coursekit.web.questions import question
from coursekit.web.rig_text import rig_text
from coursekit.web.subjects import subject
from coursekit.web.worded import worded
from coursekit.web.worked import worked_steps


@dataclass(frozen=True)
class PaperLine:
    """One paper of the class, and what can be done with it."""

    url: str
    act: str
    student: str
    scenario: str
    first: str
    second: str
    note: str


@dataclass(frozen=True)
class SecondList:
    """The papers of a class for a second marker, with how far two markers agree."""

    class_id: int
    class_title: str
    title: str
    seen: PairsSeen
    same_share: str
    figures: tuple[str, ...]
    twice: tuple[PaperLine, ...]
    sample: tuple[PaperLine, ...]
    others: tuple[PaperLine, ...]


@dataclass(frozen=True)
class BlindTask:
    """A task to be marked blind: the question, what was answered, and the scheme."""

    id: str
    question: str
    typed: str
    understood: str
    out_of: float
    key: tuple[str, ...]
    working: tuple[ToldStep, ...]


@dataclass(frozen=True)
class BlindPage:
    """A paper without a name and without its marks."""

    attempt_id: int
    scenario: str
    brief: str
    tasks: tuple[BlindTask, ...]
    plan: SitePlan | None
    rig: tuple[str, ...]


@dataclass(frozen=True)
class ComparedTask:
    """A task as two people marked it."""

    id: str
    name: str
    typed: str
    first: str
    second: str
    out_of: float
    differs: bool


@dataclass(frozen=True)
class ComparePage:
    """Both markings of a paper side by side, and what is left to agree on."""

    attempt_id: int
    student: str
    title: str
    number: int
    first_outcome: str
    second_outcome: str
    second_by: str
    unsafe: tuple[str, ...]
    tasks: tuple[ComparedTask, ...]
    is_agreed: bool

    @property
    def differing(self) -> tuple[ComparedTask, ...]:
        """The tasks in which the two differ."""
        return tuple(task for task in self.tasks if task.differs)

    @property
    def is_open(self) -> bool:
        """Whether the two have something to agree on, and have not yet."""
        differ = bool(self.differing) or self.first_outcome != self.second_outcome
        return differ and not self.is_agreed


def second_list(page: SecondPage) -> SecondList:
    """Return the papers of a class for a second marker."""
    once = [paper for paper in page.papers if paper.pair is None]
    return SecondList(
        page.head.id,
        page.head.title,
        _list_title(page.seen),
        page.seen,
        percent(page.seen.outcome_share),
        tuple(_figures(page)) if page.pairs else (),
        tuple(_line(paper) for paper in page.papers if paper.pair is not None),
        tuple(_line(paper) for paper in once if paper.is_sampled),
        tuple(_line(paper) for paper in once if not paper.is_sampled),
    )


def _figures(page: SecondPage) -> Iterator[str]:
    """Yield measures of agreement beyond chance; with few papers they say little."""
    passed = cohen_kappa(outcome_table(page.pairs))
    if passed is None:
        yield _("Cohen's kappa of passed and failed is not defined: both gave one outcome to all")
    else:
        yield _(
            "Cohen's kappa of passed and failed: %(kappa)s (standard error %(error)s)",
            kappa=f"{passed.value:.2f}",
            error=f"{passed.error:.2f}",
        )
    given = cohen_kappa(marks_table(page.pairs), "linear") if page.seen.tasks else None
    if given is not None:
        yield _(
            "Kappa of none, part and all of a task's marks, each step alike: %(kappa)s",
            kappa=f"{given.value:.2f}",
        )


def blind_page(paper: BlindPaper) -> BlindPage:
    """Return a paper to be marked blind."""
    scenario = paper.scenario
    own = solved(scenario, own_rig(scenario, paper.answers))
    return BlindPage(
        paper.attempt_id,
        scenario.title,
        scenario.brief,
        tuple(_blind_task(scenario, task, paper.answers) for task in scenario.tasks),
        solved_plan(scenario, own) if own else None,
        rig_text(scenario, own.rig) if own else (),
    )


def compare_page(compared: Comparison) -> ComparePage:
    """Return two markings side by side."""
    both = (_compared(compared, first, second) for first, second in compared.tasks)
    tasks = tuple(sorted(both, key=lambda task: not task.differs))
    differ = sum(task.differs for task in tasks)
    title = (
        ngettext("They differ in %(num)d task", "They differ in %(num)d tasks", differ)
        if differ
        else _("Both gave the same marks")
    )
    new = [stop for stop in compared.second.stops if stop not in compared.first.stops]
    return ComparePage(
        compared.attempt_id,
        compared.student,
        title,
        compared.counts,
        compared.first.outcome,
        compared.second.outcome,
        compared.second.by,
        tuple(worded(compared.scenario, stop) for stop in new),
        tasks,
        compared.is_agreed,
    )


def _list_title(seen: PairsSeen) -> str:
    if not seen.papers:
        return _("No paper of this class is marked a second time yet")
    apart = seen.passed_then_failed + seen.failed_then_passed
    if not apart:
        return ngettext(
            "Two markers agree on who passed, in %(num)d paper",
            "Two markers agree on who passed, in %(num)d papers",
            seen.papers,
        )
    return ngettext(
        "%(num)d paper passed with one marker and failed with the other",
        "%(num)d papers passed with one marker and failed with the other",
        apart,
    )


def _line(paper: PaperTwice) -> PaperLine:
    if paper.pair is None and not paper.may_mark:
        waits = _("another instructor marks it")
        return PaperLine("", waits, paper.student, paper.scenario, "", "", "")
    if paper.pair is None:
        url = url_for("teach.second", attempt_id=paper.attempt_id)
        return PaperLine(url, _("Mark it blind"), paper.student, paper.scenario, "", "", "")
    url = url_for("teach.compare", attempt_id=paper.attempt_id)
    differ = sum(first.marks != second.marks for first, second in paper.pair.tasks)
    note = ngettext("%(num)d task differs", "%(num)d tasks differ", differ)
    if paper.is_agreed:
        note = _("agreed")
    return PaperLine(
        url,
        _("Compare"),
        paper.student,
        paper.scenario,
        paper.pair.first,
        paper.pair.second,
        note if differ or paper.is_agreed else _("the same marks"),
    )


def _blind_task(scenario: Scenario, task: AnyTask, answers: Mapping[str, Any]) -> BlindTask:
    typed = answers.get(task.id)
    given = solved(scenario, own_rig(scenario, answers)) or solved(scenario, scenario.given_rig)
    of = getattr(task, "of", "")
    in_chain = given is not None and of in given.chain
    return BlindTask(
        task.id,
        question(scenario, task),
        typed_text(scenario, task, typed),
        understood_text(scenario, task, typed),
        task.marks,
        tuple(_key(scenario, task, given)),
        worked_steps(scenario, given, of) if given is not None and in_chain else (),
    )


def _key(scenario: Scenario, task: AnyTask, given: Solution | None) -> Sequence[str]:
    """Return what the key says of a task that has no worked steps."""
    if isinstance(task, ItemTask) and given is not None and given.weakest is not None:
        return [typed_text(scenario, task, given.weakest.item)]
    if isinstance(task, ChoiceTask):
        return [typed_text(scenario, task, task.answer), task.because]
    if isinstance(task, OrderTask):
        return ["; ".join(task.items)]
    if isinstance(task, ItemsTask):
        gear = scenario.situation.gear
        return [typed_text(scenario, task, [name for name, one in gear.items() if one.condition])]
    if isinstance(task, RigTask):
        return [f"{_scheme(part)}: {marks(worth)}" for part, worth in task.scheme.items()]
    return []


def _scheme(part: str) -> str:
    words = {
        "safe": _("nothing critical"),
        "reaches": _("does the job"),
        "margin": _("with margin"),
        "economy": _("no piece too many"),
    }
    return words.get(part, part)


def _compared(compared: Comparison, first: Held, second: Held) -> ComparedTask:
    scenario = compared.scenario
    task = scenario.task(first.task)
    return ComparedTask(
        first.task,
        subject(scenario, task),
        typed_text(scenario, task, compared.answers.get(first.task)),
        marks(first.marks),
        marks(second.marks),
        first.out_of,
        first.marks != second.marks,
    )
