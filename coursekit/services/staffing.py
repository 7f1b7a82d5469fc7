"""Who of the staff may do what: roles, first passwords, and the end of somebody's time."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime

from sqlalchemy import delete
from sqlalchemy.orm import Session

from coursekit.services.accounts import check_roles, end_sign_ins
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound, Refused
from coursekit.services.passwords import hashed
from coursekit.store import queries, tables
from coursekit.store.queries.people import StaffRow
from coursekit.store.queries.schools import locked_school
from coursekit.store.unit import Unit


@dataclass(frozen=True)
class Roles:
    """The roles that somebody is to have from now on."""

    person_id: int
    roles: frozenset[Role]


@dataclass(frozen=True)
class FirstPassword:
    """A password that the head gives somebody, who then takes one of their own."""

    person_id: int
    password: str = field(repr=False)


def one_of_staff(unit: Unit, actor: Actor, person_id: int) -> StaffRow:
    """Return one of the actor's school who signs in with a name."""
    actor.require(Role.HEAD)
    with unit.read() as session:
        return _found(session, actor, person_id)


def change_roles(unit: Unit, actor: Actor, change: Roles) -> None:
    """Give somebody these roles and no others; what they did before stays as it is.

    Raises
    ------
    Refused
        If the school would be left without a head.
    Problems
        If no role of staff is named.
    """
    actor.require(Role.HEAD)
    checks = Checks()
    check_roles(checks, change.roles)
    checks.done()
    with unit.write() as session:
        locked_school(session, actor.school_id)
        row = _found(session, actor, change.person_id)
        if Role.HEAD not in change.roles:
            _keep_a_head(session, row, actor)
        session.execute(
            delete(tables.PersonRole).where(
                tables.PersonRole.school_id == actor.school_id,
                tables.PersonRole.person_id == row.id,
            )
        )
        session.add_all(
            tables.PersonRole(school_id=actor.school_id, person_id=row.id, role=role)
            for role in change.roles
        )


def give_password(unit: Unit, actor: Actor, first: FirstPassword, now: datetime) -> None:
    """Set somebody's password and end their sign-ins; who had left is let in again."""
    actor.require(Role.HEAD)
    row = one_of_staff(unit, actor, first.person_id)
    checks = Checks()
    checks.password("password", first.password, unlike=row.sign_in_name)
    checks.done()
    password_hash = hashed(first.password)
    with unit.write() as session:
        person = session.get_one(tables.Person, row.id)
        person.password_hash, person.ended_at = password_hash, None
        end_sign_ins(session, _as_actor(actor, row), now)


def end_person(unit: Unit, actor: Actor, person_id: int, now: datetime) -> None:
    """Let somebody sign in no more; their name and all that they recorded stays.

    Raises
    ------
    Refused
        If the school would be left without a head.
    """
    actor.require(Role.HEAD)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        row = _found(session, actor, person_id)
        _keep_a_head(session, row, actor)
        session.get_one(tables.Person, row.id).ended_at = row.ended_at or now
        end_sign_ins(session, _as_actor(actor, row), now)


def only_head(people: tuple[StaffRow, ...]) -> int | None:
    """Return the id of the one head of the school, None where it has several."""
    heads = [row.id for row in people if row.ended_at is None and Role.HEAD in row.roles]
    return heads[0] if len(heads) == 1 else None


def _found(session: Session, actor: Actor, person_id: int) -> StaffRow:
    for row in queries.people.staff(session, actor.school_id):
        if row.id == person_id:
            return row
    raise NotFound("person")


def _keep_a_head(session: Session, row: StaffRow, actor: Actor) -> None:
    if only_head(queries.people.staff(session, actor.school_id)) == row.id:
        raise Refused(f"{row.name} is the school's only head", "Make somebody else a head first")


def _as_actor(head: Actor, row: StaffRow) -> Actor:
    return Actor(row.id, head.school_id, frozenset(map(Role, row.roles)))
