"""Schools as they are shown."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.store import tables


@dataclass(frozen=True)
class School:
    """A school with the zone and locale of its people."""

    id: int
    name: str
    timezone: str
    locale: str

    def day_of(self, moment: datetime) -> date:
        """Return the date that the school's calendar shows at a moment.

        >>> from datetime import UTC
        >>> evening = datetime(2026, 6, 13, 20, tzinfo=UTC)
        >>> str(School(1, "Fernbank", "Pacific/Auckland", "en_NZ").day_of(evening))
        '2026-06-14'
        """
        return moment.astimezone(ZoneInfo(self.timezone)).date()


def school_view(row: tables.School) -> School:
    """Return a school's row as it is shown."""
    return School(row.id, row.name, row.timezone, row.locale)


def all_schools(session: Session) -> tuple[School, ...]:
    """Return every school by name: 1 query."""
    rows = session.scalars(select(tables.School).order_by(tables.School.name))
    return tuple(school_view(row) for row in rows)


def one_school(session: Session, school_id: int) -> School:
    """Return one school that is there: 1 query."""
    return school_view(session.get_one(tables.School, school_id))


def locked_school(session: Session, school_id: int) -> tables.School:
    """Return a school's row, locked: what must take turns in a school waits here, 1 query.

    SQLite's write transactions take turns already; the weaker lock of PostgreSQL
    lets rows that only point at the school pass.
    """
    return session.get_one(tables.School, school_id, with_for_update={"key_share": True})
