"""What a student sees after handing in: outcome, marks with reasons, the rig with its loads."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from flask_babel import gettext as _

from coursekit.drawing.kinetic_chart import describe_snatch
from coursekit.drawing.site_plan import SitePlan
from coursekit.files.rig_file import rig_from_document
from coursekit.mechanics.ranges import OutOfRange
from coursekit.problems import Problems, Where
from coursekit.quantities.display import show_load, show_pair
from coursekit.quantities.units import Kind
from coursekit.rigging.rig import Rig
from coursekit.rigging.solver import ItemLoad, Solution, solve
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import (
    OWN_RIG,
    AnyTask,
    ChoiceTask,
    ItemTask,
    QuantityTask,
    RigTask,
)
from coursekit.services.answering import ResultView, TaskResult
from coursekit.web import words
from coursekit.web.answer.chart import chart_words, snatch_of
from coursekit.web.answer.pages import read_back
from coursekit.web.answer.questions import question
from coursekit.web.figures import step_value
from coursekit.web.labels import ratings
from coursekit.web.plan import names_of, solved_plan

FULL = 1.0


@dataclass(frozen=True)
class WorkedStep:
    """One step of the worked solution."""

    name: str
    symbol: str
    formula: str
    value: str
    source: str


@dataclass(frozen=True)
class TaskLine:
    """One task with its mark, what was answered and how it was read, and why."""

    question: str
    verdict: str
    marks: float
    out_of: float
    typed: str
    understood: str
    feedback: str
    working: tuple[WorkedStep, ...]


@dataclass(frozen=True)
class FindingLine:
    """One finding about the rig."""

    severity: str
    message: str


@dataclass(frozen=True)
class LoadLine:
    """How much of its limit one item, point or anchor uses."""

    name: str
    use: float | None
    detail: str
    word: str
    tone: str


@dataclass(frozen=True)
class RigPart:
    """The rig drawn with its loads; `is_own` says whose it is."""

    is_own: bool
    plan: SitePlan
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
    stops: tuple[FindingLine, ...]
    findings: tuple[FindingLine, ...]
    tasks: tuple[TaskLine, ...]
    rig: RigPart | None


def marks_page(result: ResultView) -> MarksPage:
    """Return the page of a result."""
    own = own_solution(result)
    given = _solved(result.scenario, result.scenario.given_rig)
    drawn = own or given
    found = [FindingLine(f["severity"], f["message"]) for f in result.findings]
    return MarksPage(
        result.attempt_id,
        _title(result, own),
        result.scenario.title,
        result.outcome,
        _meaning(result),
        tuple(f for f in found if f.severity == "critical"),
        tuple(f for f in found if f.severity != "critical"),
        tuple(_task_line(result, mark, own, given) for mark in result.tasks),
        _rig_part(result.scenario, drawn, is_own=own is not None) if drawn else None,
    )


def own_solution(result: ResultView) -> Solution | None:
    """Return the student's own rig solved, None where there is none that can be."""
    for task in result.scenario.tasks:
        typed = result.answers.get(task.id)
        if isinstance(task, RigTask) and isinstance(typed, Mapping):
            return _solved(result.scenario, _read(result.scenario, typed.get("rig", typed)))
    return None


def shown_solution(result: ResultView) -> Solution | None:
    """Return the solution that the page draws: the own rig before the given one."""
    return own_solution(result) or _solved(result.scenario, result.scenario.given_rig)


def _read(scenario: Scenario, document: Mapping[str, Any]) -> Rig | None:
    try:
        return rig_from_document(document, Where("rig"), scenario.situation)
    except Problems:
        return None


def _solved(scenario: Scenario, rig: Rig | None) -> Solution | None:
    try:
        return None if rig is None else solve(scenario.situation, rig)
    except (Problems, OutOfRange):
        return None


def _title(result: ResultView, own: Solution | None) -> str:
    scored = _("%(marks)s of %(out_of)s", marks=f"{result.marks:g}", out_of=f"{result.out_of:g}")
    if not result.safe:
        return _("%(scored)s, and it is unsafe", scored=scored)
    if own is not None:
        return _("%(scored)s, and the rig holds", scored=scored)
    return _("%(scored)s marks", scored=scored)


def _meaning(result: ResultView) -> str:
    if result.outcome == "unsafe":
        return _("Whatever the marks: what stands below would hurt somebody. Mend it first.")
    needed = f"{result.scenario.pass_share:.0%}".replace("%", " %")
    if result.outcome == "competent":
        return _("At least %(needed)s of the marks, and nothing unsafe.", needed=needed)
    return _("%(needed)s of the marks are needed. Nothing unsafe was found.", needed=needed)


