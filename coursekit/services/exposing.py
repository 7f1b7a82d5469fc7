"""What an item was exposed to beside pulls: water, mud, heat, chemicals, the sun."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from sqlalchemy.orm import Session

from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound
from coursekit.services.pull_desk import kit_in_rig
from coursekit.store import queries
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind

__all__ = ["DOUBTFUL", "MOST_HOURS", "Exposed", "Exposure", "expose"]

# A year has fewer hours of sun anywhere: more is a slip of the keys.
MOST_HOURS = 5_000


class Exposed(StrEnum):
    """What an item was exposed to."""

    WET = "wet"
    MUD = "mud"
    SUN = "sun"
    HEAT = "heat"
    CHEMICAL = "chemical"


# What may weaken fibres without a sign, so textile is held: common practice, no source.
DOUBTFUL = (Exposed.HEAT, Exposed.CHEMICAL)


@dataclass(frozen=True)
class Exposure:
    """One exposure of an item; `told` says to what, `hours` how long it lay in the sun.

    `at` None means now.
    """

    item_id: int
    seen: int
    what: str
    told: str
    key: str
    hours: int | None = None
    at: datetime | None = None


def expose(unit: Unit, actor: Actor, exposure: Exposure, now: datetime) -> None:
    """Record an exposure; heat and chemicals put textile into quarantine.

    Raises
    ------
    Problems
        If it is not told what it was, for how long the sun shone, or its time lies ahead or
        before the item was there.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    new = _entry(exposure, now)
    with unit.write() as session:
        book = Book(session, actor, now)
        if book.has(new):
            return
        book.item(exposure.item_id, exposure.seen)
        is_textile = _is_textile(session, actor, exposure.item_id, book.today)
        follows = [_held(book, new, now)] if is_textile and exposure.what in DOUBTFUL else []
        book.write([new, *follows], {exposure.item_id: "at"})


def _entry(exposure: Exposure, now: datetime) -> NewEntry:
    checks = Checks()
    checks.key("key", exposure.key)
    what = checks.choice("what", exposure.what, tuple(Exposed))
    told = checks.text("told", exposure.told, needed=what in DOUBTFUL)
    _check_hours(checks, exposure)
    checks.happened("at", exposure.at, now)
    checks.done()
    hours = {"hours": exposure.hours} if exposure.hours is not None else {}
    return NewEntry(
        exposure.key,
        exposure.item_id,
        Kind.EXPOSURE,
        at=exposure.at,
        reason=told,
        detail={"condition": what, **hours},
    )


def _check_hours(checks: Checks, exposure: Exposure) -> None:
    hours, is_sun = exposure.hours, exposure.what == Exposed.SUN
    if is_sun and hours is None:
        checks.add("hours", "It is empty", "Write for how many hours it lay in the sun")
    elif not is_sun and hours is not None:
        checks.add("hours", "Hours are told of the sun alone", "Choose the sun, or leave it empty")
    elif hours is not None and not 0 < hours <= MOST_HOURS:
        checks.add("hours", f"It is not 1 to {MOST_HOURS} hours", "Look at the number")


def _is_textile(session: Session, actor: Actor, item_id: int, today: date) -> bool:
    row = queries.kit.item(session, actor.school_id, item_id, today)
    if row is None:
        raise NotFound("item")
    return kit_in_rig(row, row.type).is_textile


def _held(book: Book, new: NewEntry, now: datetime) -> NewEntry:
    at = book.holds_from(new.item_id, new.at or now)
    # Kept beside it, so that it is examined before it is released.
    detail = {"condition": new.detail["condition"]}
    return NewEntry(
        f"{new.key}/held", new.item_id, Kind.QUARANTINED, at=at, reason=new.reason, detail=detail
    )
