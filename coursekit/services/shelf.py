"""The store looked through: a page of its items, and how many stand where."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from coursekit.services.actor import Actor, Role
from coursekit.store import queries
from coursekit.store.queries.kit import ItemRow
from coursekit.store.queries.shelf import STANDS, Cursor, Group, Shelved, Sought, Stretch, Word
from coursekit.store.unit import Unit

__all__ = [
    "STANDS",
    "Cursor",
    "Group",
    "Looked",
    "Sought",
    "Stretch",
    "Word",
    "found_items",
    "look_through",
]

# So many items make a page that a phone can take.
PAGE = 60


@dataclass(frozen=True)
class Looked:
    """A page of the items that were looked for, and the whole store in groups."""

    page: Stretch
    groups: tuple[Group, ...]


def look_through(
    unit: Unit, actor: Actor, sought: Sought, cursor: Cursor | None, today: date
) -> Looked:
    """Return a page of the store, however large it is: 3 queries."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        types = queries.kit.types(session, actor.school_id)
        shelved = Shelved(actor.school_id, types, today)
        groups = shelved.groups(session, sought.words)
        return Looked(shelved.stretch(session, sought, cursor, PAGE), groups)


def found_items(unit: Unit, actor: Actor, sought: Sought, today: date) -> tuple[ItemRow, ...]:
    """Return every item that is looked for, by mark: 2 queries."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        types = queries.kit.types(session, actor.school_id)
        return Shelved(actor.school_id, types, today).all(session, sought)
