"""Joining a class with its code, and coming back to it with one's own.

A join code dies with its class.  The return code of a class card does not: with
it a student reads marks and practises on when the class is closed, and what an
open class allows is refused where it is asked for, as to everybody.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from coursekit.services import tries
from coursekit.services.accounts import Person, open_sign_in, signed_in_person
from coursekit.services.actor import Role
from coursekit.services.checks import Checks
from coursekit.services.errors import Refused, ReturnFailed
from coursekit.services.passwords import code_as_typed, hashed, matches, new_code
from coursekit.store import tables
from coursekit.store.unit import Unit

# The first letters find the card's row and are no secret; those after them are, 40 bits,
# and a minute's wait between guesses makes half of these a million years.
RETURN_TAG_LENGTH = 4
RETURN_CODE_LENGTH = RETURN_TAG_LENGTH + 8
LONGEST_CODE = 40


@dataclass(frozen=True)
class Join:
    """What somebody types to join; `client` is where it comes from, to slow guessing down."""

    code: str
    name: str
    client: str = ""


@dataclass(frozen=True)
class Return:
    """What somebody types to come back on this device or another.

    The join code `code` is needed only with the short return code of an older card.
    """

    code: str
    name: str
    return_code: str = field(repr=False)
    client: str = ""


@dataclass(frozen=True)
class Joined:
    """A student's new sign-in; the return code is shown once, and only its hash kept."""

    token: str = field(repr=False)
    return_code: str = field(repr=False)
    person: Person


@dataclass(frozen=True)
class ClassBrief:
    """What a code leads to, before a name is given."""

    class_id: int
    title: str
    course: str
    school: str


def class_of_code(unit: Unit, code: str, now: datetime, client: str = "") -> ClassBrief:
    """Return the class that a code leads to; wrong and dead codes are refused alike."""
    tries.take(unit, _client_key(client), tries.ADDRESS, now)
    with unit.read() as session:
        group = _require_open(session.scalar(_open_class(code)))
        course = session.get_one(tables.Course, group.course_id)
        school = session.get_one(tables.School, group.school_id)
        brief = ClassBrief(group.id, group.title, course.title, school.name)
    with unit.write() as session:
        tries.forget(session, _client_key(client))
    return brief


def join_class(unit: Unit, join: Join, now: datetime) -> Joined:
    """Let a student into an open class under a name that nobody has there yet."""
    name = _name(join.name)
    tries.take(unit, _client_key(join.client), tries.ADDRESS, now)
    return_code = new_code(RETURN_CODE_LENGTH)
    card = (return_code[:RETURN_TAG_LENGTH], hashed(return_code))
    with unit.write() as session:
        group = _require_open(session.scalar(_open_class(join.code).with_for_update()))
        tries.forget(session, _client_key(join.client))
        _refuse_taken(session, group, name)
        enrolment = _enrol(session, group, name, card, now)
        token = open_sign_in(session, enrolment, now)
    return Joined(token, return_code, signed_in_person(unit, token))


def return_to_class(unit: Unit, again: Return, now: datetime) -> Joined:
    """Let a student in again, after the class too; what was answered is still there."""
    name = _name(again.name)
    tries.take(unit, _client_key(again.client), tries.ADDRESS, now)
    typed = code_as_typed(again.return_code[:LONGEST_CODE])
    with unit.read() as session:
        key, enrolments = _cards(session, again.code, name, typed)
    tries.take(unit, key, tries.ACCOUNT, now)
    enrolment = _matching(enrolments, typed)
    if enrolment is None:
        raise ReturnFailed
    with unit.write() as session:
        tries.forget(session, key)
        tries.forget(session, _client_key(again.client))
        token = open_sign_in(session, enrolment, now)
    return Joined(token, "", signed_in_person(unit, token))


def name_key(name: str) -> str:
    """Return what makes two names the same in a class.

    >>> name_key("Ana  Lim") == name_key("ana lim")
    True
    """
    return " ".join(name.split()).casefold()


def _cards(
    session: Session, code: str, name: str, return_code: str
) -> tuple[str, Sequence[tables.Enrolment]]:
    """Return whose card it may be, and the key that guesses at it are counted under."""
    if len(return_code) == RETURN_CODE_LENGTH:
        tag = return_code[:RETURN_TAG_LENGTH]
        of_tag = select(tables.Enrolment).where(
            tables.Enrolment.return_tag == tag, tables.Enrolment.name_key == name_key(name)
        )
        return f"return:{tag}", session.scalars(of_tag).all()
    if not code.strip():
        raise ReturnFailed
    group = _require_open(session.scalar(_open_class(code)))
    found = _enrolment(session, group, name)
    return f"return:{group.id}:{name_key(name)}", [found] if found else []


def _matching(enrolments: Sequence[tables.Enrolment], return_code: str) -> tables.Enrolment | None:
    """Return the one whose code it is; where there is none, a hash is checked all the same."""
    for enrolment in enrolments:
        if matches(return_code, enrolment.return_code_hash):
            return enrolment
    if not enrolments:
        matches(return_code, None)
    return None


def _client_key(client: str) -> str:
    return f"join:{client[:64]}"


def _name(name: str) -> str:
    checks = Checks()
    checked = checks.line("name", name)
    checks.done()
    return checked


def _open_class(code: str) -> Select[tables.ClassSession]:
    typed = code_as_typed(code[:LONGEST_CODE])
    return select(tables.ClassSession).where(
        tables.ClassSession.join_code == typed, tables.ClassSession.status == "open"
    )


def _require_open(group: tables.ClassSession | None) -> tables.ClassSession:
    if group is None:
        raise Refused(
            "This code opens no class now", "Read it again, or ask whether the class is open"
        )
    return group


def _enrolment(session: Session, group: tables.ClassSession, name: str) -> tables.Enrolment | None:
    return session.scalar(
        select(tables.Enrolment).where(
            tables.Enrolment.class_session_id == group.id,
            tables.Enrolment.name_key == name_key(name),
        )
    )


def _refuse_taken(session: Session, group: tables.ClassSession, name: str) -> None:
    if _enrolment(session, group, name) is not None:
        checks = Checks()
        checks.add(
            "name",
            "Somebody of this name is in the class",
            "If it is you, come back with your return code; else add a letter",
        )
        checks.done()


def _enrol(
    session: Session, group: tables.ClassSession, name: str, card: tuple[str, str], now: datetime
) -> tables.Enrolment:
    person = tables.Person(school_id=group.school_id, name=name, created_at=now)
    session.add(person)
    session.flush()
    role = tables.PersonRole(
        school_id=group.school_id, person_id=person.id, role=Role.STUDENT.value
    )
    enrolment = tables.Enrolment(
        school_id=group.school_id,
        class_session_id=group.id,
        person_id=person.id,
        name_key=name_key(name),
        return_tag=card[0],
        return_code_hash=card[1],
        joined_at=now,
    )
    session.add_all([role, enrolment])
    session.flush()
    return enrolment
