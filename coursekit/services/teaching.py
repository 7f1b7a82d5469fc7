"""Teaching: courses, class sessions, what a class works on, opening and closing it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from coursekit.services.actor import Actor, Role
from coursekit.services.checks import Checks
from coursekit.services.errors import Conflict, NotFound, Refused
from coursekit.services.passwords import new_code
from coursekit.services.proofs import require_proven
from coursekit.store import queries, tables
from coursekit.store.queries.classes import ClassRow, CourseRow
from coursekit.store.queries.schools import locked_school
from coursekit.store.unit import Unit

__all__ = [
    "ClassRow",
    "CourseRow",
    "NewClass",
    "ScenarioChoice",
    "add_course",
    "choose_scenarios",
    "classes",
    "close_class",
    "courses",
    "create_class",
    "locked_class",
    "open_class",
]


@dataclass(frozen=True)
class NewClass:
    """A class on one local date; without a time zone it takes the school's."""

    course_id: int
    title: str
    on: date
    timezone: str | None = None


@dataclass(frozen=True)
class ScenarioChoice:
    """What a class is to work on, in order; `seen` is the version that the form showed."""

    class_id: int
    version_ids: tuple[int, ...]
    seen: int


def courses(unit: Unit, actor: Actor) -> tuple[CourseRow, ...]:
    """Return the school's courses."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        return queries.classes.courses(session, actor.school_id)


def add_course(unit: Unit, actor: Actor, title: str, now: datetime) -> int:
    """Add a course and return its id; one that has the title already is that course."""
    actor.require(Role.INSTRUCTOR)
    checks = Checks()
    title = checks.line("title", title)
    checks.done()
    with unit.write() as session:
        locked_school(session, actor.school_id)
        known = session.scalar(
            select(tables.Course.id).where(
                tables.Course.school_id == actor.school_id, tables.Course.title == title
            )
        )
        if known is not None:
            return known
        course = tables.Course(school_id=actor.school_id, title=title, created_at=now)
        session.add(course)
        session.flush()
        return course.id


def classes(unit: Unit, actor: Actor) -> tuple[ClassRow, ...]:
    """Return the school's classes, the newest first."""
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        return queries.classes.classes(session, actor.school_id)


def create_class(unit: Unit, actor: Actor, new: NewClass, now: datetime) -> int:
    """Make a draft of a class and return its id."""
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        school = locked_school(session, actor.school_id)
        checks = Checks()
        title = checks.line("title", new.title)
        timezone = checks.timezone("timezone", new.timezone or school.timezone)
        checks.done()
        _require_course(session, actor, new.course_id)
        group = tables.ClassSession(
            school_id=actor.school_id,
            course_id=new.course_id,
            title=title,
            on=new.on,
            timezone=timezone,
            status="draft",
            instructor_id=actor.person_id,
            created_at=now,
            version=1,
        )
        session.add(group)
        session.flush()
        return group.id


def choose_scenarios(unit: Unit, actor: Actor, choice: ScenarioChoice) -> None:
    """Set what a draft works on."""
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        group = locked_class(session, actor, choice.class_id)
        if group.version != choice.seen:
            raise Conflict("The class has changed since this form was opened")
        if group.status != "draft":
            raise Refused("The class has begun", "Make another class for other scenarios")
        chosen = tuple(dict.fromkeys(choice.version_ids))
        _require_versions(session, actor, chosen)
        _replace_scenarios(session, group, chosen)
        group.version += 1


def open_class(unit: Unit, actor: Actor, class_id: int, now: datetime) -> str:
    """Open a class to students and return its join code, which lives until it closes.

    Only proven scenarios are opened; they are proven before the write begins, so that
    nobody waits for the proof.
    """
    actor.require(Role.INSTRUCTOR)
    with unit.read() as session:
        proven = _documents(session, actor, class_id)
    require_proven(proven.values())
    with unit.write() as session:
        group = locked_class(session, actor, class_id)
        if _documents(session, actor, class_id).keys() != proven.keys():
            raise Conflict("The class has changed since this form was opened")
        if group.join_code is not None:
            return group.join_code
        if group.status == "closed":
            raise Refused("The class is over", "Make another class")
        if not _has_scenarios(session, class_id):
            raise Refused("The class has no scenario", "Choose at least one")
        code = _fresh_code(session)
        group.status, group.join_code, group.opened_at = "open", code, now
        group.version += 1
        return code


def close_class(unit: Unit, actor: Actor, class_id: int, now: datetime) -> None:
    """Close a class; its code dies, and what was not handed in stays so."""
    actor.require(Role.INSTRUCTOR)
    with unit.write() as session:
        group = locked_class(session, actor, class_id)
        if group.status == "draft":
            raise Refused("The class has not begun", "Open it first")
        if group.status == "open":
            group.status, group.closed_at = "closed", now
            group.join_code = None
            group.version += 1


def locked_class(session: Session, actor: Actor, class_id: int) -> tables.ClassSession:
    """Return a class of the actor's school, locked until the transaction ends."""
    group = session.get(tables.ClassSession, class_id, with_for_update=True)
    if group is None or group.school_id != actor.school_id:
        raise NotFound("class")
    return group


def _require_course(session: Session, actor: Actor, course_id: int) -> None:
    course = session.get(tables.Course, course_id)
    if course is None or course.school_id != actor.school_id:
        raise NotFound("course")


def _require_versions(session: Session, actor: Actor, version_ids: tuple[int, ...]) -> None:
    found = session.scalars(
        select(tables.ScenarioVersion.id).where(
            tables.ScenarioVersion.school_id == actor.school_id,
            tables.ScenarioVersion.id.in_(version_ids),
        )
    )
    if set(found) != set(version_ids):
        raise NotFound("scenario")


def _replace_scenarios(
    session: Session, group: tables.ClassSession, version_ids: tuple[int, ...]
) -> None:
    session.execute(
        delete(tables.ClassScenario).where(tables.ClassScenario.class_session_id == group.id)
    )
    session.add_all(
        tables.ClassScenario(
            school_id=group.school_id,
            class_session_id=group.id,
            scenario_version_id=version_id,
            position=position,
        )
        for position, version_id in enumerate(version_ids, start=1)
    )


def _documents(session: Session, actor: Actor, class_id: int) -> dict[int, str]:
    """Return the stored scenarios of a class of the actor's school, by version."""
    chosen, versions = tables.ClassScenario, tables.ScenarioVersion
    rows = session.execute(
        select(versions.id, versions.document)
        .join(chosen, chosen.scenario_version_id == versions.id)
        .where(chosen.class_session_id == class_id, versions.school_id == actor.school_id)
    )
    return {row.id: row.document for row in rows}


def _has_scenarios(session: Session, class_id: int) -> bool:
    held = select(tables.ClassScenario.id).where(tables.ClassScenario.class_session_id == class_id)
    return session.scalar(held.limit(1)) is not None


def _fresh_code(session: Session) -> str:
    """Return a code that no open class has; one in 2^40 would meet another."""
    while True:
        code = new_code()
        taken = select(tables.ClassSession.id).where(tables.ClassSession.join_code == code)
        if session.scalar(taken) is None:
            return code
