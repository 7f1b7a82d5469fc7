"""How the tasks of a class worked: shares, usual mistakes, and what a large group shows."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.assessment.figures import FEWEST_TO_SHARE, PaperFigures, TaskFigures
from coursekit.assessment.statistics import FEWEST_PAPERS
from coursekit.services.figures import MOST_PAPERS, ClassFigures, ScenarioFigures
from coursekit.web.mistakes import mistake_name, solution_of
from coursekit.web.subjects import subject
from coursekit.web.teach.scatter import Dot, Scatter, place
from coursekit.web.verdicts import OUTCOMES

MOST_NAMED = 3
# A task that so few or so many have, or that the better papers miss, is worth a look.
HARD, EASY, WEAK = 0.20, 0.95, 0.20


@dataclass(frozen=True)
class TaskLine:
    """One task: the share of its marks here and ever, and what stood in the way."""

    number: int
    name: str
    here: str
    full: str
    ever: str
    bar: float
    mistakes: tuple[str, ...]
    compared: str
    remark: str


@dataclass(frozen=True)
class PaperLine:
    """A paper as a whole: its label, its mean, outcomes, and how sure its totals are."""

    label: str
    papers: int
    mean: str
    outcomes: tuple[tuple[str, int], ...]
    alpha: str
    error: str


@dataclass(frozen=True)
class ScenarioSection:
    """One scenario of the class."""

    title: str
    url: str
    papers: tuple[PaperLine, ...]
    tasks: tuple[TaskLine, ...]
    scatter: Scatter | None
    held_back: str
    is_pooled: bool
    is_capped: bool


@dataclass(frozen=True)
class FiguresPage:
    """The page; its title says what most of the class did not have."""

    title: str
    class_id: int
    class_title: str
    on: date
    sections: tuple[ScenarioSection, ...]
    few: str


def figures_page(figures: ClassFigures) -> FiguresPage:
    """Return the page of a class's figures."""
    return FiguresPage(
        title=_title(figures.scenarios),
        class_id=figures.head.id,
        class_title=figures.head.title,
        on=figures.head.on,
        sections=tuple(_section(one) for one in figures.scenarios if one.here.papers),
        few=_few(figures.scenarios),
    )


def _title(scenarios: Sequence[ScenarioFigures]) -> str:
    hardest = min(
        ((task.facility, one, task) for one in scenarios for task in one.here.tasks),
        key=lambda found: found[0],
        default=None,
    )
    if hardest is None:
        return _("Nothing is handed in yet: there are no figures")
    share, one, task = hardest
    what = subject(one.scenario, one.scenario.task(task.task))
    return _("Hardest was %(what)s: %(share)s of the marks", what=what, share=_percent(share))


def _few(scenarios: Sequence[ScenarioFigures]) -> str:
    papers = max((one.here.papers for one in scenarios), default=0)
    if not 0 < papers < FEWEST_TO_SHARE:
        return ""
    return _("So few papers can be told apart one by one: don't pass these figures on.")


def _section(one: ScenarioFigures) -> ScenarioSection:
    ever = {task.task: task for task in one.ever.tasks}
    tasks = tuple(
        _task_line(number, one, task, ever[task.task])
        for number, task in enumerate(one.here.tasks, start=1)
    )
    return ScenarioSection(
        title=one.scenario.title,
        url=url_for("prepare.scenario", version_id=one.version_id),
        papers=tuple(_paper_lines(one)),
        tasks=tasks,
        scatter=_scatter(one.ever, tasks),
        held_back=_held_back(one.ever),
        is_pooled=_is_pooled(one),
        is_capped=one.ever.papers >= MOST_PAPERS,
    )


def _is_pooled(one: ScenarioFigures) -> bool:
    return one.ever.papers > one.here.papers


def _paper_lines(one: ScenarioFigures) -> Iterator[PaperLine]:
    yield _paper_line(_("this class"), one.here)
    if _is_pooled(one):
        yield _paper_line(_("all classes so far"), one.ever)


