"""Correcting the ledger: an entry that was wrong is reversed, and both stay to be seen.

It is no way round a release: nobody reverses a quarantine of their own, and what a pull or
an examination brought goes only with its cause.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound, Refused
from coursekit.services.inspecting import FAILED
from coursekit.store import tables
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind

__all__ = ["Correction", "correct"]

_HELD = (Kind.QUARANTINED, Kind.RETIRED)


@dataclass(frozen=True)
class Correction:
    """An entry that is to be reversed, with the reason."""

    entry_id: int
    reason: str
    key: str


def correct(unit: Unit, actor: Actor, correction: Correction, now: datetime) -> None:
    """Reverse an entry, and what it brought on the item by itself.

    Raises
    ------
    Refused
        If the entry is a quarantine of the actor's own or their own failed examination,
        what a pull or an examination brought that still stands, is final, or was
        reversed before.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    checks = Checks()
    checks.key("key", correction.key)
    reason = checks.text("reason", correction.reason)
    checks.done()
    with unit.write() as session:
        book = Book(session, actor, now)
        wrong = _entry_row(session, actor, correction.entry_id)
        rows = _with_consequences(session, wrong)
        entries = [
            NewEntry(
                f"{correction.key}/{row.id}",
                row.item_id,
                Kind.CORRECTION,
                reverses_key=row.key,
                reason=reason,
            )
            for row in rows
        ]
        if not book.has(entries[0]):
            _require_correctable(session, wrong)
            _require_cause_wrong(session, wrong)
            _require_another(actor, rows)
            book.write(entries)


def _entry_row(session: Session, actor: Actor, entry_id: int) -> tables.LedgerEntry:
    row = session.get(tables.LedgerEntry, entry_id)
    if row is None or row.school_id != actor.school_id:
        raise NotFound("entry")
    return row


def _with_consequences(session: Session, wrong: tables.LedgerEntry) -> list[tables.LedgerEntry]:
    """Return a wrong entry with what it brought on the same item by itself, as far as it stands."""
    row = tables.LedgerEntry
    if wrong.kind == Kind.PULL and wrong.pull_id is not None:
        follows = row.pull_id == wrong.pull_id
    elif wrong.kind == Kind.INSPECTED:
        follows = row.key == wrong.key + FAILED
    else:
        return [wrong]
    rows = session.scalars(
        select(row)
        .where(
            row.school_id == wrong.school_id,
            row.item_id == wrong.item_id,
            or_(follows, row.id == wrong.id),
        )
        .order_by(row.seq)
    )
    return [one for one in rows if one.id == wrong.id or not _is_reversed(session, one)]


def _is_reversed(session: Session, row: tables.LedgerEntry) -> bool:
    found = session.scalar(
        select(tables.LedgerEntry.id).where(
            tables.LedgerEntry.school_id == row.school_id,
            tables.LedgerEntry.reverses_key == row.key,
        )
    )
    return found is not None


def _require_correctable(session: Session, wrong: tables.LedgerEntry) -> None:
    if _is_reversed(session, wrong):
        raise Refused("This entry was reversed already", "Enter what really happened")
    if wrong.kind in (Kind.RECEIVED, Kind.CORRECTION):
        raise Refused("Such an entry is never reversed", "Enter what really happened")
    if wrong.kind == Kind.LOST and _is_found_since(session, wrong):
        raise Refused("It was found again since", "Examine it, then let another release it")
    if "destroyed" in wrong.detail:
        raise Refused("A destroyed item doesn't come back", "Register the other item anew")


def _is_found_since(session: Session, lost: tables.LedgerEntry) -> bool:
    row = tables.LedgerEntry
    of_item = select(row.id).where(row.school_id == lost.school_id, row.item_id == lost.item_id)
    found = of_item.where(row.kind == Kind.RECEIVED.value, row.seq > lost.seq).limit(1)
    return session.scalar(found) is not None


def _require_cause_wrong(session: Session, wrong: tables.LedgerEntry) -> None:
    """Refuse to reverse what a pull or an examination brought, while that stands."""
    cause = _cause_of(session, wrong)
    if cause is None or _is_reversed(session, cause):
        return
    word = "pull" if cause.kind == Kind.PULL else "examination"
    raise Refused(
        f"The {word} that brought this still stands",
        f"If the {word} was wrong, reverse its own entry: this goes with it",
    )


def _cause_of(session: Session, wrong: tables.LedgerEntry) -> tables.LedgerEntry | None:
    row = tables.LedgerEntry
    if wrong.kind not in _HELD:
        return None
    of_item = select(row).where(row.school_id == wrong.school_id, row.item_id == wrong.item_id)
    if wrong.pull_id is not None:
        return session.scalar(
            of_item.where(row.pull_id == wrong.pull_id, row.kind == Kind.PULL.value)
        )
    if not wrong.key.endswith(FAILED):
        return None
    examined = of_item.where(row.key == wrong.key.removesuffix(FAILED))
    return session.scalar(examined.where(row.kind == Kind.INSPECTED.value))


def _require_another(actor: Actor, rows: list[tables.LedgerEntry]) -> None:
    """Refuse to let out alone what one held: a pull's quarantine is nobody's own judgement."""
    own = (row for row in rows if row.kind == Kind.QUARANTINED and row.pull_id is None)
    if any(row.person_id == actor.person_id for row in own):
        raise Refused(
            "You put this item into quarantine yourself",
            "Let another competent person look at it, who releases it or reverses this",
        )
