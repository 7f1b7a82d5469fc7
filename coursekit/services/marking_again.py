"""Marking again: the papers of a corrected scenario, previewed, then kept all at once.

A run looks at so many papers a step and keeps what it found, so that it can be left and
gone on with from any worker.  Nobody's marks are written before somebody confirms the whole
run with a reason; then every paper gets its new marking beside the old ones, in one
transaction, or none does.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import insert, select, update
from sqlalchemy.orm import Session

from coursekit.scenario.model import Scenario
from coursekit.services.actor import Actor, Role
from coursekit.services.again import desk_for
from coursekit.services.class_head import head_of
from coursekit.services.counting import reason_checked
from coursekit.services.errors import Conflict, NotFound, Refused
from coursekit.services.sheets import Kept, Made, keep_sheets, sheet_of_document
from coursekit.services.versions import scenario_of
from coursekit.store import queries, tables
from coursekit.store.queries.classes import ClassHead
from coursekit.store.queries.runs import RunPaper, RunRow, Touched
from coursekit.store.unit import Unit

__all__ = [
    "ClassTouched",
    "RunPaper",
    "RunRow",
    "RunView",
    "Touched",
    "Wish",
    "begin_run",
    "class_touched",
    "confirm_run",
    "go_on",
    "run_view",
    "scenario_touched",
]

PAPERS_A_STEP = 400
# More are counted, and not listed: a page is for reading.
MOST_LISTED = 200


@dataclass(frozen=True)
class Wish:
    """Which papers are to be marked again: of a scenario, in one class or in all of them."""

    slug: str
    class_id: int | None
    may_fall: bool


@dataclass(frozen=True)
class ClassTouched:
    """A class with its papers, its runs, and the open classes that stand in the way."""

    head: ClassHead
    scenarios: tuple[Touched, ...]
    runs: tuple[RunRow, ...]


@dataclass(frozen=True)
class RunView:
    """A run: how far it is, what it would move, and what it can't mark."""

    run: RunRow
    scenario: Scenario
    papers: tuple[RunPaper, ...]
    counts: tuple[tuple[str, str, bool, int], ...]


def class_touched(unit: Unit, actor: Actor, class_id: int) -> ClassTouched:
    """Return the scenarios of a class, the versions that they are at, and its runs."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        head = head_of(session, actor.school_id, class_id)
        return ClassTouched(
            head,
            queries.runs.touched(session, actor.school_id, class_id),
            queries.runs.runs(session, actor.school_id, class_id),
        )


def scenario_touched(unit: Unit, actor: Actor, slug: str) -> tuple[int, tuple[str, ...]]:
    """Return how many papers a scenario has in all classes, and which open ones work on it."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        return (
            queries.runs.count(session, actor.school_id, slug, None),
            queries.runs.open_classes(session, actor.school_id, slug, None),
        )


def begin_run(unit: Unit, actor: Actor, wish: Wish, now: datetime) -> int:
    """Begin a run over the papers of closed classes, and return it.

    Raises
    ------
    NotFound
        If the school has no such scenario.
    Refused
        If a class is still open, or there is no paper to mark.
    """
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        target = queries.runs.newest_version(session, actor.school_id, wish.slug)
        if target is None:
            raise NotFound("scenario")
        _refuse_open(session, actor, wish.slug, wish.class_id)
        papers = queries.runs.count(session, actor.school_id, wish.slug, wish.class_id)
        if not papers:
            raise Refused("There is no paper to mark again", "Choose another scenario")
        run = tables.MarkingRun(
            school_id=actor.school_id,
            class_session_id=wish.class_id,
            scenario_version_id=target,
            may_fall=wish.may_fall,
            papers=papers,
            started_by=actor.person_id,
            started_at=now,
        )
        session.add(run)
        session.flush()
        return run.id


