"""Counting what an item has been through: a pure fold over its ledger."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from math import fsum

from coursekit.mechanics.nomenclature import Newton, Ratio
from coursekit.wear.ledger import (
    Ending,
    Entry,
    Kind,
    Origin,
    Pull,
    Size,
    UsedBefore,
    standing,
    told_before,
)
from coursekit.wear.policy import Counting, size_of


@dataclass(frozen=True)
class Counts:
    """What an item's ledger adds up to; `use` is the count or weight of its policy."""

    light: int = 0
    heavy: int = 0
    overload: int = 0
    unknown: int = 0
    use: float = 0.0
    first_used: date | None = None
    last_pull: datetime | None = None
    last_inspected: date | None = None
    last_looked: date | None = None

    @property
    def pulls(self) -> int:
        """All pulls, failed ones too."""
        return self.light + self.heavy + self.overload + self.unknown


@dataclass(frozen=True)
class Line:
    """One pull in the explanation of a count: what it added, and the total then."""

    key: str
    day: date
    size: Size
    ended: Ending
    origin: Origin
    load: Newton | None
    share: Ratio | None
    added: float
    total: float


@dataclass(frozen=True)
class Ages:
    """How old an item is and how long ago it was examined, in days; None where unknown."""

    since_made: int | None
    since_first_use: int | None
    since_inspection: int | None


def count(entries: Iterable[Entry], counting: Counting) -> Counts:
    r"""Return what the standing entries of one item add up to.

    .. math:: W = \sum w(F / F_\mathrm{limit})

    Parameters
    ----------
    entries : iterable of Entry
        The item's ledger, in any order, repeats and corrections included.
    counting : InspectionOnly, ClassesPolicy or PowerPolicy
        How its type counts.

    Returns
    -------
    Counts
        Pulls by size, the use count, and the dates that ages go by. [-]

    Raises
    ------
    OutOfRange
        If a pull that is weighed by its load has a negative one.

    Notes
    -----
    Limits: a count is a prompt, never proof that an item is sound.
    Safe side: high; an unknown load counts as heavy, an overload as a whole life.
    The sum is correctly rounded, so the order of arrival can't change a digit.
    Source: classes are common practice, no source; for the power law see
    `coursekit.wear.fatigue`.

    Examples
    --------
    >>> from coursekit.wear.policy import ClassesPolicy
    >>> count([], ClassesPolicy(limit=30.0)).use
    0.0
    """
    kept = standing(entries)
    felt = [(entry, entry.pull) for entry in kept if entry.pull is not None]
    sizes = [size_of(pull, counting.heavy_from) for _, pull in felt]
    before = told_before(kept) or UsedBefore(None)
    days = [before.first_used, *(entry.day for entry, _ in felt)]
    return Counts(
        light=sizes.count(Size.LIGHT) + before.light,
        heavy=sizes.count(Size.HEAVY) + before.heavy,
        overload=sizes.count(Size.OVERLOAD),
        unknown=sizes.count(Size.UNKNOWN),
        use=fsum([*_added(before, counting), *(counting.weight(pull) for _, pull in felt)]),
        first_used=min((day for day in days if day is not None), default=None),
        last_pull=max((entry.at for entry, _ in felt), default=None),
        last_inspected=max((entry.day for entry in kept if _cleared(entry)), default=None),
        last_looked=max((entry.day for entry in kept if entry.looked_over), default=None),
    )


def explain(entries: Iterable[Entry], counting: Counting) -> tuple[Line, ...]:
    """Return the count line by line: each standing pull, what it added, the total.

    Parameters
    ----------
    entries : iterable of Entry
        The item's ledger, in any order.
    counting : InspectionOnly, ClassesPolicy or PowerPolicy
        How its type counts.

    Returns
    -------
    tuple of Line
        By the time of the event.

    Raises
    ------
    OutOfRange
        If a pull that is weighed by its load has a negative one.

    Notes
    -----
    Limits: as `count`. Safe side: high. Source: as `count`.

    Examples
    --------
    >>> from coursekit.wear.policy import InspectionOnly
    >>> explain([], InspectionOnly())
    ()
    """
    kept, lines = standing(entries), list[Line]()
    before = list(_added(told_before(kept), counting))
    for entry in kept:
        if entry.pull is not None:
            added = [*before, *(line.added for line in lines)]
            lines.append(_line(entry, entry.pull, counting, added))
    return tuple(lines)


def use_before(entries: Iterable[Entry], counting: Counting) -> float:
    """Return the use count that an item came with.

    Parameters
    ----------
    entries : iterable of Entry
        The item's ledger, in any order.
    counting : InspectionOnly, ClassesPolicy or PowerPolicy
        How its type counts.

    Returns
    -------
    float
        What its pulls before it was received add by the rule, and a count that was kept
        elsewhere as it is; what was told last of them. [-]

    Raises
    ------
    OutOfRange
        If a limit that a pull is weighed by is negative.

    Notes
    -----
    Limits: as good as what is known of it. Safe side: high; without a limit of the item a
    pull that is weighed by its load takes the whole life.
    Source: common practice, no source.

    Examples
    --------
    >>> from datetime import UTC
    >>> from coursekit.wear.ledger import UsedBefore
    >>> from coursekit.wear.policy import ClassesPolicy
    >>> now = datetime(2026, 5, 1, tzinfo=UTC)
    >>> came = UsedBefore(date(2024, 5, 1), light=4, heavy=2, count=1.0)
    >>> entry = Entry("k", "rope", Kind.RECEIVED, now, now.date(), "7", before=came)
    >>> use_before([entry], ClassesPolicy(limit=30.0))
    11.0
    """
    return fsum(_added(told_before(standing(entries)), counting))


def _added(before: UsedBefore | None, counting: Counting) -> Iterator[float]:
    """Yield what an item's use before adds, where a rule counts at all."""
    if before is None or counting.limit is None:
        return
    for size, number in ((Size.LIGHT, before.light), (Size.HEAVY, before.heavy)):
        if number:
            yield number * counting.weight(before.pull(size))
    yield before.count


def ages(made: date | None, counts: Counts, today: date) -> Ages:
    """Return the days since an item was made, first used and last found sound.

    Parameters
    ----------
    made : date or None
        Date of make from its label.
    counts : Counts
        What its ledger adds up to.
    today : date
        The civil date where the kit is.

    Returns
    -------
    Ages
        Whole days. [day]

    Raises
    ------
    TypeError
        If a date is a point in time.

    Notes
    -----
    Limits: an age counts from the label, in store too. Safe side: high.
    Source: common practice, no source.

    Examples
    --------
    >>> ages(date(2025, 3, 1), Counts(), date(2025, 3, 31)).since_made
    30
    """
    return Ages(
        since_made=_days(made, today),
        since_first_use=_days(counts.first_used, today),
        since_inspection=_days(counts.last_inspected, today),
    )


def _line(entry: Entry, pull: Pull, counting: Counting, before: list[float]) -> Line:
    added = counting.weight(pull)
    return Line(
        key=entry.key,
        day=entry.day,
        size=size_of(pull, counting.heavy_from),
        ended=pull.ended,
        origin=pull.origin,
        load=pull.load,
        share=pull.share,
        added=added,
        total=fsum((*before, added)),
    )


def _cleared(entry: Entry) -> bool:
    return entry.kind is Kind.INSPECTED and entry.passed is True


def _days(since: date | None, today: date) -> int | None:
    return None if since is None else (today - since).days
