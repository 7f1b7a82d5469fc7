"""Entries of the kit ledger, and which of them stand.

The ledger is append-only: nothing recorded is edited.  An entry that was wrong
is reversed by a correction; one that a phone sent twice counts once.  What
stands goes by the time of the event, so the order of arrival never matters.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from enum import StrEnum

from coursekit.mechanics.nomenclature import Newton, Ratio

# An entry that arrives later than this after its event is flagged as late.
ON_TIME = timedelta(hours=24)


class Kind(StrEnum):
    """What an entry records."""

    RECEIVED = "received"
    ISSUED = "issued"
    RETURNED = "returned"
    PULL = "pull"
    EXPOSURE = "exposure"
    INSPECTED = "inspected"
    REPAIRED = "repaired"
    QUARANTINED = "quarantined"
    RELEASED = "released"
    RETIRED = "retired"
    LOST = "lost"
    CORRECTION = "correction"


class Ending(StrEnum):
    """How an attempt ended; every attempt counts, failed ones most of all."""

    CAME_FREE = "came-free"
    STUCK = "stuck"
    STALLED = "stalled"
    JERKED = "jerked"
    PARTED = "parted"


class Origin(StrEnum):
    """Where the load of a pull comes from."""

    SOLVED = "solved"
    MEASURED = "measured"
    DECLARED = "declared"


class Size(StrEnum):
    """The class of a pull by its share of the item's limit."""

    LIGHT = "light"
    HEAVY = "heavy"
    OVERLOAD = "overload"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Pull:
    """One pull as one item felt it.

    A pull that was only declared has a size and no load.

    >>> Pull("winch", Ending.STUCK, Origin.SOLVED, load=6_000.0, limit=24_000.0).share
    0.25
    """

    method: str
    ended: Ending
    origin: Origin
    load: Newton | None = None
    limit: Newton | None = None
    declared: Size | None = None

    @property
    def share(self) -> Ratio | None:
        """Load over limit; None where either is unknown."""
        if self.load is None or self.limit is None:
            return None
        return self.load / self.limit if self.limit > 0.0 else float("inf")


@dataclass(frozen=True)
class UsedBefore:
    """What an item had been through when it was received.

    Pulls that are known by size count as declared ones, held against its own limit then;
    `count` is a use count that was kept elsewhere, by a rule such as its type's.
    """

    first_used: date | None
    light: int = 0
    heavy: int = 0
    count: float = 0.0
    limit: Newton | None = None

    def pull(self, size: Size) -> Pull:
        """Return one of its pulls of a size.

        >>> UsedBefore(None, light=3, limit=24_000.0).pull(Size.LIGHT).declared
        <Size.LIGHT: 'light'>
        """
        return Pull("", Ending.CAME_FREE, Origin.DECLARED, limit=self.limit, declared=size)


@dataclass(frozen=True)
class Entry:
    """One line of the ledger; people are ids, so that a name can be erased.

    `at` is the instant of the event in UTC, `day` its date where it happened;
    `arrival` is its number in the ledger, and orders what happened at one instant.
    `of_pull` names the pull that wrote it, itself or what followed from it; `of_exposure`
    tells that heat or a chemical did.
    `looked_over` tells of one that went out that it was looked at first, `before` what an
    item had been through when it was received; what is told of that last counts.
    """

    key: str
    item: str
    kind: Kind
    at: datetime
    day: date
    person: str
    pull: Pull | None = None
    passed: bool | None = None
    reverses: str | None = None
    reason: str = ""
    recorded: datetime | None = None
    arrival: int = 0
    of_pull: str | None = None
    of_exposure: bool = False
    looked_over: bool = False
    before: UsedBefore | None = None

    @property
    def is_late(self) -> bool:
        """Whether it reached the ledger more than a day after its event."""
        return self.recorded is not None and self.recorded - self.at > ON_TIME


def joined(known: Iterable[Entry], arriving: Iterable[Entry]) -> tuple[Entry, ...]:
    """Return both batches as one, each key once, the one known first kept."""
    by_key: dict[str, Entry] = {}
    for entry in (*known, *arriving):
        by_key.setdefault(entry.key, entry)
    return tuple(by_key.values())


def standing(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """Return the entries that stand, by the time of the event.

    Repeats of a key, reversed entries and the corrections themselves are left
    out.  A correction can't be reversed: the event is entered again.
    """
    once = joined((), entries)
    reversed_keys = {entry.reverses for entry in once if entry.kind is Kind.CORRECTION}
    kept = (e for e in once if e.kind is not Kind.CORRECTION and e.key not in reversed_keys)
    return tuple(sorted(kept, key=lambda entry: (entry.at, entry.arrival, entry.key)))


def told_before(kept: Iterable[Entry]) -> UsedBefore | None:
    """Return what the entries that stand told last of the use before an item was received."""
    told = [entry.before for entry in kept if entry.before is not None]
    return told[-1] if told else None
