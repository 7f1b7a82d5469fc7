"""View models of the scenarios: all of them, one with its proof and rigs, one on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.drawing.kinetic_chart import describe_snatch
from coursekit.drawing.site_plan import SitePlan
from coursekit.rigging.solver import Solution
from coursekit.scenario.model import Scenario
from coursekit.scenario.offer import is_good
from coursekit.services.preparing import ScenarioVersion
from coursekit.web.cautions import Caution, cautions_for, methods_at_hand
from coursekit.web.force_time import chart_words, snatch_of
from coursekit.web.labels import Label, labels
from coursekit.web.load_lines import LoadLine, load_lines
from coursekit.web.plan import plain_plan, solved, solved_plan
from coursekit.web.prepare.proof_text import NO_GO, ProofText, proof_text
from coursekit.web.questions import about, asks_to_build, question
from coursekit.web.rig_text import rig_text
from coursekit.web.site_facts import Facts, Row, course_rules, site_facts
from coursekit.web.worded import worded
from coursekit.web.words import LEVELS, RIG_METHODS


@dataclass(frozen=True)
class Card:
    """One scenario on the list."""

    version_id: int
    title: str
    level: str
    method: str
    tasks: str
    plan: SitePlan


@dataclass(frozen=True)
class ScenariosPage:
    """Every scenario, by level."""

    title: str
    levels: tuple[tuple[str, tuple[Card, ...]], ...]


@dataclass(frozen=True)
class Ground:
    """What the brief gives: facts, the course's own figures, the gear as labelled."""

    facts: tuple[Facts, ...]
    rules: tuple[Row, ...]
    labels: tuple[Label, ...]
    rig: tuple[str, ...] = ()
    rig_is_own: bool = False


@dataclass(frozen=True)
class FindingLine:
    """What the solver finds about a rig."""

    severity: str
    text: str


@dataclass(frozen=True)
class RigPart:
    """One named rig; `working` is the address of its page, empty on that page itself."""

    number: int
    name: str
    heading: str
    is_good: bool
    text: tuple[str, ...]
    plan: SitePlan | None
    loads: tuple[LoadLine, ...]
    findings: tuple[FindingLine, ...]
    working: str
    chart: str
    chart_alt: str


@dataclass(frozen=True)
class TaskLine:
    """One task of the paper."""

    question: str
    about: str
    worth: str


@dataclass(frozen=True)
class ScenarioPage:
    """One scenario as its instructor reads it."""

    version_id: int
    number: int
    title: str
    name: str
    level: str
    brief: str
    ground: Ground
    plan: SitePlan
    proof: ProofText
    rigs: tuple[RigPart, ...]
    tasks: tuple[TaskLine, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True)
class SheetPage:
    """One scenario on paper, as its student gets it."""

    version_id: int
    title: str
    brief: str
    ground: Ground
    plan: SitePlan
    tasks: tuple[TaskLine, ...]
    cautions: tuple[Caution, ...]


def scenarios_page(versions: Sequence[ScenarioVersion]) -> ScenariosPage:
    """Return the list of the scenarios."""
    levels = (
        (str(word), tuple(_card(v) for v in versions if v.scenario.level == level))
        for level, word in LEVELS.items()
    )
    title = ngettext(
        "%(num)d scenario to choose from", "%(num)d scenarios to choose from", len(versions)
    )
    return ScenariosPage(title, tuple(group for group in levels if group[1]))


def scenario_page(version: ScenarioVersion) -> ScenarioPage:
    """Return one scenario with its proof and its named rigs."""
    scenario = version.scenario
    proof = proof_text(scenario)
    return ScenarioPage(
        version_id=version.version_id,
        number=version.number,
        title=_("%(title)s: %(verdict)s", title=scenario.title, verdict=proof.verdict),
        name=scenario.title,
        level=str(LEVELS[scenario.level]),
        brief=scenario.brief,
        ground=_ground(scenario),
        plan=plain_plan(scenario),
        proof=proof,
        rigs=tuple(rig_part(version, n, name) for n, name in enumerate(scenario.rigs, start=1)),
        tasks=_tasks(scenario),
        cautions=_cautions(scenario),
    )


def sheet_page(version: ScenarioVersion) -> SheetPage:
    """Return one scenario on paper, with nothing on it that a task asks for."""
    scenario = version.scenario
    return SheetPage(
        version_id=version.version_id,
        title=scenario.title,
        brief=scenario.brief,
        ground=_ground(scenario, _told_rig(scenario)),
        plan=plain_plan(scenario),
        tasks=_tasks(scenario),
        cautions=cautions_for(set(methods_at_hand(scenario.situation))),
    )


def _told_rig(scenario: Scenario) -> tuple[str, ...]:
    """Return the given rig in words, nothing where building it is a task."""
    given = scenario.given_rig
    return () if given is None or asks_to_build(scenario) else rig_text(scenario, given)


def _card(version: ScenarioVersion) -> Card:
    scenario = version.scenario
    return Card(
        version_id=version.version_id,
        title=scenario.title,
        level=str(LEVELS[scenario.level]),
        method=_method(scenario),
        tasks=ngettext("%(num)d task", "%(num)d tasks", len(scenario.tasks)),
        plan=plain_plan(scenario),
    )


def _method(scenario: Scenario) -> str:
    """Return how the vehicle is to come out; a no-go says so."""
    given = scenario.given_rig
    if scenario.expect == NO_GO or given is None:
        return _("No pull")
    return str(RIG_METHODS[given.method])


def _ground(scenario: Scenario, rig: tuple[str, ...] = ()) -> Ground:
    return Ground(site_facts(scenario), course_rules(scenario), labels(scenario), rig)


def _tasks(scenario: Scenario) -> tuple[TaskLine, ...]:
    return tuple(
        TaskLine(question(scenario, task), about(scenario, task), worth(task.marks))
        for task in scenario.tasks
    )


def worth(marks: float) -> str:
    """Return what a task is worth."""
    return ngettext(
        "%(marks)s mark", "%(marks)s marks", 1 if marks == 1.0 else 2, marks=f"{marks:g}"
    )


def _cautions(scenario: Scenario) -> tuple[Caution, ...]:
    return cautions_for({rig.method for rig in scenario.rigs.values()})


def rig_part(version: ScenarioVersion, number: int, name: str) -> RigPart:
    """Return one named rig with its plan, loads and findings."""
    scenario = version.scenario
    rig = scenario.rigs[name]
    solution = solved(scenario, rig)
    snatch = snatch_of(scenario, solution) if solution else None
    return RigPart(
        number=number,
        name=name,
        heading=rig_heading(name),
        is_good=solution is not None and is_good(solution),
        text=rig_text(scenario, rig),
        plan=solved_plan(scenario, solution) if solution else None,
        loads=load_lines(scenario, solution) if solution else (),
        findings=tuple(findings_of(scenario, solution)) if solution else (),
        working=url_for("prepare.working", version_id=version.version_id, name=name),
        chart=url_for("prepare.force_time", version_id=version.version_id, name=name),
        chart_alt=describe_snatch(snatch, chart_words()) if snatch else "",
    )


def rig_heading(name: str) -> str:
    """Return the name of a rig as a heading speaks of it.

    >>> rig_heading("two-blocks")
    'two blocks'
    """
    return name.replace("-", " ").replace("_", " ")


def findings_of(scenario: Scenario, solution: Solution) -> Iterator[FindingLine]:
    """Yield what the solver finds about a rig, in sentences."""
    for found in solution.findings:
        yield FindingLine(found.severity, worded(scenario, found.message))
