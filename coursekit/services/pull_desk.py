"""Where one pull is written: its record, an entry for each item, and what follows."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.services.actor import Actor
from coursekit.services.book import Book, NewEntry
from coursekit.services.errors import Conflict, NotFound, Refused
from coursekit.services.loads import Felt, KitInRig
from coursekit.store import queries, tables
from coursekit.store.queries.kit import ItemRow, TypeRow, as_spliced
from coursekit.store.queries.pulls import PullLine
from coursekit.store.queries.splices import repairs_of
from coursekit.wear.consequences import Carried, Consequence, consequences
from coursekit.wear.ledger import Ending, Kind, Origin, Pull, Size

DECLARED_SIZES = (Size.LIGHT, Size.HEAVY, Size.UNKNOWN)


@dataclass(frozen=True)
class RigPull:
    """A pull of a rig: one of the scenario's by name, or the rig that was really used.

    `items` maps every item of the rig to one of the school's; None says that it
    came from elsewhere.  `at` None means now.
    """

    class_id: int
    version_id: int
    rig: str | Mapping[str, Any]
    items: Mapping[str, int | None]
    ended: str
    key: str
    at: datetime | None = None


@dataclass(frozen=True)
class DeclaredPull:
    """A pull of one item, declared light or heavy by who saw it."""

    class_id: int
    item_id: int
    method: str
    size: str
    ended: str
    key: str
    at: datetime | None = None


@dataclass(frozen=True)
class PullReport:
    """What a pull did to the kit; `was_there` when it had been sent before."""

    pull_id: int
    lines: tuple[PullLine, ...]
    was_there: bool = False


class PullDesk:
    """Where one pull is written: the book, the class and the kit of the school."""

    def __init__(self, session: Session, actor: Actor, now: datetime) -> None:
        self._session = session
        self._actor = actor
        self._now = now
        self._book = Book(session, actor, now)

    def known(self, pull: RigPull | DeclaredPull) -> tables.PullRecord | None:
        """Return the pull that was sent with the same key; other content is a conflict."""
        record = self._session.scalar(
            select(tables.PullRecord).where(
                tables.PullRecord.school_id == self._actor.school_id,
                tables.PullRecord.key == pull.key,
            )
        )
        if record is not None and record.fingerprint != fingerprint(pull):
            raise Conflict("This pull was sent before with other content", "Open the form again")
        return record

    def kit_in_rig(self, items: Mapping[str, int | None]) -> dict[str, KitInRig | None]:
        """Return the school's item for each item of a rig."""
        ids = [item_id for item_id in items.values() if item_id is not None]
        found = self._kit(ids)
        return {
            name: None if item_id is None else found[item_id] for name, item_id in items.items()
        }

    def declared(self, pull: DeclaredPull) -> Felt:
        """Return a declared pull as its item felt it."""
        return _as_declared(pull, self._kit([pull.item_id])[pull.item_id])

    def add(
        self, pull: RigPull | DeclaredPull, method: str, cell_sha256: str | None = None
    ) -> tables.PullRecord:
        """Add the record of a pull, with the hash of the file that it was measured by."""
        record = tables.PullRecord(
            school_id=self._actor.school_id,
            class_session_id=self._class(pull.class_id).id,
            method=method,
            ended=pull.ended,
            at=pull.at or self._now,
            person_id=self._actor.person_id,
            key=pull.key,
            fingerprint=fingerprint(pull),
            recorded_at=self._now,
            cell_sha256=cell_sha256,
            **_what_was_pulled(pull),
        )
        self._session.add(record)
        self._session.flush()
        return record

    def write(
        self, record: tables.PullRecord, felt: list[Felt], fields: Mapping[int, str]
    ) -> PullReport:
        """Write the entries of a pull and what follows from it.

        `fields` names the field of the form that each item was chosen in, by its id.
        """
        self._book.write(self._entries(record, felt), fields)
        return self.report(record)

    def declare(self, pulls: Sequence[DeclaredPull]) -> list[NewEntry]:
        """Add the records of declared pulls, and return the entries to be written of them."""
        kit = self._kit([pull.item_id for pull in pulls]) if pulls else {}
        return [
            entry
            for pull in pulls
            for entry in self._entries(
                self.add(pull, pull.method), [_as_declared(pull, kit[pull.item_id])]
            )
        ]

    def _entries(self, record: tables.PullRecord, felt: Sequence[Felt]) -> list[NewEntry]:
        path = [
            Carried(str(one.kit.item_id), one.pull, one.kit.is_textile, one.kit.is_elastic)
            for one in felt
        ]
        follows = [
            NewEntry(
                f"{record.key}/{found.item}/{found.kind.value}",
                int(found.item),
                found.kind,
                at=self._takes_effect(record, found),
                reason=found.reason,
                class_id=record.class_session_id,
                pull_id=record.id,
            )
            for found in consequences(path)
        ]
        return [*(_entry(record, one) for one in felt), *follows]

    def _takes_effect(self, record: tables.PullRecord, found: Consequence) -> datetime:
        is_held = found.kind is Kind.QUARANTINED
        return self._book.holds_from(int(found.item), record.at) if is_held else record.at

    def report(self, record: tables.PullRecord, *, was_there: bool = False) -> PullReport:
        """Return what the pull did."""
        lines = queries.pulls.lines_of_pull(self._session, self._actor.school_id, record.id)
        return PullReport(record.id, lines, was_there)

    def _class(self, class_id: int) -> tables.ClassSession:
        group = self._session.get(tables.ClassSession, class_id)
        if group is None or group.school_id != self._actor.school_id:
            raise NotFound("class")
        if group.status == "draft":
            raise Refused("The class has not begun", "Open it before pulls are logged")
        return group

    def _kit(self, item_ids: list[int]) -> dict[int, KitInRig]:
        items = self._book.items(item_ids)
        types = {row.id: row for row in queries.kit.types(self._session, self._actor.school_id)}
        repairs = repairs_of(self._session, self._actor.school_id, item_ids)
        return {
            item_id: kit_in_rig(item, as_spliced(types[item.type_id], repairs.get(item_id)))
            for item_id, item in items.items()
        }


