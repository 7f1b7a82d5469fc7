"""Which papers a corrected scenario touches, and how far a run over them has come."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, Select, func, select
from sqlalchemy.orm import Session

from coursekit.problems import Message
from coursekit.store.queries.classes import counting_result
from coursekit.store.tables import (
    Attempt,
    AttemptResult,
    ClassScenario,
    ClassSession,
    Enrolment,
    MarkingRun,
    MarkingRunPaper,
    Person,
    ScenarioVersion,
)

MACHINE = ("first", "again")


@dataclass(frozen=True)
class Touched:
    """The papers of one scenario in a class, and the newest version of it."""

    slug: str
    title: str
    papers: int
    version_id: int
    number: int
    newest_id: int
    newest_number: int


@dataclass(frozen=True)
class WrittenPaper:
    """A handed-in paper with the document and the numbers that it was written by."""

    attempt_id: int
    result_id: int
    document: str
    variation: Mapping[str, str]


@dataclass(frozen=True)
class RunRow:
    """A run and how far it has come."""

    run_id: int
    class_id: int | None
    version_id: int
    slug: str
    title: str
    number: int
    may_fall: bool
    papers: int
    done: int
    started_by: str
    started_at: datetime
    confirmed_by: str | None
    confirmed_at: datetime | None

    @property
    def is_marked(self) -> bool:
        """Whether every paper has been looked at."""
        return self.done >= self.papers


@dataclass(frozen=True)
class RunPaper:
    """What a run would do to one paper."""

    attempt_id: int
    student: str
    class_title: str
    refusal: Message | None
    moves: tuple[tuple[str, float | None, float | None, float], ...]
    outcome_before: str
    outcome_after: str
    marks_before: float
    marks_after: float


def touched(session: Session, school_id: int, class_id: int) -> tuple[Touched, ...]:
    """Return the scenarios of a class with their handed-in papers: 1 query."""
    newest = _newest(school_id)
    target = select(ScenarioVersion).where(ScenarioVersion.school_id == school_id).subquery()
    papers = (
        select(func.count())
        .where(Attempt.class_scenario_id == ClassScenario.id, Attempt.status == "submitted")
        .scalar_subquery()
    )
    rows = session.execute(
        select(
            ScenarioVersion.slug,
            ScenarioVersion.title,
            papers,
            ScenarioVersion.id,
            ScenarioVersion.number,
            target.c.id,
            target.c.number,
        )
        .select_from(ClassScenario)
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .join(newest, newest.c.slug == ScenarioVersion.slug)
        .join(target, (target.c.slug == newest.c.slug) & (target.c.number == newest.c.number))
        .where(ClassScenario.school_id == school_id, ClassScenario.class_session_id == class_id)
        .order_by(ClassScenario.position)
    )
    return tuple(Touched(*row) for row in rows)


def newest_version(session: Session, school_id: int, slug: str) -> int | None:
    """Return the newest version of a scenario: 1 query."""
    return session.scalar(
        select(ScenarioVersion.id)
        .where(ScenarioVersion.school_id == school_id, ScenarioVersion.slug == slug)
        .order_by(ScenarioVersion.number.desc())
        .limit(1)
    )


def open_classes(
    session: Session, school_id: int, slug: str, class_id: int | None
) -> tuple[str, ...]:
    """Return the titles of open classes that work on a scenario: 1 query."""
    query = (
        select(ClassSession.title)
        .join(ClassScenario, ClassScenario.class_session_id == ClassSession.id)
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .where(
            ClassSession.school_id == school_id,
            ClassSession.status == "open",
            ScenarioVersion.slug == slug,
        )
        .order_by(ClassSession.id)
    )
    if class_id is not None:
        query = query.where(ClassSession.id == class_id)
    return tuple(session.scalars(query))


def count(session: Session, school_id: int, slug: str, class_id: int | None) -> int:
    """Return how many handed-in papers a scenario has: 1 query."""
    query = _papers(select(func.count()), school_id, slug, class_id)
    return session.scalar(query) or 0


def waiting(session: Session, run: RunRow, school_id: int, most: int) -> tuple[WrittenPaper, ...]:
    """Return papers that a run has not looked at, those of one variation together: 3 queries.

    Only numbers are sorted: documents are long, and the same for many papers.
    """
    seen = select(MarkingRunPaper.id).where(
        MarkingRunPaper.marking_run_id == run.run_id, MarkingRunPaper.attempt_id == Attempt.id
    )
    query = _papers(select(Attempt.id), school_id, run.slug, run.class_id)
    ids = session.scalars(
        query.where(~seen.exists())
        .order_by(ClassScenario.scenario_version_id, Attempt.seed, Attempt.id)
        .limit(most)
    ).all()
    rows = session.execute(
        select(
            Attempt.id,
            counting_result(Attempt.id),
            ClassScenario.scenario_version_id,
            Attempt.variation,
        )
        .join(ClassScenario, ClassScenario.id == Attempt.class_scenario_id)
        .where(Attempt.id.in_(ids))
        .order_by(ClassScenario.scenario_version_id, Attempt.seed, Attempt.id)
    ).all()
    versions = session.execute(
        select(ScenarioVersion.id, ScenarioVersion.document).where(
            ScenarioVersion.id.in_({version_id for _, _, version_id, _ in rows})
        )
    )
    documents = {row.id: row.document for row in versions}
    return tuple(
        WrittenPaper(attempt_id, result_id, documents[version_id], variation)
        for attempt_id, result_id, version_id, variation in rows
    )


def results(session: Session, ids: Iterable[int]) -> dict[int, AttemptResult]:
    """Return markings by their ids: 1 query."""
    rows = session.scalars(select(AttemptResult).where(AttemptResult.id.in_(tuple(ids))))
    return {row.id: row for row in rows}


def machine_results(session: Session, attempt_ids: Iterable[int]) -> dict[int, AttemptResult]:
    """Return the newest marking by the solver of each of some attempts: 1 query."""
    rows = session.scalars(
        select(AttemptResult)
        .where(AttemptResult.attempt_id.in_(tuple(attempt_ids)), AttemptResult.kind.in_(MACHINE))
        .order_by(AttemptResult.number)
    )
    return {row.attempt_id: row for row in rows}


def run(session: Session, school_id: int, run_id: int) -> RunRow | None:
    """Return a run of a school: 1 query."""
    found = _runs(session, MarkingRun.school_id == school_id, MarkingRun.id == run_id)
    return found[0] if found else None


def runs(session: Session, school_id: int, class_id: int) -> tuple[RunRow, ...]:
    """Return the runs over a class, the newest first: 1 query."""
    return _runs(
        session, MarkingRun.school_id == school_id, MarkingRun.class_session_id == class_id
    )


def run_papers(session: Session, run_id: int, most: int) -> tuple[RunPaper, ...]:
    """Return the papers that a run would move or can't mark, at most so many: 1 query."""
    rows = session.execute(
        select(MarkingRunPaper, Person.name, ClassSession.title)
        .join(Attempt, Attempt.id == MarkingRunPaper.attempt_id)
        .join(Enrolment, Enrolment.id == Attempt.enrolment_id)
        .join(Person, Person.id == Enrolment.person_id)
        .join(ClassSession, ClassSession.id == Enrolment.class_session_id)
        .where(MarkingRunPaper.marking_run_id == run_id, MarkingRunPaper.is_moved)
        .order_by(ClassSession.id, Person.name, Attempt.id)
        .limit(most)
    )
    return tuple(
        RunPaper(
            row.attempt_id,
            student,
            title,
            Message.of(row.refusal) if row.refusal else None,
            tuple(tuple(move) for move in row.moves),
            row.outcome_before,
            row.outcome_after,
            row.marks_before,
            row.marks_after,
        )
        for row, student, title in rows
    )


