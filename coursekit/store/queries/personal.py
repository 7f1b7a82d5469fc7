"""Every row that is about a person or names them, found by the keys of the tables.

A row is about a person where it is theirs (`OWN`), or hangs on such a row.  Any other row
that points at them only names them: it may be about somebody else, so of that one nothing
is given but its id, its times and the columns that name.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from sqlalchemy import Column, ForeignKeyConstraint, Table, func, or_, select
from sqlalchemy.orm import Session

from coursekit.store.queries.lives import WITNESS
from coursekit.store.tables import Base, ClassSession, Enrolment, Person

PEOPLE = "people"
# Table and column that say whose a row is.
OWN = {
    "people": "id",
    "person_roles": "person_id",
    "sign_ins": "person_id",
    "enrolments": "person_id",
    "practice_skills": "person_id",
    "practice_questions": "person_id",
    "scenario_drafts": "person_id",
    "assessment_records": "person_id",
    "certificates": "person_id",
    "review_requests": "asked_by",
}
# What hangs on these is about the same person.
OWNERS = frozenset(
    {
        "enrolments",
        "attempts",
        "attempt_results",
        "review_requests",
        "assessment_records",
        "certificates",
    }
)
# Column and key of what names a person by id inside a document.
NAMED_IN = {"ledger_entries": ("detail", WITNESS)}
SECRETS = frozenset({"password_hash", "return_code_hash", "return_tag", "token_hash"})
# It stands in place of one.
SECRET = "(kept as a secret)"  # noqa: S105  # nosec B105


@dataclass(frozen=True)
class PersonalTable:
    """The rows of one table: whole where they are about the person, else what names them."""

    name: str
    columns: tuple[str, ...]
    about: tuple[Mapping[str, Any], ...]
    naming: tuple[Mapping[str, Any], ...]


def tables_of(session: Session, school_id: int, person_id: int) -> tuple[PersonalTable, ...]:
    """Return every row of a person, table by table: 2 queries a table at most."""
    owned: dict[str, set[int]] = {}
    found = []
    for table in Base.metadata.sorted_tables:
        about = _about(session, table, (school_id, person_id), owned)
        naming = _naming(session, table, (school_id, person_id), about)
        if table.name in OWNERS:
            owned[table.name] = {row["id"] for row in about}
        if about or naming:
            columns = tuple(column.name for column in table.columns)
            found.append(PersonalTable(table.name, columns, about, naming))
    return tuple(found)


def _about(
    session: Session, table: Table, who: tuple[int, int], owned: Mapping[str, set[int]]
) -> tuple[Mapping[str, Any], ...]:
    school_id, person_id = who
    wanted = [table.c[OWN[table.name]] == person_id] if table.name in OWN else []
    wanted += [
        column.in_(owned[pointed])
        for pointed, column in _keys(table)
        if owned.get(pointed) and pointed != table.name
    ]
    if not wanted:
        return ()
    rows = session.execute(
        select(table)
        .where(table.c.school_id == school_id, or_(*wanted))
        .order_by(*table.primary_key)
    ).mappings()
    return tuple({name: _shown(name, value) for name, value in row.items()} for row in rows)


def _naming(
    session: Session, table: Table, who: tuple[int, int], about: Iterable[Mapping[str, Any]]
) -> tuple[Mapping[str, Any], ...]:
    school_id, person_id = who
    naming = [column for pointed, column in _keys(table) if pointed == PEOPLE]
    if not naming or "id" not in table.c:
        return ()
    wanted = [column == person_id for column in naming]
    if table.name in NAMED_IN:
        document, key = NAMED_IN[table.name]
        wanted.append(table.c[document][key].as_integer() == person_id)
    rows = session.execute(
        select(table).where(table.c.school_id == school_id, or_(*wanted)).order_by(table.c.id)
    ).mappings()
    known = {row["id"] for row in about}
    kept = {"id", *(column.name for column in naming)}
    return tuple(
        {
            name: value
            for name, value in row.items()
            if (name in kept and value in (row["id"], person_id))
            or isinstance(value, date | datetime)
        }
        for row in rows
        if row["id"] not in known
    )


def _keys(table: Table) -> Iterator[tuple[str, Column[Any]]]:
    """Yield each column of a table that points at a row of the school, and at which table."""
    for constraint in table.constraints:
        if isinstance(constraint, ForeignKeyConstraint):
            *_, column = constraint.columns
            if column.name != "school_id":
                yield constraint.referred_table.name, column


def _shown(name: str, value: Any) -> Any:
    return SECRET if name in SECRETS and value is not None else value


def newest_classes(
    session: Session, school_id: int, before: date
) -> tuple[tuple[int, str, date], ...]:
    """Return students whose newest class was before a day, the oldest first: 1 query."""
    newest = func.max(ClassSession.on)
    rows = session.execute(
        select(Person.id, Person.name, newest)
        .join(Enrolment, Enrolment.person_id == Person.id)
        .join(ClassSession, ClassSession.id == Enrolment.class_session_id)
        .where(Person.school_id == school_id, Person.erased_at.is_(None))
        .group_by(Person.id, Person.name)
        .having(newest < before)
        .order_by(newest, Person.id)
    )
    return tuple((id_, name, on) for id_, name, on in rows)
