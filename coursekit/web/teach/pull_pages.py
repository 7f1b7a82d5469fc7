"""View models of the pulls: which to log, the hold point, and what a pull did to the kit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.drawing.site_plan import SitePlan
from coursekit.quantities.display import show_load, show_pair
from coursekit.quantities.units import Kind as QuantityKind
from coursekit.quantities.voice import METRIC, units_of
from coursekit.rigging.solver import Solution
from coursekit.services.class_now import ClassNow, ScenarioNow
from coursekit.services.kit import ItemRow
from coursekit.services.planning import ClassPlan, PlannedScenario
from coursekit.services.pulls import PullLine, PullReport, PullRow
from coursekit.wear.ledger import Ending, Kind, Size
from coursekit.web.cautions import Caution, cautions_for
from coursekit.web.filters import percent
from coursekit.web.kit_words import ENDINGS, ENTRIES, ORIGINS, SIZES, kind_word, planned_text
from coursekit.web.plan import solved, solved_plan
from coursekit.web.questions import asks_to_build
from coursekit.web.resting import rest_text
from coursekit.web.rig_text import rig_text
from coursekit.web.standing import Tag, standing
from coursekit.web.teach.pulled import Pulled, rig_name
from coursekit.web.worded import worded
from coursekit.web.words import RIG_METHODS, item_name


@dataclass(frozen=True)
class PullChoice:
    """One rig, with the way to its log; only a safe one has a hold point."""

    text: str
    hold_point: str
    log: str


@dataclass(frozen=True)
class PullGroup:
    """Rigs under one heading, and what is planned for them; `is_over` once that is made."""

    heading: str
    choices: tuple[PullChoice, ...]
    planned: str = ""
    is_over: bool = False


@dataclass(frozen=True)
class ChoosePage:
    """What may be pulled: rigs of each scenario, rigs that students built, or one item."""

    class_id: int
    class_title: str
    groups: tuple[PullGroup, ...]


@dataclass(frozen=True)
class RigPage:
    """A rig with its plan, before it is pulled or logged."""

    class_id: int
    class_title: str
    title: str
    method: str
    text: tuple[str, ...]
    plan: SitePlan | None
    is_safe: bool
    stops: tuple[str, ...]
    cautions: tuple[Caution, ...]
    log: str
    measured: str
    hold_point: str


@dataclass(frozen=True)
class WornLine:
    """What a pull did to one item."""

    name: str
    kind: str
    url: str
    load: str
    size: str
    before: str
    after: str
    tag: Tag
    rest: str
    reason: str


@dataclass(frozen=True)
class ReportPage:
    """What a pull did to the kit; `is_late` when it was entered more than a day after."""

    title: str
    class_id: int
    class_title: str
    what: str
    at: datetime
    is_late: bool
    measured: str
    lines: tuple[WornLine, ...]


def choose_page(now: ClassNow, plan: ClassPlan) -> ChoosePage:
    """Return what may be pulled in a class, beside what it plans."""
    planned = {one.version_id: one for one in plan.scenarios}
    groups = [_group(now, one, planned.get(one.version_id)) for one in now.scenarios]
    built = tuple(_built(now))
    if built:
        groups.append(PullGroup(_("Rigs that students built"), built))
    return ChoosePage(now.head.id, now.head.title, tuple(groups))


def _group(now: ClassNow, one: ScenarioNow, planned: PlannedScenario | None) -> PullGroup:
    choices = tuple(_given(now, one))
    if planned is None or not planned.is_meant:
        return PullGroup(one.scenario.title, choices)
    return PullGroup(
        one.scenario.title,
        choices,
        planned=planned_text(planned.pulls, planned.made),
        is_over=not planned.left,
    )


def rig_page(now: ClassNow, pulled: Pulled, *, whole_area: bool = False) -> RigPage:
    """Return the page of a rig, solved at the scenario's own numbers."""
    solution = solved(pulled.scenario, pulled.rig)
    return RigPage(
        class_id=now.head.id,
        class_title=now.head.title,
        title=pulled.title,
        method=str(RIG_METHODS[pulled.rig.method]),
        text=rig_text(pulled.scenario, pulled.rig),
        plan=solved_plan(pulled.scenario, solution, whole_area=whole_area) if solution else None,
        is_safe=_is_safe(solution),
        stops=tuple(worded(pulled.scenario, found.message) for found in solution.stops)
        if solution
        else (),
        cautions=cautions_for({pulled.rig.method}),
        log=url_for("teach.log_rig", class_id=now.head.id, **pulled.args),
        measured=url_for("teach.log_measured", class_id=now.head.id, **pulled.args),
        hold_point=url_for("teach.hold_point", class_id=now.head.id, **pulled.args),
    )


