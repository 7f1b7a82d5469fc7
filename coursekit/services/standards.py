"""Setting a pass mark by a panel: judges rate each task, look at their peers, rate again.

The first round is blind.  In the second each judge sees what the others expect.  The
head may then take the cut on as the pass mark of that version of the scenario, which
goes before the scenario's own and the school's.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

import numpy as np
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from coursekit.assessment.standards import FEWEST_JUDGES, PanelCut, panel_cut
from coursekit.scenario.model import Scenario
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import Checks
from coursekit.services.errors import Conflict, NotFound, Refused
from coursekit.services.versions import scenario_of
from coursekit.store import queries, tables
from coursekit.store.queries.scenarios import ScenarioCard
from coursekit.store.queries.schools import locked_school
from coursekit.store.queries.standards import PassMarkRow, RatingRow, SheetRow
from coursekit.store.unit import Unit

__all__ = [
    "Adoption",
    "Chances",
    "PassMarkRow",
    "Sheet",
    "StandardLine",
    "adopt",
    "next_round",
    "open_sheet",
    "rate",
    "sheet_of",
    "standards",
]

BLIND, SEEN = 1, 2


@dataclass(frozen=True)
class Chances:
    """What a judge expects: the chance of 0 to 1 of each task, in a round of a sheet."""

    sheet_id: int
    round: int
    chances: Mapping[str, float]


@dataclass(frozen=True)
class Adoption:
    """The cut of a sheet, to hold as a pass mark from now on, and why."""

    sheet_id: int
    reason: str


@dataclass(frozen=True)
class Sheet:
    """A sheet as one of its judges may see it.

    `own` is what this judge gave last, with its round.  Peers and the cut stay hidden in
    the blind round: `peers` is empty and `cut` None; a cut takes two judges.
    """

    sheet_id: int
    version_id: int
    scenario: Scenario
    round: int
    is_closed: bool
    judges: tuple[str, ...]
    own: RatingRow | None
    peers: tuple[RatingRow, ...]
    cut: PanelCut | None
    blind_cut: PanelCut | None


@dataclass(frozen=True)
class StandardLine:
    """A scenario with the pass mark that a panel gave it, and the sheet that is open on it."""

    card: ScenarioCard
    pass_mark: PassMarkRow | None
    sheet_id: int | None


def standards(unit: Unit, actor: Actor) -> tuple[StandardLine, ...]:
    """Return the newest version of each scenario with what panels made of it: 4 queries."""
    actor.require(Role.INSTRUCTOR, Role.HEAD)
    with unit.read() as session:
        cards = queries.scenarios.cards(session, actor.school_id)
        made = queries.standards.pass_marks(session, actor.school_id)
        sheets = queries.standards.open_sheets(session, actor.school_id)
    newest = {row.version_id: row for row in reversed(made)}
    return tuple(
        StandardLine(card, newest.get(card.version_id), sheets.get(card.version_id))
        for card in cards
    )


def open_sheet(unit: Unit, actor: Actor, version_id: int, now: datetime) -> int:
    """Open a sheet on a version of a scenario, or return the one that is open."""
    actor.require(Role.HEAD)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        version = session.get(tables.ScenarioVersion, version_id)
        if version is None or version.school_id != actor.school_id:
            raise NotFound("scenario")
        known = queries.standards.open_sheets(session, actor.school_id).get(version_id)
        if known is not None:
            return known
        sheet = tables.StandardSheet(
            school_id=actor.school_id,
            scenario_version_id=version_id,
            round=BLIND,
            opened_at=now,
            opened_by=actor.person_id,
        )
        session.add(sheet)
        session.flush()
        return sheet.id


def sheet_of(unit: Unit, actor: Actor, sheet_id: int) -> Sheet:
    """Return a sheet of the school as its judge may see it now."""
    actor.require(Role.INSTRUCTOR, Role.HEAD)
    with unit.read() as session:
        row = _found(session, actor, sheet_id)
        ratings = queries.standards.ratings(session, sheet_id)
    scenario = scenario_of(row.document, {})
    own = [rating for rating in ratings if rating.judge_id == actor.person_id]
    is_blind = row.round == BLIND and row.closed_at is None
    blind = tuple(rating for rating in ratings if rating.round == BLIND)
    return Sheet(
        sheet_id=sheet_id,
        version_id=row.version_id,
        scenario=scenario,
        round=row.round,
        is_closed=row.closed_at is not None,
        judges=tuple(dict.fromkeys(rating.judge for rating in ratings)),
        own=own[-1] if own else None,
        peers=() if is_blind else _last_of_each(ratings),
        cut=None if is_blind else _cut(scenario, _last_of_each(ratings)),
        blind_cut=None if is_blind else _cut(scenario, blind),
    )


def rate(unit: Unit, actor: Actor, given: Chances, now: datetime) -> None:
    """Keep what a judge expects of each task, beside what the same judge gave before.

    Raises
    ------
    Problems
        If a task has no chance of 0 to 1.
    Conflict
        If the round has changed since the form was opened.
    """
    actor.require(Role.INSTRUCTOR, Role.HEAD)
    with unit.write() as session:
        sheet = _locked(session, actor, given.sheet_id)
        if sheet.round != given.round:
            raise Conflict("Another round has begun since this form was opened")
        row = _found(session, actor, given.sheet_id)
        chances = _checked(scenario_of(row.document, {}), given.chances)
        session.add(
            tables.StandardRating(
                school_id=actor.school_id,
                sheet_id=sheet.id,
                judge_id=actor.person_id,
                round=sheet.round,
                chances=chances,
                given_at=now,
            )
        )


def next_round(unit: Unit, actor: Actor, sheet_id: int) -> None:
    """End the blind round: from now on judges see one another and rate again."""
    actor.require(Role.HEAD)
    with unit.write() as session:
        sheet = _locked(session, actor, sheet_id)
        ratings = queries.standards.ratings(session, sheet_id)
        if len({rating.judge_id for rating in ratings}) < FEWEST_JUDGES:
            raise Refused("Fewer than two judges have rated", "Let a second one rate first")
        sheet.round = SEEN


def adopt(unit: Unit, actor: Actor, adoption: Adoption, now: datetime) -> int:
    """Take the cut of a sheet on as the pass mark of its version, and close the sheet.

    It holds for papers that are handed in from now on.
    """
    actor.require(Role.HEAD)
    checks = Checks()
    reason = checks.text("reason", adoption.reason)
    checks.done()
    with unit.write() as session:
        sheet = _locked(session, actor, adoption.sheet_id)
        row = _found(session, actor, adoption.sheet_id)
        ratings = _last_of_each(queries.standards.ratings(session, sheet.id))
        cut = _cut(scenario_of(row.document, {}), ratings)
        if sheet.round == BLIND or cut is None:
            raise Refused("The judges have not seen one another's ratings", "Begin round two first")
        if cut.share <= 0.0:
            raise Refused("The panel expects nothing at all", "Let the judges rate again")
        number = _next_number(session, sheet.scenario_version_id)
        session.add(
            tables.PassMark(
                school_id=actor.school_id,
                scenario_version_id=sheet.scenario_version_id,
                number=number,
                share=min(cut.share, 1.0),
                method="panel",
                sheet_id=sheet.id,
                reason=reason,
                made_at=now,
                made_by=actor.person_id,
            )
        )
        sheet.closed_at = now
    return number


def _found(session: Session, actor: Actor, sheet_id: int) -> SheetRow:
    row = queries.standards.sheet(session, actor.school_id, sheet_id)
    if row is None:
        raise NotFound("sheet")
    return row


def _locked(session: Session, actor: Actor, sheet_id: int) -> tables.StandardSheet:
    sheet = session.get(tables.StandardSheet, sheet_id, with_for_update=True)
    if sheet is None or sheet.school_id != actor.school_id:
        raise NotFound("sheet")
    if sheet.closed_at is not None:
        raise Refused("This sheet is closed", "Open another on the scenario")
    return sheet


def _checked(scenario: Scenario, chances: Mapping[str, float]) -> dict[str, float]:
    checks = Checks()
    for task in scenario.tasks:
        if not 0.0 <= chances.get(task.id, -1.0) <= 1.0:
            checks.add(task.id, "It has no chance", "Give 0 to 100 percent")
    checks.done()
    return {task.id: float(chances[task.id]) for task in scenario.tasks}


def _last_of_each(ratings: tuple[RatingRow, ...]) -> tuple[RatingRow, ...]:
    """Return what each judge gave last: of the second round, else of the first."""
    return tuple({rating.judge_id: rating for rating in ratings}.values())


def _cut(scenario: Scenario, ratings: tuple[RatingRow, ...]) -> PanelCut | None:
    if len(ratings) < FEWEST_JUDGES:
        return None
    chances = [[rating.chances[task.id] for task in scenario.tasks] for rating in ratings]
    return panel_cut(np.array(chances), np.array([task.marks for task in scenario.tasks]))


def _next_number(session: Session, version_id: int) -> int:
    last = session.scalar(
        select(func.max(tables.PassMark.number)).where(
            tables.PassMark.scenario_version_id == version_id
        )
    )
    return (last or 0) + 1
