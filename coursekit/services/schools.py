"""Schools: the first visit sets one up with its first instructor."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import select, text
from sqlalchemy.orm import Session

from coursekit.services.accounts import NewPerson, insert_person, sign_in_key
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import Checks
from coursekit.services.errors import Refused
from coursekit.services.passwords import hashed
from coursekit.store import tables
from coursekit.store.queries.schools import School, all_schools, one_school
from coursekit.store.unit import Unit


@dataclass(frozen=True)
class NewSchool:
    """What the first visit asks for."""

    name: str
    timezone: str
    locale: str
    instructor_name: str
    sign_in_name: str
    password: str


def is_set_up(unit: Unit) -> bool:
    """Whether there is a school; until then the first visit sets one up."""
    with unit.read() as session:
        return _any_school(session)


def schools(unit: Unit) -> tuple[School, ...]:
    """Return all schools, for the sign-in form where there are several."""
    with unit.read() as session:
        return all_schools(session)


def school_of(unit: Unit, actor: Actor) -> School:
    """Return the actor's school."""
    with unit.read() as session:
        return one_school(session, actor.school_id)


def set_up_school(unit: Unit, new: NewSchool, now: datetime) -> Actor:
    """Make the first school and its first person: its head, who teaches and keeps the store too."""
    checked = _checked(new)
    password_hash = hashed(checked.password)
    with unit.write() as session:
        _only_once(session)
        return _add(session, checked, password_hash, now)


def add_school(unit: Unit, new: NewSchool, now: datetime) -> Actor:
    """Make another school on the same database; no page does this."""
    checked = _checked(new)
    password_hash = hashed(checked.password)
    with unit.write() as session:
        return _add(session, checked, password_hash, now)


def _add(session: Session, new: NewSchool, password_hash: str, now: datetime) -> Actor:
    school = tables.School(name=new.name, timezone=new.timezone, locale=new.locale, created_at=now)
    session.add(school)
    session.flush()
    roles = frozenset({Role.INSTRUCTOR, Role.STOREKEEPER, Role.HEAD})
    person = NewPerson(new.instructor_name, new.sign_in_name, new.password, roles)
    person_id = insert_person(session, school.id, person, password_hash, now)
    return Actor(person_id, school.id, roles)


def _checked(new: NewSchool) -> NewSchool:
    checks = Checks()
    sign_in_name = sign_in_key(checks.line("sign_in_name", new.sign_in_name))
    checked = NewSchool(
        name=checks.line("name", new.name),
        timezone=checks.timezone("timezone", new.timezone),
        locale=checks.locale("locale", new.locale),
        instructor_name=checks.line("instructor_name", new.instructor_name),
        sign_in_name=sign_in_name,
        password=checks.password("password", new.password, unlike=sign_in_name),
    )
    checks.done()
    return checked


def _only_once(session: Session) -> None:
    if session.get_bind().dialect.name == "postgresql":
        # Two first visits at once: there is no row yet that could be locked.
        session.execute(text("LOCK TABLE schools IN EXCLUSIVE MODE"))
    if _any_school(session):
        raise Refused("The school has been set up already", "Sign in instead")


def _any_school(session: Session) -> bool:
    return session.scalar(select(tables.School.id).limit(1)) is not None
