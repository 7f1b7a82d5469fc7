"""The marking guide of a scenario on paper: right answers, tolerances, usual mistakes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l

from coursekit.assessment.marks import half_marks
from coursekit.assessment.results import Rule
from coursekit.quantities.display import show
from coursekit.quantities.units import Kind
from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.solver import Solution
from coursekit.rigging.steps import SlipValue
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_number, rig_of_task
from coursekit.scenario.strands import STRANDS, strand_of
from coursekit.scenario.tasks import (
    OWN_RIG,
    AnyTask,
    ChoiceTask,
    ItemsTask,
    ItemTask,
    OrderTask,
    QuantityTask,
    RigTask,
)
from coursekit.services.preparing import ScenarioVersion
from coursekit.web import words
from coursekit.web.labels import seen
from coursekit.web.plan import names_of, solved
from coursekit.web.prepare.pages import rig_heading, worth
from coursekit.web.questions import question
from coursekit.web.worked import ToldPart, worked_parts

RIG_MARK_WORDS = {
    "safe": _l("safe: no critical finding"),
    "reaches": _l("reaches: every line is long enough"),
    "margin": _l("margin: nothing uses more than the policy asks"),
    "economy": _l("economy: no more gear than the best safe rig"),
}


@dataclass(frozen=True)
class Mistake:
    """A usual mistake: where it leads, and the share of the marks that it keeps."""

    name: str
    value: str
    marks: float


@dataclass(frozen=True)
class GuideLine:
    """How one task is marked."""

    question: str
    worth: str
    answers: tuple[str, ...]
    accepted: str
    note: str
    mistakes: tuple[Mistake, ...]


@dataclass(frozen=True)
class WorkedRig:
    """A rig that tasks are marked on, worked out; it is printed on sheets of its own."""

    name: str
    parts: tuple[ToldPart, ...]


@dataclass(frozen=True)
class GuidePage:
    """How the whole paper is marked."""

    version_id: int
    title: str
    out_of: float
    needed: str
    least: tuple[str, ...]
    lines: tuple[GuideLine, ...]
    is_varied: bool
    solutions: tuple[WorkedRig, ...]


def guide_page(version: ScenarioVersion, rule: Rule) -> GuidePage:
    """Return the guide, at the scenario's own numbers, with the rule that decides now."""
    scenario = version.scenario
    return GuidePage(
        version_id=version.version_id,
        title=scenario.title,
        out_of=scenario.out_of,
        needed=f"{100 * rule.pass_share:.3g} %",
        least=tuple(_least(scenario, rule)),
        lines=tuple(_line(scenario, task) for task in scenario.tasks),
        is_varied=bool(scenario.vary),
        solutions=tuple(_worked(scenario)),
    )


def _least(scenario: Scenario, rule: Rule) -> Iterator[str]:
    """Yield what is needed of each strand that the scenario asks for."""
    asked = {strand_of(task) for task in scenario.tasks}
    for strand in STRANDS:
        if strand in asked and strand in rule.strand_minimums:
            share = f"{100 * rule.strand_minimums[strand]:.3g} %"
            yield _("%(strand)s: at least %(share)s.", strand=words.STRANDS[strand], share=share)


def _worked(scenario: Scenario) -> Iterator[WorkedRig]:
    asked = dict.fromkeys(rig_of_task(task) for task in scenario.tasks)
    for name in asked:
        solution = solved(scenario, scenario.rigs.get(name)) if name else None
        if solution is not None:
            yield WorkedRig(rig_heading(name or ""), worked_parts(scenario, solution))


def _line(scenario: Scenario, task: AnyTask) -> GuideLine:
    solution = _solution(scenario, task)
    return GuideLine(
        question=question(scenario, task),
        worth=worth(task.marks),
        answers=tuple(_answers(scenario, task, solution)),
        accepted=_accepted(scenario, task, solution),
        note=_note(task),
        mistakes=tuple(_mistakes(scenario, task, solution)),
    )


def _solution(scenario: Scenario, task: AnyTask) -> Solution | None:
    return solved(scenario, scenario.rigs.get(rig_of_task(task) or ""))


def _answers(scenario: Scenario, task: AnyTask, solution: Solution | None) -> Iterator[str]:
    match task:
        case QuantityTask():
            yield from _quantity(scenario, task, solution)
        case RigTask():
            yield from (f"{RIG_MARK_WORDS[name]}: {marks:g}" for name, marks in task.scheme.items())
        case ItemTask():
            if solution is not None and solution.weakest is not None:
                yield names_of(scenario).get(solution.weakest.item, solution.weakest.item)
        case ItemsTask():
            yield from _unfit(scenario)
        case ChoiceTask():
            yield _because(task)
        case OrderTask():
            yield from task.items


def _quantity(scenario: Scenario, task: QuantityTask, solution: Solution | None) -> Iterator[str]:
    if solution is not None and is_number(solution.values.get(task.of)):
        step = solution.chain.step(task.of)
        words = shower(units_of(scenario))
        yield words(float(solution.values[task.of]), step.unit, step.rounds)


def _unfit(scenario: Scenario) -> Iterator[str]:
    names = names_of(scenario)
    for name, item in scenario.situation.gear.items():
        if item.condition:
            yield f"{names[name]}: {'; '.join(seen(item))}"


def _because(task: ChoiceTask) -> str:
    right = task.options[task.answer]
    if not task.because:
        return right
    return _("%(answer)s, because: %(reason)s", answer=right, reason=task.because)


def _accepted(scenario: Scenario, task: AnyTask, solution: Solution | None) -> str:
    if not isinstance(task, QuantityTask) or solution is None:
        return ""
    truth = solution.values.get(task.of)
    if not is_number(truth):
        return ""
    kind = Kind.of_si(solution.chain.step(task.of).unit)
    unit = task.unit or units_of(scenario)[kind]
    low, high = (show(end, kind, unit) for end in task.tolerance.band(float(truth)))
    return _("accepted from %(low)s to %(high)s", low=low, high=high)


def _note(task: AnyTask) -> str:
    if isinstance(task, QuantityTask | ItemTask) and task.rig == OWN_RIG:
        return _("For the student's own rig: solve it; what stands here is for the given rig.")
    if isinstance(task, ChoiceTask) and task.critical:
        return _("A wrong choice makes the outcome unsafe, whatever the marks.")
    if isinstance(task, RigTask):
        return _("A rig is judged by solving it; one critical finding makes the outcome unsafe.")
    return ""


def _mistakes(scenario: Scenario, task: AnyTask, solution: Solution | None) -> Iterator[Mistake]:
    if not isinstance(task, QuantityTask) or solution is None or task.of not in solution.chain:
        return
    words, step = shower(units_of(scenario)), solution.chain.step(task.of)
    named: set[str] = set()
    for found in solution.chain.slips_at(task.of, solution.values):
        if _is_told(task, found, solution.values[task.of]) and found.slip.key not in named:
            named.add(found.slip.key)
            value = words(float(found.value), step.unit, "nearest")
            yield Mistake(
                found.slip.title.text(_), value, half_marks(task.marks * found.slip.share)
            )


def _is_told(task: QuantityTask, found: SlipValue, truth: object) -> bool:
    """Whether a mistake leads to a number that isn't accepted as right."""
    if not is_number(found.value) or not is_number(truth):
        return False
    return not task.tolerance.accepts(float(found.value), float(truth))