def chosen_in(pull: RigPull) -> dict[int, str]:
    """Return the field of the form for each item of the store that a rig pull names."""
    return {item_id: f"items.{name}" for name, item_id in pull.items.items() if item_id}


def kit_in_rig(item: tables.KitItem | ItemRow, kit_type: TypeRow) -> KitInRig:
    """Return an item of the school as a rig needs it."""
    return KitInRig(
        item_id=item.id,
        mark=item.mark,
        kind=kit_type.kind,
        material=kit_type.material,
        wll=kit_type.rating("wll"),
        mbs=kit_type.rating("mbs"),
        is_labelled=item.is_labelled,
        length=kit_type.metres,
    )


def _as_declared(pull: DeclaredPull, kit: KitInRig) -> Felt:
    """Return a declared pull as its item felt it.

    Light and heavy are shares of the item's own limit; of an unknown load nothing is known.
    """
    size = Size(pull.size)
    limit = None if size is Size.UNKNOWN else kit.limit
    felt = Pull(pull.method, Ending(pull.ended), Origin.DECLARED, limit=limit, declared=size)
    return Felt(kit, felt)


def _entry(record: tables.PullRecord, felt: Felt) -> NewEntry:
    return NewEntry(
        f"{record.key}/{felt.kit.item_id}",
        felt.kit.item_id,
        Kind.PULL,
        at=record.at,
        pull=replace(felt.pull, method=record.method),
        class_id=record.class_session_id,
        pull_id=record.id,
        detail=felt.detail,
    )


def fingerprint(pull: RigPull | DeclaredPull) -> str:
    """Return the hash of what was sent, to tell a repeat from another pull."""
    text = json.dumps(
        {name: _plain(value) for name, value in vars(pull).items()},
        sort_keys=True,
        default=str,
    )
    return hashlib.sha256(text.encode()).hexdigest()


def _what_was_pulled(pull: RigPull | DeclaredPull) -> dict[str, Any]:
    if isinstance(pull, DeclaredPull):
        return {"scenario_version_id": None, "rig": None, "items": {}}
    rig = pull.rig if isinstance(pull.rig, str) else dict(pull.rig)
    return {"scenario_version_id": pull.version_id, "rig": rig, "items": dict(pull.items)}


def _plain(value: Any) -> Any:
    return dict(value) if isinstance(value, Mapping) else value
