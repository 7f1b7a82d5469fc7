"""Hash chains of what a school recorded: a change made behind our back shows."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from datetime import UTC, date, datetime
from typing import Any

from coursekit.store.tables import AssessmentRecord, LedgerEntry

Chained = LedgerEntry | AssessmentRecord
FIRST_HASH = "0" * 64
# The row's own number is the database's, and the hash can't hold itself.
_UNSEALED = ("id", "hash")


def seal(entry: Chained, prev_hash: str) -> None:
    """Chain an entry to the one before it."""
    entry.prev_hash = prev_hash
    entry.hash = hash_of(entry)


def hash_of(entry: Chained) -> str:
    """Return the hash of all that an entry says, the hash before it included."""
    names = (column.key for column in type(entry).__table__.columns)
    content = {name: _plain(getattr(entry, name)) for name in names if name not in _UNSEALED}
    text = json.dumps(content, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(text.encode()).hexdigest()


def first_broken(entries: Iterable[Chained]) -> int | None:
    """Return the number of the first entry that doesn't hold, None if all do.

    Entries come in their order; a gap in the numbers is a break too.  A record that was
    emptied when its time was up says nothing that could be checked: its place in the chain is.
    """
    before = FIRST_HASH
    for number, entry in enumerate(entries, start=1):
        is_sealed = _is_emptied(entry) or entry.hash == hash_of(entry)
        if entry.seq != number or entry.prev_hash != before or not is_sealed:
            return number
        before = entry.hash
    return None


def _is_emptied(entry: Chained) -> bool:
    return isinstance(entry, AssessmentRecord) and not entry.document


def _plain(value: Any) -> Any:
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat(timespec="microseconds")
    return value.isoformat() if isinstance(value, date) else value
