"""The life of kit items: quarantine, release, retire, correct, account for.

Counts are a prompt, never proof that an item is sound: inspection decides, and
the maker's rating and a competent person always win.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.services.actor import COMPETENT, Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.services.correcting import Correction, correct
from coursekit.services.errors import NotFound, Refused
from coursekit.services.forecasting import forecast_of, window
from coursekit.services.moves import Change, entry_of, record
from coursekit.store import queries, tables
from coursekit.store.queries.kit import ItemRow
from coursekit.store.queries.lives import WITNESS, LifeLine, RetiredItem, RetiredRow
from coursekit.store.unit import Unit
from coursekit.wear.counting import Ages, ages
from coursekit.wear.forecast import Forecast, Rate
from coursekit.wear.holds import hold_of
from coursekit.wear.ledger import Entry, Kind
from coursekit.wear.status import AWAY, Status

__all__ = [
    "Ages",
    "Change",
    "Correction",
    "ItemLife",
    "ItemRow",
    "LifeLine",
    "RetiredItem",
    "RetiredRow",
    "Retirement",
    "correct",
    "item_life",
    "items_of_ids",
    "list_items",
    "quarantine",
    "release",
    "retire",
    "retired_items",
    "retirement_count",
    "witnesses",
]


@dataclass(frozen=True)
class Retirement:
    """The end of an item: why, how it was destroyed, and who of the school saw it, by id."""

    item_id: int
    seen: int
    reason: str
    destroyed: str
    witness: int | None
    key: str


@dataclass(frozen=True)
class ItemLife:
    """One item with its whole ledger."""

    item: ItemRow
    ages: Ages
    lines: tuple[LifeLine, ...]
    rate: Rate
    forecast: Forecast | None


def list_items(unit: Unit, actor: Actor, today: date) -> tuple[ItemRow, ...]:
    """Return the school's kit with what is due on each item."""
    actor.require(*COMPETENT)
    with unit.read() as session:
        return queries.kit.items(session, actor.school_id, today)


def items_of_ids(
    unit: Unit, actor: Actor, item_ids: Iterable[int], today: date
) -> tuple[ItemRow, ...]:
    """Return some of the school's items with what is due on each, by mark."""
    actor.require(*COMPETENT)
    with unit.read() as session:
        return queries.kit.items_of_ids(session, actor.school_id, item_ids, today)


def item_life(unit: Unit, actor: Actor, item_id: int, today: date) -> ItemLife:
    """Return one item with its ledger, the count explained line by line."""
    actor.require(*COMPETENT)
    with unit.read() as session:
        item = queries.kit.item(session, actor.school_id, item_id, today)
        if item is None:
            raise NotFound("item")
        counting = item.type.policy.counting
        lines = queries.lives.life(session, actor.school_id, item_id, counting)
    since = window(item, today)
    rate = Rate(
        sum(line.counted is not None and line.day >= since for line in lines),
        max(1, (today - since).days),
    )
    told = None if item.status in AWAY else forecast_of(item, rate, today)
    return ItemLife(item, ages(item.made, item.counts, today), lines, rate, told)


def retirement_count(unit: Unit, actor: Actor) -> tuple[RetiredRow, ...]:
    """Return how many items retired, by kind and year, and why."""
    actor.require(*COMPETENT)
    with unit.read() as session:
        return queries.lives.retired(session, actor.school_id)


def retired_items(unit: Unit, actor: Actor, kind: str, year: int) -> tuple[RetiredItem, ...]:
    """Return the items that make a number of the retirement count."""
    actor.require(*COMPETENT)
    with unit.read() as session:
        return queries.lives.retired_items(session, actor.school_id, kind, year)


def quarantine(unit: Unit, actor: Actor, change: Change, now: datetime) -> None:
    """Take an item out of use until another competent person has looked at it."""
    actor.require(*Role)
    record(unit, actor, change, Kind.QUARANTINED, now)


def release(unit: Unit, actor: Actor, change: Change, now: datetime) -> None:
    """Put an item back into use: never by anyone who quarantined it since it was in use.

    What a pull quarantined, what failed an examination, was repaired, or was lost and is
    back passes a thorough examination first.
    """
    actor.require(*COMPETENT)
    new = entry_of(change, Kind.RELEASED)
    with unit.write() as session:
        book = Book(session, actor, now)
        if not book.has(new):
            book.item(change.item_id, change.seen)
            _require_releasable(session, actor, change.item_id)
            book.write([new])


def retire(unit: Unit, actor: Actor, retirement: Retirement, now: datetime) -> None:
    """Retire an item for good, or say how one that its last pull retired was destroyed."""
    actor.require(Role.STOREKEEPER)
    with unit.write() as session:
        book = Book(session, actor, now)
        book.item(retirement.item_id)
        new = _retired(retirement, queries.people.witnesses(session, actor.school_id))
        if not book.has(new):
            item = book.item(retirement.item_id, retirement.seen)
            _refuse_destroyed(session, item)
            book.write([new])


def witnesses(unit: Unit, actor: Actor) -> tuple[tuple[int, str], ...]:
    """Return who may have seen an item destroyed: staff and who sits in an open class."""
    actor.require(Role.STOREKEEPER)
    with unit.read() as session:
        return queries.people.witnesses(session, actor.school_id)


def _retired(retirement: Retirement, known: Iterable[tuple[int, str]]) -> NewEntry:
    checks = Checks()
    checks.key("key", retirement.key)
    reason = checks.text("reason", retirement.reason)
    detail = {
        "destroyed": checks.text("destroyed", retirement.destroyed),
        WITNESS: retirement.witness,
    }
    if retirement.witness not in dict(known):
        checks.add("witness", "Nobody of the school is chosen", "Choose who saw it destroyed")
    checks.done()
    return NewEntry(retirement.key, retirement.item_id, Kind.RETIRED, reason=reason, detail=detail)


def _require_releasable(session: Session, actor: Actor, item_id: int) -> None:
    """Refuse a release by anyone who holds the item, or before an examination that it needs."""
    ledger = queries.ledger.entries_of_items(session, actor.school_id, [item_id])[item_id]
    hold = hold_of(ledger)
    if str(actor.person_id) in hold.holders:
        raise Refused(
            "You put this item into quarantine yourself",
            "Let another competent person look at it and release it",
        )
    if hold.unexamined is not None:
        raise Refused(
            f"It has not passed a thorough examination since it {_met(hold.unexamined)}",
            "Examine it first, or retire it",
        )


# What has to be followed by an examination, as a sentence goes on.
_MET = {
    Kind.QUARANTINED: "was put into quarantine after a pull",
    Kind.INSPECTED: "failed its last one",
    Kind.REPAIRED: "was repaired",
    Kind.RECEIVED: "was lost and found again",
}


def _met(entry: Entry) -> str:
    return "was exposed to heat or a chemical" if entry.of_exposure else _MET[entry.kind]


def _refuse_destroyed(session: Session, item: tables.KitItem) -> None:
    if item.status != Status.RETIRED:
        return
    retirements = session.scalars(
        select(tables.LedgerEntry).where(
            tables.LedgerEntry.item_id == item.id, tables.LedgerEntry.kind == Kind.RETIRED.value
        )
    )
    if any("destroyed" in row.detail for row in retirements):
        raise Refused(
            "The item is retired, and how it was destroyed is recorded", "Nothing is left to do"
        )
