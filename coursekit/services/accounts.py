"""Signing in and out, and the people of a school.

A sign-in is a row on the server: ending the row ends the device's session,
whatever its cookie says.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from coursekit.services import tries
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import LONGEST_LINE, LONGEST_PASSWORD, Checks
from coursekit.services.errors import Refused, SignInFailed
from coursekit.services.passwords import hashed, matches, new_token, token_hash
from coursekit.store import queries, tables
from coursekit.store.queries.people import AccountRow, SignedInRow, StaffRow
from coursekit.store.queries.schools import School, locked_school
from coursekit.store.unit import Unit

# A field day is longer than an office day; nobody signs in twice in the mud.
SIGN_IN_LASTS = timedelta(hours=16)
IDLE_AFTER = timedelta(hours=8)
# How often a request writes down that a device was seen.
SEEN_EVERY = timedelta(minutes=10)


@dataclass(frozen=True)
class Person:
    """Who is signed in; a student's enrolment and class are named too."""

    actor: Actor
    name: str
    school: School
    enrolment_id: int | None
    class_id: int | None


@dataclass(frozen=True)
class Credentials:
    """What a sign-in brings; the school is needed only where names clash."""

    sign_in_name: str
    password: str = field(repr=False)
    school_id: int | None = None


@dataclass(frozen=True)
class SignedIn:
    """A new sign-in: the token goes to the device, and only its hash is kept."""

    token: str = field(repr=False)
    person: Person


@dataclass(frozen=True)
class NewPerson:
    """Somebody who is to sign in with a name and a password."""

    name: str
    sign_in_name: str
    password: str = field(repr=False)
    roles: frozenset[Role]


@dataclass(frozen=True)
class PasswordChange:
    """A new password, asked for on a device that stays signed in."""

    token: str = field(repr=False)
    old: str = field(repr=False)
    new: str = field(repr=False)


def sign_in(unit: Unit, credentials: Credentials, now: datetime) -> SignedIn:
    """Sign somebody in, or fail without saying whether the name is known."""
    key = f"account:{credentials.school_id or ''}:{sign_in_key(credentials.sign_in_name)}"
    tries.take(unit, key, tries.ACCOUNT, now)
    account = _account(unit, credentials)
    known = account.password_hash if account else None
    if not matches(credentials.password[:LONGEST_PASSWORD], known) or account is None:
        raise SignInFailed
    with unit.write() as session:
        tries.forget(session, key)
        token = open_sign_in(session, account, now)
    return SignedIn(token, signed_in_person(unit, token))


def person_of(unit: Unit, token: str, now: datetime) -> Person | None:
    """Return who holds a token; None once it expired, idled too long or was ended."""
    with unit.read() as session:
        row = queries.people.signed_in(session, token_hash(token))
    if row is None or now >= row.expires_at or now - row.seen_at > IDLE_AFTER:
        return None
    if now - row.seen_at > SEEN_EVERY:
        with unit.write() as session:
            session.get_one(tables.SignIn, row.sign_in_id).seen_at = now
    return _person(row)


def sign_out(unit: Unit, token: str, now: datetime) -> None:
    """End one device's sign-in; a token that is not known is out already."""
    with unit.write() as session:
        session.execute(
            update(tables.SignIn)
            .where(tables.SignIn.token_hash == token_hash(token), tables.SignIn.ended_at.is_(None))
            .values(ended_at=now)
        )


def sign_out_everywhere(unit: Unit, actor: Actor, now: datetime) -> int:
    """End every sign-in of the actor, this one too, and return how many there were."""
    with unit.write() as session:
        return end_sign_ins(session, actor, now)


def people(unit: Unit, actor: Actor) -> tuple[StaffRow, ...]:
    """Return who signs in with a name at the actor's school."""
    actor.require(Role.HEAD)
    with unit.read() as session:
        return queries.people.staff(session, actor.school_id)


def add_person(unit: Unit, actor: Actor, new: NewPerson, now: datetime) -> int:
    """Add somebody who signs in with a name, and return the person's id."""
    actor.require(Role.HEAD)
    checked = _checked(new)
    password_hash = hashed(checked.password)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        _refuse_taken(session, actor.school_id, checked.sign_in_name)
        return insert_person(session, actor.school_id, checked, password_hash, now)


