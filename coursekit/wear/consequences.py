"""What a pull does to the kit by itself, before anybody has looked at it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from coursekit.wear.ledger import Ending, Kind, Pull, Size
from coursekit.wear.policy import size_of

PARTED = "a line of this load path parted"
STALLED = "the winch stalled on this load path"
JERKED = "a jerk on gear that doesn't stretch"
OVER_LIMIT = "the load was above this item's limit"
NEIGHBOUR_OVER_LIMIT = "the load was above the limit of an item in this load path"
UNKNOWN_LOAD = "the load on an item of this load path is unknown"


@dataclass(frozen=True)
class Carried:
    """One item of a load path and the pull as it felt it."""

    item: str
    pull: Pull
    is_textile: bool
    is_elastic: bool

    @property
    def size(self) -> Size:
        """The class of its pull."""
        return size_of(self.pull)


@dataclass(frozen=True)
class Consequence:
    """What becomes of an item by itself, and why."""

    item: str
    kind: Kind
    reason: str


def consequences(path: Sequence[Carried]) -> tuple[Consequence, ...]:
    """Return what a pull makes of each item of its load path.

    Parameters
    ----------
    path : sequence of Carried
        Every item that bore the load.

    Returns
    -------
    tuple of Consequence
        Textile above its limit retires; all else that is in doubt goes into
        quarantine, steel for a thorough examination. Empty for a plain pull.

    Raises
    ------
    ValueError
        If the items don't agree how the pull ended.

    Notes
    -----
    Limits: it knows loads, not what the eye would see. Safe side: one doubt
    about one item holds back the whole load path.
    Source: common practice, no source; examination after exceptional
    circumstances: LOLER 1998 reg. 9(3)(a)(iv).

    Examples
    --------
    >>> from coursekit.wear.ledger import Origin
    >>> pull = Pull("winch", Ending.CAME_FREE, Origin.SOLVED, load=31_000.0, limit=29_000.0)
    >>> consequences([Carried("sling", pull, is_textile=True, is_elastic=False)])[0].kind
    <Kind.RETIRED: 'retired'>
    """
    doubt = _doubt(path)
    found = (_consequence(carried, doubt) for carried in path)
    return tuple(consequence for consequence in found if consequence is not None)


def _doubt(path: Sequence[Carried]) -> str | None:
    """Return the gravest doubt that the whole load path shares."""
    ended = _ending(carried.pull.ended for carried in path)
    sizes = {carried.size for carried in path}
    doubts = (
        (ended is Ending.PARTED, PARTED),
        (Size.OVERLOAD in sizes, NEIGHBOUR_OVER_LIMIT),
        (ended is Ending.STALLED, STALLED),
        (ended is Ending.JERKED and not any(c.is_elastic for c in path), JERKED),
        (Size.UNKNOWN in sizes, UNKNOWN_LOAD),
    )
    return next((reason for holds, reason in doubts if holds), None)


def _ending(endings: Iterable[Ending]) -> Ending | None:
    found = set(endings)
    if len(found) > 1:
        raise ValueError("one pull ends in one way for every item of its load path")
    return found.pop() if found else None


def _consequence(carried: Carried, doubt: str | None) -> Consequence | None:
    if carried.size is Size.OVERLOAD:
        kind = Kind.RETIRED if carried.is_textile else Kind.QUARANTINED
        return Consequence(carried.item, kind, OVER_LIMIT)
    return None if doubt is None else Consequence(carried.item, Kind.QUARANTINED, doubt)
