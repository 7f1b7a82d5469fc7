"""Who holds an item back, and what has to be seen before it is released."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from coursekit.wear.ledger import Entry, Kind, standing


@dataclass(frozen=True)
class Hold:
    """What keeps an item from being released.

    `holders` are the people who put it into quarantine since it was released last: none
    of them may let it out.  `unexamined` is the last event after which it passed no
    thorough examination, None where none is needed.
    """

    holders: frozenset[str]
    unexamined: Entry | None


def hold_of(entries: Iterable[Entry]) -> Hold:
    """Return who holds an item back by its ledger, and whether it has to be examined.

    Parameters
    ----------
    entries : iterable of Entry
        The item's ledger, in any order.

    Returns
    -------
    Hold
        By its standing entries.

    Raises
    ------
    KeyError
        Never on the kinds of `Kind`.

    Notes
    -----
    Limits: it knows what was recorded, not who talked whom into it. Safe side: what a
    pull, heat or a chemical put into quarantine, what failed, was repaired, or was lost
    and is back is examined whatever came of it.
    Source: examination after exceptional circumstances: LOLER 1998 reg. 9(3)(a)(iv);
    the second person is common practice, no source.

    Examples
    --------
    >>> hold_of([])
    Hold(holders=frozenset(), unexamined=None)
    """
    holders, unexamined, is_known = set[str](), None, False
    for entry in standing(entries):
        is_found = entry.kind is Kind.RECEIVED and is_known
        is_known = True
        if entry.kind is Kind.RELEASED:
            holders.clear()
        elif entry.kind is Kind.QUARANTINED or is_found:
            holders.add(entry.person)
        if is_found or _asks_for_examination(entry):
            unexamined = entry
        elif entry.kind is Kind.INSPECTED:
            unexamined = None
    return Hold(frozenset(holders), unexamined)


def _asks_for_examination(entry: Entry) -> bool:
    if entry.kind is Kind.QUARANTINED:
        return entry.of_pull is not None or entry.of_exposure
    return entry.kind is Kind.REPAIRED or (entry.kind is Kind.INSPECTED and not entry.passed)
