"""Where an item stands, and which moves are allowed: one table.

Retired is final.  A pull that happened is recorded even on an item that was in
quarantine; nothing can happen to one that was destroyed.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from coursekit.problems import CoursekitError
from coursekit.wear.ledger import Entry, Kind, standing


class Status(StrEnum):
    """Where an item stands."""

    IN_STORE = "in-store"
    OUT = "out"
    QUARANTINED = "quarantined"
    RETIRED = "retired"
    LOST = "lost"


# Gone for good or for the time: nothing about them is to be done in the store.
AWAY = frozenset({Status.RETIRED, Status.LOST})


class NotAllowed(CoursekitError, ValueError):
    """A move that the item's status doesn't allow.

    >>> str(NotAllowed(Kind.ISSUED, "The item is retired, and retired is final"))
    'issued: The item is retired, and retired is final.'
    """

    def __init__(self, move: Kind, reason: str) -> None:
        self.move = move
        self.reason = reason
        super().__init__(move, reason)

    def __str__(self) -> str:
        return f"{self.move}: {self.reason}."


IN_USE = (Status.IN_STORE, Status.OUT, Status.QUARANTINED)
# Each kind of entry: the status it leads to from each status it is allowed in.
# None before means that the item is not in the register yet; a None after, that
# the entry leaves the status alone.
_MOVES: dict[Kind, dict[Status | None, Status | None]] = {
    Kind.RECEIVED: {None: Status.IN_STORE, Status.LOST: Status.QUARANTINED},
    Kind.ISSUED: {Status.IN_STORE: Status.OUT},
    Kind.RETURNED: {Status.OUT: Status.IN_STORE, Status.QUARANTINED: None},
    Kind.PULL: dict.fromkeys(IN_USE),
    Kind.EXPOSURE: dict.fromkeys(IN_USE),
    Kind.INSPECTED: dict.fromkeys(IN_USE),
    Kind.REPAIRED: {Status.QUARANTINED: None},
    Kind.QUARANTINED: {
        Status.IN_STORE: Status.QUARANTINED,
        Status.OUT: Status.QUARANTINED,
        Status.QUARANTINED: None,
    },
    Kind.RELEASED: {Status.QUARANTINED: Status.IN_STORE},
    # Retired by its last pull, an item is retired once more with how it was destroyed.
    Kind.RETIRED: {**dict.fromkeys(IN_USE, Status.RETIRED), Status.RETIRED: None},
    Kind.LOST: dict.fromkeys(IN_USE, Status.LOST),
}
# Where an entry leads instead while the item is with a class that has not given it back.
_STILL_OUT: dict[Kind, dict[Status | None, Status | None]] = {
    Kind.RELEASED: {Status.QUARANTINED: Status.OUT},
}
# What puts an item into the hands of a class, and back into those of the store.
_HANDS = {Kind.ISSUED: True, Kind.RETURNED: False, Kind.RECEIVED: False}
_STANDS = {
    None: "The item is not in the register yet",
    Status.IN_STORE: "The item is in the store",
    Status.OUT: "The item is out with a class",
    Status.QUARANTINED: "The item is in quarantine; another competent person must release it",
    Status.RETIRED: "The item is retired, and retired is final",
    Status.LOST: "The item is lost; receive it again when it is found",
}


def move(status: Status | None, kind: Kind, *, is_with_class: bool = False) -> Status:
    """Return the status that an entry leads to.

    Parameters
    ----------
    status : Status or None
        Where the item stands; None before it was received.
    kind : Kind
        What the entry records.
    is_with_class : bool
        Whether its last issue has no return.

    Returns
    -------
    Status
        Where it stands then.

    Raises
    ------
    NotAllowed
        If the table has no such move.

    Notes
    -----
    Limits: who may make the move is a matter of roles. Safe side: an item that
    was lost comes back into quarantine.
    Source: common practice, no source; retired is final.

    Examples
    --------
    >>> move(Status.QUARANTINED, Kind.RELEASED)
    <Status.IN_STORE: 'in-store'>
    """
    allowed = _allowed(kind, is_with_class=is_with_class)
    if status not in allowed:
        raise NotAllowed(kind, _STANDS[status])
    after = allowed[status] or status
    if after is None:
        raise NotAllowed(kind, _STANDS[None])
    return after


def status_of(entries: Iterable[Entry]) -> Status | None:
    """Return where an item stands by its ledger, None if it was never received.

    Parameters
    ----------
    entries : iterable of Entry
        The item's ledger, in any order.

    Returns
    -------
    Status or None
        The outcome of its standing entries by the time of the event.

    Raises
    ------
    KeyError
        Never on the kinds of `Kind`.

    Notes
    -----
    Limits: a late entry can make a later move one that the table doesn't allow;
    such a move changes nothing. Safe side: a late retirement stays final, and what
    is released while a class has it goes out to nobody else.
    Source: common practice, no source.

    Examples
    --------
    >>> status_of([]) is None
    True
    """
    status: Status | None = None
    is_with_class = False
    for entry in standing(entries):
        allowed = _allowed(entry.kind, is_with_class=is_with_class)
        status = (allowed[status] or status) if status in allowed else status
        is_with_class = _HANDS.get(entry.kind, is_with_class)
    return status


def retirement_of(entries: Iterable[Entry]) -> Entry | None:
    """Return the entry that retired an item, None where it is not retired."""
    kept = list(standing(entries))
    if status_of(kept) is not Status.RETIRED:
        return None
    return next((entry for entry in kept if entry.kind is Kind.RETIRED), None)


def _allowed(kind: Kind, *, is_with_class: bool) -> dict[Status | None, Status | None]:
    return {**_MOVES.get(kind, {}), **(_STILL_OUT.get(kind, {}) if is_with_class else {})}
