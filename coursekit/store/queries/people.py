"""People as they are shown, and who a token belongs to."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import Select, or_, select
from sqlalchemy.orm import Session

from coursekit.store import tables
from coursekit.store.queries.schools import School, school_view


@dataclass(frozen=True)
class StaffRow:
    """Somebody who signs in with a name and a password."""

    id: int
    name: str
    sign_in_name: str
    roles: tuple[str, ...]
    ended_at: datetime | None


@dataclass(frozen=True)
class SignedInRow:
    """A sign-in that has not ended, with all that a request needs to know."""

    sign_in_id: int
    person_id: int
    name: str
    roles: tuple[str, ...]
    school: School
    enrolment_id: int | None
    class_id: int | None
    seen_at: datetime
    expires_at: datetime


@dataclass(frozen=True)
class AccountRow:
    """What a sign-in is checked against."""

    person_id: int
    school_id: int
    password_hash: str


def staff(session: Session, school_id: int) -> tuple[StaffRow, ...]:
    """Return everybody of a school who signs in with a name: 2 queries."""
    people = session.scalars(
        select(tables.Person)
        .where(tables.Person.school_id == school_id, tables.Person.sign_in_name.is_not(None))
        .order_by(tables.Person.name)
    ).all()
    roles = session.execute(
        select(tables.PersonRole.person_id, tables.PersonRole.role)
        .where(tables.PersonRole.school_id == school_id)
        .order_by(tables.PersonRole.role)
    ).all()
    return tuple(
        StaffRow(
            person.id,
            person.name,
            person.sign_in_name or "",
            tuple(role for who, role in roles if who == person.id),
            person.ended_at,
        )
        for person in people
    )


def witnesses(session: Session, school_id: int) -> tuple[tuple[int, str], ...]:
    """Return who of a school may have seen something, by name: 1 query.

    They are its staff, and who sits in an open class.
    """
    person = tables.Person
    in_class = (
        select(tables.Enrolment.person_id)
        .join(tables.ClassSession, tables.ClassSession.id == tables.Enrolment.class_session_id)
        .where(tables.ClassSession.school_id == school_id, tables.ClassSession.status == "open")
    )
    rows = session.execute(
        select(person.id, person.name)
        .where(
            person.school_id == school_id,
            person.ended_at.is_(None),
            or_(person.sign_in_name.is_not(None), person.id.in_(in_class)),
        )
        .order_by(person.name, person.id)
    )
    return tuple((person_id, name) for person_id, name in rows)


def accounts(session: Session, sign_in_name: str, school_id: int | None) -> list[AccountRow]:
    """Return the accounts of a sign-in name, in one school or in all: 1 query."""
    query = select(tables.Person).where(
        tables.Person.sign_in_name == sign_in_name,
        tables.Person.password_hash.is_not(None),
        tables.Person.ended_at.is_(None),
    )
    if school_id is not None:
        query = query.where(tables.Person.school_id == school_id)
    return [
        AccountRow(person.id, person.school_id, person.password_hash or "")
        for person in session.scalars(query)
    ]


def signed_in(session: Session, token_hash: str) -> SignedInRow | None:
    """Return the sign-in of a token unless it has ended: 1 query."""
    rows = session.execute(_signed_in(token_hash)).all()
    if not rows:
        return None
    sign_in, person, school, class_id, _ = rows[0]
    return SignedInRow(
        sign_in_id=sign_in.id,
        person_id=person.id,
        name=person.name,
        roles=tuple(row[-1] for row in rows),
        school=school_view(school),
        enrolment_id=sign_in.enrolment_id,
        class_id=class_id,
        seen_at=sign_in.seen_at,
        expires_at=sign_in.expires_at,
    )


def _signed_in(
    token_hash: str,
) -> Select[tables.SignIn, tables.Person, tables.School, int | None, str]:
    return (
        select(
            tables.SignIn,
            tables.Person,
            tables.School,
            tables.Enrolment.class_session_id,
            tables.PersonRole.role,
        )
        .join(tables.Person, tables.Person.id == tables.SignIn.person_id)
        .join(tables.School, tables.School.id == tables.SignIn.school_id)
        .join(tables.PersonRole, tables.PersonRole.person_id == tables.Person.id)
        .outerjoin(tables.Enrolment, tables.Enrolment.id == tables.SignIn.enrolment_id)
        .where(
            tables.SignIn.token_hash == token_hash,
            tables.SignIn.ended_at.is_(None),
            tables.Person.ended_at.is_(None),
        )
    )