def counts(session: Session, run_id: int) -> tuple[tuple[str, str, bool, int], ...]:
    """Return how many papers a run moves: outcome before and after, and if any mark: 1 query."""
    rows = session.execute(
        select(
            MarkingRunPaper.outcome_before,
            MarkingRunPaper.outcome_after,
            MarkingRunPaper.is_moved,
            func.count(),
        )
        .where(MarkingRunPaper.marking_run_id == run_id)
        .group_by(
            MarkingRunPaper.outcome_before,
            MarkingRunPaper.outcome_after,
            MarkingRunPaper.is_moved,
        )
    )
    return tuple((before, after, moved, n) for before, after, moved, n in rows)


def sheets(
    session: Session, run_id: int, after: int, most: int
) -> tuple[tuple[int, int, int, Mapping[str, Any] | None], ...]:
    """Return sheets of a run in order: row, attempt, its newest number, the sheet: 1 query."""
    newest = (
        select(func.max(AttemptResult.number))
        .where(AttemptResult.attempt_id == MarkingRunPaper.attempt_id)
        .scalar_subquery()
    )
    rows = session.execute(
        select(MarkingRunPaper.id, MarkingRunPaper.attempt_id, newest, MarkingRunPaper.sheet)
        .where(MarkingRunPaper.marking_run_id == run_id, MarkingRunPaper.id > after)
        .order_by(MarkingRunPaper.id)
        .limit(most)
    )
    return tuple((row_id, attempt_id, number, sheet) for row_id, attempt_id, number, sheet in rows)


