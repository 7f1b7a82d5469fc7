"""What the school keeps about one person: told to them, given out, and for whom it is past."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.assessment.validity import expiry
from coursekit.files.personal_archive import ArchiveTable, personal_archive
from coursekit.services.actor import Actor, Role
from coursekit.services.errors import NotFound
from coursekit.store import queries, tables
from coursekit.store.queries.schools import one_school
from coursekit.store.unit import Unit

# What the README says; the law's own words (purposes, recipients, period, source) first.
README = """\
What {school} keeps about {name}

Made on {made} by coursekit, for the person it is about.

Purposes   Teaching and assessing vehicle recovery: to mark answers, to issue and prove
           records of assessment, to plan practice, and to know who used which gear.
Recipients Instructors and the head of the school. A certificate's code shows what the
           certificate states to whoever has it. Nobody else.
Period     Names are kept {months} months after the last class, then they are taken out.
           What must stay (gear ledger, statistics, records) stays without a name.
Source     Typed by you, or recorded by the school's staff and by the marking.

data.json  everything, table by table. "about": rows about you, whole. "named_in": rows about
           somebody or something else that name you: their id, their times, nothing more.
*.csv      the rows about you, one file a table, for a spreadsheet.

Passwords, return codes and sign-ins are kept as hashes only and are not given out.
You may ask the school to correct what is wrong, and to erase your name.
"""
LONGEST_SEARCH = 120
MOST_FOUND = 100
SHORTEST_MONTH = 28


@dataclass(frozen=True)
class Subject:
    """Somebody whose data the school keeps."""

    id: int
    name: str
    is_staff: bool
    erased_at: datetime | None


@dataclass(frozen=True)
class PastPeriod:
    """A student whose name is kept longer than the school says, and the last class."""

    id: int
    name: str
    last_class: date


@dataclass(frozen=True)
class Retention:
    """The school's periods, in months: whose names are past, and which records without one."""

    months: int
    past: tuple[PastPeriod, ...]
    records_months: int
    past_records: tuple[int, ...]


def own_data(unit: Unit, actor: Actor, now: datetime) -> bytes:
    """Return the actor's own data as an archive."""
    with unit.read() as session:
        return _archive(session, actor.school_id, actor.person_id, now)


def data_of(unit: Unit, actor: Actor, person_id: int, now: datetime) -> bytes:
    """Return the data of anybody of the school, for its head to hand on."""
    actor.require(Role.HEAD)
    with unit.read() as session:
        return _archive(session, actor.school_id, person_id, now)


def subject(unit: Unit, actor: Actor, person_id: int) -> Subject:
    """Return one person of the school."""
    actor.require(Role.HEAD)
    with unit.read() as session:
        return _subject(subject_row(session, actor.school_id, person_id))


def subjects(unit: Unit, actor: Actor, name: str) -> tuple[Subject, ...]:
    """Return the people whose name holds a text, by name, `MOST_FOUND` at most."""
    actor.require(Role.HEAD)
    if not name.strip():
        return ()
    with unit.read() as session:
        rows = session.scalars(
            select(tables.Person)
            .where(
                tables.Person.school_id == actor.school_id,
                tables.Person.erased_at.is_(None),
                tables.Person.name.icontains(name.strip()[:LONGEST_SEARCH], autoescape=True),
            )
            .order_by(tables.Person.name, tables.Person.id)
            .limit(MOST_FOUND)
        ).all()
    return tuple(map(_subject, rows))


def retention(unit: Unit, actor: Actor, now: datetime) -> Retention:
    """Return whose names are past the school's period by now."""
    actor.require(Role.HEAD)
    with unit.read() as session:
        return retention_of(session, actor.school_id, now)


def retention_of(session: Session, school_id: int, now: datetime) -> Retention:
    """Return whose names and which records are past, on the school's own calendar."""
    policy = queries.policies.in_force(session, school_id).policy
    months = policy.names_months
    today = one_school(session, school_id).day_of(now)
    # No month is shorter: the query leaves out most, and the calendar decides.
    coarse = today - timedelta(days=SHORTEST_MONTH * months)
    nameless = today - timedelta(days=SHORTEST_MONTH * policy.records_months)
    found = queries.personal.newest_classes(session, school_id, coarse)
    past = (PastPeriod(*row) for row in found)
    return Retention(
        months,
        tuple(one for one in past if expiry(one.last_class, months) < today),
        policy.records_months,
        tuple(
            one.record_id
            for one in queries.records.without_a_name(session, school_id, nameless)
            if expiry(one.on, policy.records_months) < today
        ),
    )


def subject_row(session: Session, school_id: int, person_id: int) -> tables.Person:
    """Return the row of a person of the school."""
    row = session.get(tables.Person, person_id)
    if row is None or row.school_id != school_id:
        raise NotFound("person")
    return row


def _archive(session: Session, school_id: int, person_id: int, now: datetime) -> bytes:
    person, school = subject_row(session, school_id, person_id), one_school(session, school_id)
    found = queries.personal.tables_of(session, school_id, person_id)
    local = now.astimezone(ZoneInfo(school.timezone))
    readme = README.format(
        school=school.name,
        name=person.name,
        made=local.strftime("%Y-%m-%d %H:%M %Z"),
        months=queries.policies.in_force(session, school_id).policy.names_months,
    )
    rows = [ArchiveTable(one.name, one.columns, one.about, one.naming) for one in found]
    return personal_archive(rows, readme, local)


def _subject(row: tables.Person) -> Subject:
    return Subject(row.id, row.name, row.sign_in_name is not None, row.erased_at)
