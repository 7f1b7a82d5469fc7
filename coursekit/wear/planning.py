"""Whether an item has enough left for the pulls that a day plans.

Nobody knows beforehand which item goes into which pull.  So an item is taken to be in
every pull of its kind, in the place that wears it most, unless items of its type share a
place: then the pulls are shared evenly and rounded up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import accumulate

from coursekit.wear.ledger import Size

GROUP = 4
"""Students that stand around one rig: common practice, no source."""
MOST_PULLS = 60


@dataclass(frozen=True)
class PlannedPulls:
    """Pulls of one rig that are still to be made, as an item of one type would feel them.

    `places` of the rig hold an item of its kind; `added` is what one pull adds to the use
    count in the place that wears it most, and `size` how heavy it is there.
    """

    pulls: int
    places: int
    added: float
    size: Size


@dataclass(frozen=True)
class Enough:
    """What is planned for one item, and for how many of these pulls it has enough left.

    `covered` counts the heaviest first, so that it holds in whatever order they are made.
    `use` is what all of them add, `left` what is left before it retires, None where nothing
    is counted; `sharing` items of its type take turns, 1 where it does all by itself.
    """

    planned: int
    heavy: int
    covered: int
    use: float
    left: float | None
    sharing: int

    @property
    def is_enough(self) -> bool:
        """Whether it has enough left for all of them."""
        return self.covered == self.planned


def usual_pulls(students: int) -> int:
    """Return how often a rig is pulled where nobody planned it.

    Parameters
    ----------
    students : int
        Who joined the class.

    Returns
    -------
    int
        One pull that is shown, and one for each group of up to four.

    Raises
    ------
    TypeError
        If it is no number.

    Notes
    -----
    Limits: a school's own plan goes before it. Safe side: high; a group that is not full
    pulls too. Source: common practice, no source.

    Examples
    --------
    >>> usual_pulls(0), usual_pulls(4), usual_pulls(5), usual_pulls(12)
    (2, 2, 3, 4)
    """
    groups = max(1, -(-students // GROUP))
    return min(1 + groups, MOST_PULLS)


def pulls_of_each(planned: PlannedPulls, items: int) -> int:
    """Return how many pulls of a rig one item is in, at most, when a type has so many of them.

    Parameters
    ----------
    planned : PlannedPulls
        The rig's pulls, and how many of its places hold the kind.
    items : int
        Items of the type that are there to take turns.

    Returns
    -------
    int
        All pulls, or the share of each where every place has two items or more.

    Raises
    ------
    ZeroDivisionError
        If a rig that is pulled has no place for it.

    Notes
    -----
    Limits: holds where those who pull do take turns. Safe side: high; a share is rounded
    up, and items left over when each place has its own lighten nothing.
    Source: common practice, no source.

    Examples
    --------
    >>> snow = PlannedPulls(pulls=7, places=2, added=3.0, size=Size.HEAVY)
    >>> [pulls_of_each(snow, items) for items in (1, 2, 3, 4, 6)]
    [7, 7, 7, 4, 3]
    """
    turns = max(1, items // planned.places)
    return -(-planned.pulls // turns)


def enough(planned: Iterable[PlannedPulls], left: float | None, items: int = 1) -> Enough:
    """Return whether one item has enough left for a day.

    Parameters
    ----------
    planned : iterable of PlannedPulls
        The rigs that its kind is in.
    left : float or None
        Use that is left before it retires; None where nothing is counted.
    items : int
        Items of its type that take turns.

    Returns
    -------
    Enough
        What is planned for it, and how much of that is covered.

    Raises
    ------
    ZeroDivisionError
        If a rig that is pulled has no place for it.

    Notes
    -----
    Limits: as `pulls_of_each`; a pull that goes wrong may use up all that is left. Safe
    side: low; the heaviest pulls are made first. Source: common practice, no source.

    Examples
    --------
    >>> day = [PlannedPulls(3, 1, 3.0, Size.HEAVY), PlannedPulls(5, 1, 1.0, Size.LIGHT)]
    >>> found = enough(day, left=11.0)
    >>> (found.planned, found.use, found.covered, found.is_enough)
    (8, 14.0, 5, False)
    >>> enough(day, left=11.0, items=2).is_enough
    True
    """
    asked = [(pulls_of_each(each, items), each) for each in planned]
    each_adds = [each.added for pulls, each in asked for _ in range(pulls)]
    used = list(accumulate(sorted(each_adds, reverse=True)))
    return Enough(
        planned=len(used),
        heavy=sum(pulls for pulls, each in asked if each.size is not Size.LIGHT),
        covered=len(used) if left is None else sum(total <= left for total in used),
        use=used[-1] if used else 0.0,
        left=left,
        sharing=items if any(items // each.places > 1 for _, each in asked) else 1,
    )


def sharing(planned: Sequence[PlannedPulls], lefts: Sequence[float | None]) -> int:
    """Return how many items of a type take turns: the most that each have enough for a turn.

    Parameters
    ----------
    planned : sequence of PlannedPulls
        The rigs that the kind is in.
    lefts : sequence of float or None
        Use that is left of each item that is there.

    Returns
    -------
    int
        1 at least: an item that is there alone, or that nobody can relieve, does it all.

    Raises
    ------
    ZeroDivisionError
        If a rig that is pulled has no place for it.

    Notes
    -----
    Limits: as `pulls_of_each`. Safe side: low; one that can't do its turn relieves nobody.
    Source: common practice, no source.

    Examples
    --------
    >>> rig = [PlannedPulls(8, 1, 1.0, Size.LIGHT)]
    >>> sharing(rig, [30.0, 4.0]), sharing(rig, [30.0, 3.0])
    (2, 1)
    """
    items = len(lefts)
    while items > 1 and (able := _able(planned, lefts, items)) < items:
        items = able
    return max(1, items)


def fewest_items(planned: Sequence[PlannedPulls], lefts: Sequence[float | None]) -> int | None:
    """Return how many items of a type have to take turns; None where even all of them can't.

    Parameters
    ----------
    planned : sequence of PlannedPulls
        The rigs that the kind is in.
    lefts : sequence of float or None
        Use that is left of each item there is.

    Returns
    -------
    int or None
        1 where each place finds an item that does all by itself, else the fewest that do.

    Raises
    ------
    ZeroDivisionError
        If a rig that is pulled has no place for it.

    Notes
    -----
    Limits: as `pulls_of_each`. Safe side: high. Source: common practice, no source.

    Examples
    --------
    >>> rig = [PlannedPulls(8, 1, 1.0, Size.LIGHT)]
    >>> fewest_items(rig, [30.0, 6.0]), fewest_items(rig, [6.0, 5.0]), fewest_items(rig, [6.0])
    (1, 2, None)
    """
    places = max((each.places for each in planned), default=1)
    if _able(planned, lefts, 1) >= min(places, len(lefts)):
        return 1
    counts = range(places, len(lefts) + 1)
    return next((n for n in counts if _able(planned, lefts, n) >= n), None)


def _able(planned: Sequence[PlannedPulls], lefts: Sequence[float | None], items: int) -> int:
    return sum(enough(planned, left, items).is_enough for left in lefts)