def stale(session: Session, run_id: int) -> int:
    """Return how many papers of a run have other marks than it saw: 1 query."""
    return (
        session.scalar(
            select(func.count())
            .select_from(MarkingRunPaper)
            .join(Attempt, Attempt.id == MarkingRunPaper.attempt_id)
            .where(
                MarkingRunPaper.marking_run_id == run_id,
                MarkingRunPaper.attempt_result_id != counting_result(Attempt.id),
            )
        )
        or 0
    )


def _runs(session: Session, *where: ColumnElement[bool]) -> tuple[RunRow, ...]:
    done = (
        select(func.count())
        .where(MarkingRunPaper.marking_run_id == MarkingRun.id)
        .scalar_subquery()
    )
    starter = select(Person.name).where(Person.id == MarkingRun.started_by).scalar_subquery()
    confirmer = select(Person.name).where(Person.id == MarkingRun.confirmed_by).scalar_subquery()
    rows = session.execute(
        select(
            MarkingRun.id,
            MarkingRun.class_session_id,
            ScenarioVersion.id,
            ScenarioVersion.slug,
            ScenarioVersion.title,
            ScenarioVersion.number,
            MarkingRun.may_fall,
            MarkingRun.papers,
            done,
            starter,
            MarkingRun.started_at,
            confirmer,
            MarkingRun.confirmed_at,
        )
        .join(ScenarioVersion, ScenarioVersion.id == MarkingRun.scenario_version_id)
        .where(*where)
        .order_by(MarkingRun.id.desc())
    )
    return tuple(RunRow(*row) for row in rows)


def _papers(query: Select[Any], school_id: int, slug: str, class_id: int | None) -> Select[Any]:
    query = (
        query.select_from(Attempt)
        .join(ClassScenario, ClassScenario.id == Attempt.class_scenario_id)
        .join(ScenarioVersion, ScenarioVersion.id == ClassScenario.scenario_version_id)
        .where(
            Attempt.school_id == school_id,
            Attempt.status == "submitted",
            ScenarioVersion.slug == slug,
        )
    )
    if class_id is None:
        return query
    return query.where(ClassScenario.class_session_id == class_id)


def _newest(school_id: int) -> Any:
    return (
        select(ScenarioVersion.slug, func.max(ScenarioVersion.number).label("number"))
        .where(ScenarioVersion.school_id == school_id)
        .group_by(ScenarioVersion.slug)
        .subquery()
    )