def change_password(unit: Unit, actor: Actor, change: PasswordChange, now: datetime) -> None:
    """Change the actor's password and end every sign-in but the one that asked."""
    key = f"password:{actor.person_id}"
    tries.take(unit, key, tries.ACCOUNT, now)
    with unit.read() as session:
        person = session.get_one(tables.Person, actor.person_id)
        kept, sign_in_name = person.password_hash, person.sign_in_name or ""
    if not matches(change.old[:LONGEST_PASSWORD], kept):
        raise Refused("The old password is another", "Type the one that you signed in with")
    checks = Checks()
    checks.password("new", change.new, unlike=sign_in_name)
    checks.done()
    password_hash = hashed(change.new)
    with unit.write() as session:
        tries.forget(session, key)
        session.get_one(tables.Person, actor.person_id).password_hash = password_hash
        end_sign_ins(session, actor, now, but=token_hash(change.token))


def open_sign_in(session: Session, who: AccountRow | tables.Enrolment, now: datetime) -> str:
    """Add a sign-in to an account, or to a student's enrolment, and return its token."""
    token = new_token()
    session.add(
        tables.SignIn(
            school_id=who.school_id,
            person_id=who.person_id,
            enrolment_id=who.id if isinstance(who, tables.Enrolment) else None,
            token_hash=token_hash(token),
            created_at=now,
            seen_at=now,
            expires_at=now + SIGN_IN_LASTS,
        )
    )
    return token


def insert_person(
    session: Session, school_id: int, new: NewPerson, password_hash: str, now: datetime
) -> int:
    """Add a person with the roles and return the id."""
    person = tables.Person(
        school_id=school_id,
        name=new.name,
        sign_in_name=new.sign_in_name,
        password_hash=password_hash,
        created_at=now,
    )
    session.add(person)
    session.flush()
    session.add_all(
        tables.PersonRole(school_id=school_id, person_id=person.id, role=role) for role in new.roles
    )
    return person.id


def signed_in_person(unit: Unit, token: str) -> Person:
    """Return the person of a sign-in that has just been opened."""
    with unit.read() as session:
        row = queries.people.signed_in(session, token_hash(token))
    if row is None:
        raise SignInFailed
    return _person(row)


def sign_in_key(name: str) -> str:
    """Return a sign-in name as it is kept: a phone's capital letter makes no other name.

    >>> sign_in_key("  Mara  Quint ")
    'mara quint'
    """
    return " ".join(name.split()).casefold()[:LONGEST_LINE]


def check_roles(checks: Checks, roles: frozenset[Role]) -> None:
    """Note a problem where somebody who signs in with a name would have no role of staff."""
    if not roles or Role.STUDENT in roles:
        mend = "Choose at least one: instructor, storekeeper or head"
        checks.add("roles", "A role is missing", mend)


def _account(unit: Unit, credentials: Credentials) -> AccountRow | None:
    """Return the one account that is meant; none where the name fits several."""
    with unit.read() as session:
        name = sign_in_key(credentials.sign_in_name)
        found = queries.people.accounts(session, name, credentials.school_id)
    return found[0] if len(found) == 1 else None


def _person(row: SignedInRow) -> Person:
    roles = frozenset(Role(role) for role in row.roles)
    actor = Actor(row.person_id, row.school.id, roles)
    return Person(actor, row.name, row.school, row.enrolment_id, row.class_id)


def end_sign_ins(session: Session, who: Actor, now: datetime, but: str = "") -> int:
    """End every sign-in of a person, but for the one of a token; return how many ended."""
    ended = session.scalars(
        update(tables.SignIn)
        .where(
            tables.SignIn.school_id == who.school_id,
            tables.SignIn.person_id == who.person_id,
            tables.SignIn.ended_at.is_(None),
            tables.SignIn.token_hash != but,
        )
        .values(ended_at=now)
        .returning(tables.SignIn.id)
    )
    return len(ended.all())


def _checked(new: NewPerson) -> NewPerson:
    checks = Checks()
    sign_in_name = sign_in_key(checks.line("sign_in_name", new.sign_in_name))
    name = checks.line("name", new.name)
    password = checks.password("password", new.password, unlike=sign_in_name)
    check_roles(checks, new.roles)
    checks.done()
    return NewPerson(name, sign_in_name, password, new.roles)


def _refuse_taken(session: Session, school_id: int, sign_in_name: str) -> None:
    taken = select(tables.Person.id).where(
        tables.Person.school_id == school_id, tables.Person.sign_in_name == sign_in_name
    )
    if session.scalar(taken) is not None:
        checks = Checks()
        checks.add("sign_in_name", "Somebody has it already", "Choose another")
        checks.done()
