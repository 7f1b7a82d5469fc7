"""Calendars that a phone subscribes to, each behind a secret address that can be changed.

A calendar program knows no sign-in, so the address is the key: 256 random bits, of which
only a hash is kept.  It tells no name of a student, because it lives on other people's
machines.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from sqlalchemy.orm import Session

from coursekit.services.actor import Actor, Role
from coursekit.services.errors import NotFound
from coursekit.services.passwords import new_token, token_hash
from coursekit.store import queries, tables
from coursekit.store.queries.calendars import AddressRow, SessionRow
from coursekit.store.queries.kit import ItemRow
from coursekit.store.queries.schools import School, locked_school
from coursekit.store.unit import Unit
from coursekit.wear.status import AWAY

__all__ = [
    "AddressRow",
    "Feed",
    "KitCalendar",
    "SchoolCalendar",
    "SessionRow",
    "addresses",
    "change_address",
    "end_address",
    "kit_calendar",
    "school_calendar",
]

# A calendar is looked at for what comes; what is over is kept a season for those who look back.
BACK = timedelta(days=120)
AHEAD = timedelta(days=730)
LATEST = 10
LONGEST_SECRET = 100


class Feed(StrEnum):
    """Which calendar an address opens."""

    CLASSES = "classes"
    KIT = "kit"


# Who makes and ends the address of each calendar.
KEEPERS = {
    Feed.CLASSES: (Role.INSTRUCTOR, Role.HEAD),
    Feed.KIT: (Role.STOREKEEPER, Role.INSTRUCTOR),
}


@dataclass(frozen=True)
class KitCalendar:
    """What stands in the calendar of the kit: each item that is kept, with what is due on it."""

    school: School
    today: date
    items: tuple[ItemRow, ...]


@dataclass(frozen=True)
class SchoolCalendar:
    """What stands in the calendar of classes: sessions, and how many certificates end when."""

    school: School
    sessions: tuple[SessionRow, ...]
    expiries: tuple[tuple[date, int], ...]


def addresses(unit: Unit, actor: Actor, feed: Feed) -> tuple[AddressRow, ...]:
    """Return the latest addresses of a calendar, the newest first; secrets are not kept."""
    actor.require(*KEEPERS[feed])
    with unit.read() as session:
        return queries.calendars.addresses(session, actor.school_id, feed, LATEST)


def change_address(unit: Unit, actor: Actor, feed: Feed, now: datetime) -> str:
    """Make a new address, end the one before, and return the secret: it is shown once."""
    actor.require(*KEEPERS[feed])
    secret = new_token()
    with unit.write() as session:
        locked_school(session, actor.school_id)
        _end(session, actor, feed, now)
        session.add(
            tables.CalendarAddress(
                school_id=actor.school_id,
                kind=feed.value,
                secret_hash=token_hash(secret),
                made_by=actor.person_id,
                made_at=now,
            )
        )
    return secret


def end_address(unit: Unit, actor: Actor, feed: Feed, now: datetime) -> None:
    """End the address of a calendar; whoever reads it finds nothing there any more."""
    actor.require(*KEEPERS[feed])
    with unit.write() as session:
        locked_school(session, actor.school_id)
        _end(session, actor, feed, now)


def school_calendar(unit: Unit, secret: str, now: datetime) -> SchoolCalendar:
    """Return what stands in the calendar of classes, for whoever has its address.

    Raises
    ------
    NotFound
        If the address is none, or was ended: the two are never told apart.
    """
    with unit.read() as session:
        school = _school_at(session, Feed.CLASSES, secret)
        today = school.day_of(now)
        days = (today - BACK, today + AHEAD)
        return SchoolCalendar(
            school,
            queries.calendars.sessions(session, school.id, *days),
            queries.calendars.expiries(session, school.id, *days),
        )


def kit_calendar(unit: Unit, secret: str, now: datetime) -> KitCalendar:
    """Return what stands in the calendar of the kit, for whoever has its address.

    Raises
    ------
    NotFound
        If the address is none, or was ended: the two are never told apart.
    """
    with unit.read() as session:
        school = _school_at(session, Feed.KIT, secret)
        today = school.day_of(now)
        items = queries.kit.items(session, school.id, today)
    kept = tuple(item for item in items if item.status not in AWAY)
    return KitCalendar(school, today, kept)


def _school_at(session: Session, feed: Feed, secret: str) -> School:
    hashed = token_hash(secret[:LONGEST_SECRET])
    school = queries.calendars.school_at(session, feed, hashed)
    if school is None:
        raise NotFound("calendar")
    return school


def _end(session: Session, actor: Actor, feed: Feed, now: datetime) -> None:
    for row in session.scalars(queries.calendars.open_address(actor.school_id, feed)):
        row.ended_at, row.ended_by = now, actor.person_id
    session.flush()