def _task_line(
    result: ResultView, mark: TaskResult, own: Solution | None, given: Solution | None
) -> TaskLine:
    scenario, task = result.scenario, result.scenario.task(mark.task_id)
    typed = result.answers.get(task.id)
    solution = (own or given) if getattr(task, "rig", "") == OWN_RIG else given
    return TaskLine(
        question(scenario, task),
        mark.verdict,
        mark.marks,
        mark.out_of,
        _typed(scenario, task, typed),
        _understood(task, typed, solution),
        mark.feedback,
        tuple(_working(task, solution)),
    )


def _typed(scenario: Scenario, task: AnyTask, typed: Any) -> str:
    """Return an answer as it was typed or chosen."""
    names = names_of(scenario)
    if typed is None:
        return ""
    if isinstance(task, ChoiceTask):
        return task.options.get(str(typed), str(typed))
    if isinstance(task, RigTask):
        return _("the rig drawn below")
    if isinstance(typed, Sequence) and not isinstance(typed, str):
        return ", ".join(names.get(str(each), str(each)) for each in typed) or _("none of them")
    return names.get(str(typed), str(typed)) if isinstance(task, ItemTask) else str(typed)


def _understood(task: AnyTask, typed: Any, solution: Solution | None) -> str:
    """Return how a quantity was read, where that says more than the text itself."""
    if not isinstance(task, QuantityTask) or not isinstance(typed, str) or solution is None:
        return ""
    if task.of not in solution.chain:
        return ""
    read = read_back(typed, Kind.of_si(solution.chain.step(task.of).unit))
    return "" if read == typed.strip() else read


def _working(task: AnyTask, solution: Solution | None) -> Iterator[WorkedStep]:
    if not isinstance(task, QuantityTask) or solution is None or task.of not in solution.chain:
        return
    for step in solution.chain.working(task.of):
        value = step_value(step, solution.values[step.key])
        yield WorkedStep(step.name, step.symbol, step.formula, value, step.source)


def _rig_part(scenario: Scenario, solution: Solution, *, is_own: bool) -> RigPart:
    snatch = snatch_of(solution)
    alt = describe_snatch(snatch, chart_words()) if snatch else ""
    return RigPart(is_own, solved_plan(scenario, solution), tuple(_loads(scenario, solution)), alt)


def _loads(scenario: Scenario, solution: Solution) -> list[LoadLine]:
    """Return every item, point and anchor with its load, the fullest first."""
    items = [item for line in solution.lines for item in line.items]
    items += [item for place in solution.places for item in place.items]
    lines = [_load_line(scenario, solution, item) for item in items]
    lines += list(_anchor_lines(scenario, solution))
    return sorted(lines, key=lambda line: -(line.use or 0.0))


def _load_line(scenario: Scenario, solution: Solution, item: ItemLoad) -> LoadLine:
    is_point = item.item not in scenario.situation.gear
    vehicle, _dot, point = item.item.partition(".")
    path = f"{vehicle}.points.{point}" if is_point else f"gear.{item.item}"
    marked = [f"{word} {text}" for word, text in ratings(scenario, path) if word != _("length")]
    detail = " · ".join([_of_limit(item.load, item.limit), *marked])
    return _line(solution, names_of(scenario)[item.item], item.item, item.use, detail)


def _anchor_lines(scenario: Scenario, solution: Solution) -> Iterator[LoadLine]:
    for place in solution.places:
        anchor = scenario.situation.anchors.get(place.at)
        use = solution.values.get(f"place.{place.at}.use")
        if anchor is not None and place.load is not None and use:
            tested = _("tested") if anchor.tested else _("not tested")
            detail = f"{_of_limit(place.load, place.load / use)} · {tested}"
            yield _line(solution, words.item_name(place.at), place.at, use, detail)


def _line(solution: Solution, name: str, item: str, use: float | None, detail: str) -> LoadLine:
    is_weakest = solution.weakest is not None and solution.weakest.item == item
    if use is not None and use > FULL:
        return LoadLine(name, use, detail, _("▲ over its limit"), "over")
    if is_weakest:
        return LoadLine(name, use, detail, _("◆ weakest link"), "weak")
    return LoadLine(name, use, detail, "", "")


def _of_limit(load: float | None, limit: float | None) -> str:
    if load is None:
        return _("no load")
    if limit is None:
        return _("%(load)s, no limit known", load=show_load(load))
    shown, most = show_pair(load, limit)
    return _("%(load)s of %(limit)s", load=shown, limit=most)
