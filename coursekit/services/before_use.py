"""The look before every use, by whoever holds the item: a student of the school too.

Of the store it tells this one item's mark and kind, and whether it is held back.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound
from coursekit.store import tables
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind
from coursekit.wear.status import Status

_IN_USE = (Status.IN_STORE, Status.OUT)


@dataclass(frozen=True)
class InHand:
    """An item as whoever holds it sees it."""

    id: int
    mark: str
    kind: str
    material: str | None
    is_held: bool


@dataclass(frozen=True)
class Doubt:
    """What is wrong with an item, or in doubt; a doubt is never too old to be heard."""

    item_id: int
    reason: str
    key: str


def in_hand(unit: Unit, actor: Actor, item_id: int) -> InHand:
    """Return an item of the school for the look before its use."""
    actor.require(*Role)
    with unit.read() as session:
        item = session.get(tables.KitItem, item_id)
        if item is None or item.school_id != actor.school_id:
            raise NotFound("item")
        kit_type = session.get_one(tables.KitType, item.type_id)
        is_held = item.status not in _IN_USE
        return InHand(item.id, item.mark, kit_type.kind, kit_type.material, is_held)


def hold_back(unit: Unit, actor: Actor, doubt: Doubt, now: datetime) -> None:
    """Put an item into quarantine until another competent person has looked at it."""
    actor.require(*Role)
    checks = Checks()
    checks.key("key", doubt.key)
    reason = checks.text("reason", doubt.reason)
    checks.done()
    new = NewEntry(doubt.key, doubt.item_id, Kind.QUARANTINED, reason=reason)
    with unit.write() as session:
        book = Book(session, actor, now)
        if not book.has(new):
            book.write([new])