def go_on(unit: Unit, actor: Actor, run_id: int, papers: int = PAPERS_A_STEP) -> None:
    """Look at the next papers of a run and keep what would become of them; no mark is written."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        desk = desk_for(session, actor.school_id, _run(session, actor, run_id), papers)
    of_run = {"school_id": actor.school_id, "marking_run_id": run_id}
    rows = [{**of_run, **desk.again(paper).columns} for paper in desk.papers]
    with unit.write() as session:
        session.get_one(tables.MarkingRun, run_id, with_for_update=True)
        mine = [row["attempt_id"] for row in rows]
        known = session.scalars(
            select(tables.MarkingRunPaper.attempt_id).where(
                tables.MarkingRunPaper.marking_run_id == run_id,
                tables.MarkingRunPaper.attempt_id.in_(mine),
            )
        )
        # Another worker may have looked at the same papers meanwhile.
        there = set(known)
        fresh = [row for row in rows if row["attempt_id"] not in there]
        if fresh:
            session.execute(insert(tables.MarkingRunPaper), fresh)


def run_view(unit: Unit, actor: Actor, run_id: int) -> RunView:
    """Return how far a run is, and what it would do."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        run = _run(session, actor, run_id)
        version = session.get_one(tables.ScenarioVersion, run.version_id)
        return RunView(
            run,
            scenario_of(version.document, {}),
            queries.runs.run_papers(session, run_id, MOST_LISTED) if run.is_marked else (),
            queries.runs.counts(session, run_id) if run.is_marked else (),
        )


def confirm_run(
    unit: Unit, actor: Actor, run_id: int, code: str, reason: str, now: datetime
) -> int:
    """Let the new marks of a run count, all of them at once; return how many papers got them."""
    actor.require(Role.INSTRUCTOR)
    text = reason_checked(code, reason)
    with unit.write() as session:
        kept = session.get(tables.MarkingRun, run_id, with_for_update=True)
        run = _run(session, actor, run_id)
        if kept is None:
            raise NotFound("run")
        _refuse_unready(session, actor, run)
        made = Made(now, "again", actor.person_id, code, text, run.version_id)
        written = _write(session, actor, run, made)
        kept.confirmed_by, kept.confirmed_at = actor.person_id, now
        kept.code, kept.reason = code, text
        # What was previewed now stands in the marks themselves.
        session.execute(
            update(tables.MarkingRunPaper)
            .where(tables.MarkingRunPaper.marking_run_id == run_id)
            .values(sheet=None)
        )
    return written


def _refuse_unready(session: Session, actor: Actor, run: RunRow) -> None:
    if run.confirmed_at is not None:
        raise Conflict("This was confirmed already", "Look at the papers")
    if not run.is_marked:
        raise Refused("Not every paper has been looked at", "Go on until all are")
    _refuse_open(session, actor, run.slug, run.class_id)
    if queries.runs.newest_version(session, actor.school_id, run.slug) != run.version_id:
        raise Conflict("The scenario has a newer version by now", "Begin to mark again by that one")
    if queries.runs.stale(session, run.run_id):
        raise Conflict("Some marks have changed since they were looked at", "Begin again")
    if queries.runs.count(session, actor.school_id, run.slug, run.class_id) != run.papers:
        raise Conflict("There are other papers now than when this began", "Begin again")


def _refuse_open(session: Session, actor: Actor, slug: str, class_id: int | None) -> None:
    titles = queries.runs.open_classes(session, actor.school_id, slug, class_id)
    if titles:
        raise Refused(
            f"{', '.join(titles)} is still open: its students answer by the old version, and "
            "some marks would change while others are still being earned",
            "Close the class first, then mark it again",
        )


def _run(session: Session, actor: Actor, run_id: int) -> RunRow:
    run = queries.runs.run(session, actor.school_id, run_id)
    if run is None:
        raise NotFound("run")
    return run


def _write(session: Session, actor: Actor, run: RunRow, made: Made) -> int:
    """Keep the sheets of a run, so many at a time, and return how many there were."""
    written, last = 0, 0
    while rows := queries.runs.sheets(session, run.run_id, last, PAPERS_A_STEP):
        kept = [
            Kept(
                attempt_id,
                number + 1,
                sheet_of_document(sheet),
                sheet["outcome"],
                tuple(sheet["rule"]),
                made,
            )
            for _id, attempt_id, number, sheet in rows
            if sheet is not None
        ]
        keep_sheets(session, actor.school_id, kept)
        written, last = written + len(kept), rows[-1][0]
    return written