def _paper_line(label: str, paper: PaperFigures) -> PaperLine:
    error = paper.standard_error
    return PaperLine(
        label=label,
        papers=paper.papers,
        mean=_percent(paper.mean_share),
        outcomes=tuple(
            (key, count) for key in OUTCOMES for name, count in paper.outcomes if name == key
        ),
        alpha="" if paper.is_small else _signed(paper.alpha),
        error="" if error is None else _("%(marks)s marks", marks=f"{error:.1f}"),
    )


def _task_line(number: int, one: ScenarioFigures, here: TaskFigures, ever: TaskFigures) -> TaskLine:
    scenario, task = one.scenario, one.scenario.task(here.task)
    name, solution = subject(scenario, task), solution_of(scenario, task)
    papers = sum(count for _verdict, count in here.verdicts)
    return TaskLine(
        number=number,
        name=name[:1].upper() + name[1:],
        here=_percent(here.facility),
        full=_full(here, papers),
        ever=_ever(ever),
        bar=round(100.0 * here.facility, 1),
        mistakes=tuple(
            f"{mistake_name(task, solution, key)}, {count}{_confirmed(one, here.task, key)}"
            for key, count in here.slips[:MOST_NAMED]
        ),
        compared=_compared(ever),
        remark=_remark(ever),
    )


def _confirmed(one: ScenarioFigures, task_id: str, slip: str) -> str:
    """Return how often students said that it was that, where some were asked back."""
    confirmed, asked = one.confirmed(task_id, slip)
    told = _("diagnosis confirmed %(n)s of %(asked)s", n=confirmed, asked=asked)
    return f" ({told})" if asked else ""


def _full(figures: TaskFigures, papers: int) -> str:
    low, high = figures.full_interval.low, figures.full_interval.high
    return _(
        "%(full)s of %(papers)s, so %(low)s to %(high)s",
        full=figures.full,
        papers=papers,
        low=f"{100 * low:.0f}",
        high=_percent(high),
    )


def _ever(ever: TaskFigures) -> str:
    papers = sum(count for _verdict, count in ever.verdicts)
    return _("%(share)s; full marks %(full)s", share=_percent(ever.facility),
             full=_full(ever, papers))  # fmt: skip


def _percent(share: float) -> str:
    return f"{100 * share:.0f} %"


def _compared(ever: TaskFigures) -> str:
    if ever.discrimination is None:
        return _("does not vary")
    return f"{_signed(ever.discrimination)}, {_signed(ever.goes_with_rest)}"


def _signed(figure: float | None) -> str:
    if figure is None:
        return "\N{EN DASH}"
    # Adding zero takes the sign from a figure that rounds to nothing.
    return f"{round(figure, 2) + 0.0:.2f}".replace("-", "\N{MINUS SIGN}")


def _remark(ever: TaskFigures) -> str:
    """Return what an instructor should look at first; nothing where all is as it should be.

    That hardly anybody has it is told of any group, that nearly everybody has it of one that is
    no mere handful, and how it parts papers only where that is not held back.
    """
    if ever.facility < HARD:
        return _("Hardly anybody has it: teach it again, or check its key.")
    papers = sum(count for _verdict, count in ever.verdicts)
    if ever.facility > EASY and papers >= FEWEST_TO_SHARE:
        return _("Nearly everybody masters it: a good sign, and no reason to drop it.")
    if ever.discrimination is None:
        return ""
    if ever.discrimination < 0.0:
        return _("The better papers miss it more often: check its key and its words first.")
    if ever.discrimination < WEAK:
        return _("It hardly tells strong papers from weak ones.")
    return ""


def _scatter(ever: PaperFigures, lines: Sequence[TaskLine]) -> Scatter | None:
    dots = [
        Dot(line.number, line.name, task.facility, task.discrimination)
        for line, task in zip(lines, ever.tasks, strict=True)
        if task.discrimination is not None
    ]
    return place(dots) if dots else None


def _held_back(ever: PaperFigures) -> str:
    if not ever.is_small:
        return ""
    return ngettext(
        "How well tasks tell papers apart is held back below %(least)s papers, by convention; "
        "there is %(num)d so far.",
        "How well tasks tell papers apart is held back below %(least)s papers, by convention; "
        "there are %(num)d so far.",
        ever.papers,
        least=FEWEST_PAPERS,
    )
