"""Items whose labels were scanned, or whose marks were typed: where each is, and may it go."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from coursekit.services.actor import Actor, Role
from coursekit.services.counter import enough_for
from coursekit.store import queries
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.planning import Enough
from coursekit.wear.status import Status

__all__ = ["ScanDesk", "Scanned", "items_of_mark", "scan_desk"]

# One that was quarantined while it was out is still with its class.
_MAY_BE_OUT = (Status.OUT, Status.QUARANTINED)


@dataclass(frozen=True)
class Scanned:
    """One item, the class that it is out with, and whether it has enough left for another."""

    item: ItemRow
    out_with: tuple[int, str] | None
    enough: Enough | None


@dataclass(frozen=True)
class ScanDesk:
    """What was scanned, in that order, and the classes that kit may go out with."""

    classes: tuple[tuple[int, str], ...]
    scanned: tuple[Scanned, ...]


def items_of_mark(unit: Unit, actor: Actor, mark: str) -> tuple[int, ...]:
    """Return the item of a mark, typed in whatever case; several where only case parts them."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        return queries.kit.ids_of_mark(session, actor.school_id, " ".join(mark.split()))


def scan_desk(
    unit: Unit, actor: Actor, item_ids: Sequence[int], class_id: int | None, today: date
) -> ScanDesk:
    """Return some items of the school as they stand; an open class says what it plans for them.

    What is not the school's is left out.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        classes = queries.issues.open_classes(session, actor.school_id)
        rows = queries.kit.items_of_ids(session, actor.school_id, item_ids, today)
        with_class = queries.issues.classes_with(
            session, actor.school_id, [row.id for row in rows if row.status in _MAY_BE_OUT]
        )
        enough: Mapping[int, Enough] = {}
        if class_id is not None and class_id in dict(classes):
            enough = enough_for(session, actor.school_id, class_id, item_ids, today)
    scanned = tuple(
        Scanned(row, with_class.get(row.id), enough.get(row.id))
        for row in sorted(rows, key=lambda row: item_ids.index(row.id))
    )
    return ScanDesk(classes, scanned)