def report_page(
    now: ClassNow, report: PullReport, row: PullRow, kit: Sequence[ItemRow]
) -> ReportPage:
    """Return what a pull did, item by item."""
    by_id = {item.id: item for item in kit}
    force = _force(now, row)
    lines = tuple(_worn(line, by_id, force) for line in report.lines)
    return ReportPage(
        title=_report_title(row, lines),
        class_id=now.head.id,
        class_title=now.head.title,
        what=_what(row),
        at=row.at,
        is_late=row.is_late,
        measured=_measured(report, force),
        lines=lines,
    )


def _given(now: ClassNow, one: ScenarioNow) -> Iterator[PullChoice]:
    for name, rig in one.scenario.rigs.items():
        args = {"scenario": one.class_scenario_id, "rig": name}
        solution = solved(one.scenario, rig)
        yield _choice(now, rig_name(name), args, is_safe=_is_safe(solution))


def _is_safe(solution: Solution | None) -> bool:
    return solution is not None and not solution.stops


def _built(now: ClassNow) -> Iterator[PullChoice]:
    asks = {
        one.class_scenario_id: one.scenario for one in now.scenarios if asks_to_build(one.scenario)
    }
    for student in now.students:
        for attempt in student.attempts:
            scenario = asks.get(attempt.class_scenario_id)
            if scenario is not None and attempt.status == "submitted":
                text = _("%(name)s: %(scenario)s", name=student.name, scenario=scenario.title)
                # Whether it is safe is told on its own page, where it is solved.
                yield _choice(now, text, {"attempt": attempt.attempt_id}, is_safe=True)


def _choice(now: ClassNow, text: str, args: Mapping[str, Any], *, is_safe: bool) -> PullChoice:
    hold_point = url_for("teach.hold_point", class_id=now.head.id, **args) if is_safe else ""
    return PullChoice(text, hold_point, url_for("teach.log_rig", class_id=now.head.id, **args))


def _what(row: PullRow) -> str:
    told = [str(RIG_METHODS[row.method])]
    return ", ".join([*told, row.scenario] if row.scenario else told)


def _measured(report: PullReport, force: str) -> str:
    """Return what a load cell measured beside what was solved, nothing where none was in."""
    proof = next((line.cell for line in report.lines if line.cell is not None), None)
    if proof is None:
        return ""
    said = {
        "item": item_name(proof.place),
        "measured": show_load(proof.reading.peak, force),
        "solved": show_load(proof.solved, force),
    }
    if proof.is_cut:
        return _(
            "A load cell beside %(item)s read %(measured)s and may have been at the end of its "
            "range, so the force may have been higher; solved %(solved)s there.",
            **said,
        )
    return _(
        "A load cell beside %(item)s read a peak of %(measured)s; solved %(solved)s there.", **said
    )


def _report_title(row: PullRow, lines: Sequence[WornLine]) -> str:
    ended = str(ENDINGS[Ending(row.ended)])
    held = sum(line.tag.tone in ("stop", "soft") for line in lines)
    if not held:
        return _("Logged: %(ended)s. Every item may go out again", ended=ended)
    return ngettext(
        "Logged: %(ended)s. %(num)d item stays in the store",
        "Logged: %(ended)s. %(num)d items stay in the store",
        held,
        ended=ended,
    )


def _force(now: ClassNow, row: PullRow) -> str:
    """Return the unit in which the loads of a pull are told: that of its scenario."""
    pulled = (one.scenario for one in now.scenarios if one.version_id == row.version_id)
    units = next(map(units_of, pulled), METRIC)
    return units[QuantityKind.FORCE]


def _worn(line: PullLine, kit: Mapping[int, ItemRow], force: str) -> WornLine:
    counts = line.use_limit is not None
    return WornLine(
        name=line.mark,
        kind=kind_word(line.kind),
        url=url_for("kit.item", item_id=line.item_id),
        load=_load(line, force),
        size=str(SIZES[Size(line.size)]),
        before=f"{line.use - line.added:.4g}" if counts else "",
        after=_("%(use)s of %(limit)s", use=f"{line.use:.4g}", limit=f"{line.use_limit:.4g}")
        if counts
        else "",
        tag=standing(kit[line.item_id]),
        rest=rest_text(line.rest_until),
        reason=_reason(line),
    )


def _load(line: PullLine, force: str) -> str:
    if line.load is None:
        return str(ORIGINS[line.origin])
    if line.limit is None or line.share is None:
        return _("%(load)s, no limit known", load=show_load(line.load, force))
    load, limit = show_pair(line.load, line.limit, force)
    return _("%(load)s of %(limit)s, %(share)s", load=load, limit=limit, share=percent(line.share))


def _reason(line: PullLine) -> str:
    if line.consequence is None:
        return ""
    return _("%(what)s: %(why)s", what=ENTRIES[Kind(line.consequence)], why=line.reason)
