"""Secret addresses of calendars, whose school one opens, and what stands in it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session, aliased

from coursekit.store import tables
from coursekit.store.queries.schools import School, school_view


@dataclass(frozen=True)
class AddressRow:
    """An address without its secret: who made it when, and who ended it when."""

    id: int
    made_by: str
    made_at: datetime
    ended_by: str | None
    ended_at: datetime | None

    @property
    def is_open(self) -> bool:
        """Whether calendars still read it."""
        return self.ended_at is None


def addresses(session: Session, school_id: int, kind: str, latest: int) -> tuple[AddressRow, ...]:
    """Return the latest addresses of one kind, the newest first: 1 query."""
    maker, ender = aliased(tables.Person), aliased(tables.Person)
    rows = session.execute(
        select(tables.CalendarAddress, maker.name, ender.name)
        .join(maker, maker.id == tables.CalendarAddress.made_by)
        .outerjoin(ender, ender.id == tables.CalendarAddress.ended_by)
        .where(tables.CalendarAddress.school_id == school_id, tables.CalendarAddress.kind == kind)
        .order_by(tables.CalendarAddress.id.desc())
        .limit(latest)
    )
    return tuple(
        AddressRow(row.id, made_by, row.made_at, ended_by, row.ended_at)
        for row, made_by, ended_by in rows
    )


def open_address(school_id: int, kind: str) -> Select[tables.CalendarAddress]:
    """Return the statement that finds the address of a kind that is in use."""
    return select(tables.CalendarAddress).where(
        tables.CalendarAddress.school_id == school_id,
        tables.CalendarAddress.kind == kind,
        tables.CalendarAddress.ended_at.is_(None),
    )


def school_at(session: Session, kind: str, secret_hash: str) -> School | None:
    """Return the school whose calendar of a kind a secret opens: 1 query."""
    row = session.scalar(
        select(tables.School)
        .join(tables.CalendarAddress, tables.CalendarAddress.school_id == tables.School.id)
        .where(
            tables.CalendarAddress.kind == kind,
            tables.CalendarAddress.secret_hash == secret_hash,
            tables.CalendarAddress.ended_at.is_(None),
        )
    )
    return school_view(row) if row else None


@dataclass(frozen=True)
class SessionRow:
    """A class session as a calendar shows it: no name of a student."""

    id: int
    course: str
    title: str
    on: date
    status: str
    students: int


def sessions(session: Session, school_id: int, first: date, last: date) -> tuple[SessionRow, ...]:
    """Return the class sessions from one day to another, both included: 1 query."""
    students = (
        select(func.count())
        .where(tables.Enrolment.class_session_id == tables.ClassSession.id)
        .scalar_subquery()
    )
    rows = session.execute(
        select(
            tables.ClassSession.id,
            tables.Course.title,
            tables.ClassSession.title,
            tables.ClassSession.on,
            tables.ClassSession.status,
            students,
        )
        .join(tables.Course, tables.Course.id == tables.ClassSession.course_id)
        .where(
            tables.ClassSession.school_id == school_id,
            tables.ClassSession.on.between(first, last),
        )
        .order_by(tables.ClassSession.on, tables.ClassSession.id)
    )
    return tuple(SessionRow(*row) for row in rows)


def expiries(
    session: Session, school_id: int, first: date, last: date
) -> tuple[tuple[date, int], ...]:
    """Return each day on which certificates end, and how many: 1 query.

    What was replaced or withdrawn, or belongs to nobody any more, ends no more.
    """
    later = aliased(tables.Certificate)
    replaced = select(later.id).where(later.replaces_id == tables.Certificate.id).exists()
    withdrawn = (
        select(tables.CertificateAct.id)
        .where(
            tables.CertificateAct.certificate_id == tables.Certificate.id,
            tables.CertificateAct.act == "withdrawn",
        )
        .exists()
    )
    rows = session.execute(
        select(tables.Certificate.expires, func.count())
        .join(tables.Person, tables.Person.id == tables.Certificate.person_id)
        .where(
            tables.Certificate.school_id == school_id,
            tables.Certificate.expires.between(first, last),
            tables.Person.erased_at.is_(None),
            ~replaced,
            ~withdrawn,
        )
        .group_by(tables.Certificate.expires)
        .order_by(tables.Certificate.expires)
    )
    return tuple((on, count) for on, count in rows)
