"""What an examination looked at, line by line, and what follows from it.

Any line that was found fails the item; it passes once every line was looked at and
none was found.  A measured line decides itself: a number can make a line worse, never
better than the eye found it.  At the limit counts as beyond it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import isfinite

from coursekit.mechanics.nomenclature import Metre

# 18 mm of 20 mm is a tenth lost, though floats make it a hair less.
_DUST = 1e-9


class Seen(StrEnum):
    """What was seen at one line of a list."""

    FINE = "fine"
    FOUND = "found"
    UNSEEN = "not-looked-at"


class Occasion(StrEnum):
    """Why an item is examined."""

    FIRST = "first"
    PERIODIC = "periodic"
    AFTER = "after"


class Way(StrEnum):
    """How a line is measured."""

    LOST = "lost"
    GAINED = "gained"
    PART = "part"
    COUNT = "count"


# What is asked for, in its order; names are contract, for the ledger keeps them.
SIZES: Mapping[Way, tuple[str, ...]] = {
    Way.LOST: ("as-new", "now"),
    Way.GAINED: ("as-new", "now"),
    Way.PART: ("number", "of"),
    Way.COUNT: ("number",),
}


@dataclass(frozen=True)
class Measure:
    """A number that decides a line: at `limit` or beyond, the item fails.

    `limit` is a share of the size as new, a share of all, or a plain count; `most` is a
    gain in metres that fails however small a share it is.

    >>> Measure(Way.LOST, 0.10).removes((0.020, 0.018))
    True
    >>> Measure(Way.COUNT, 10).removes((9,))
    False
    """

    way: Way
    limit: float
    most: Metre | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the sizes that it takes, in their order."""
        return SIZES[self.way]

    @property
    def is_length(self) -> bool:
        """Whether its sizes are lengths; else they are counted."""
        return self.way in (Way.LOST, Way.GAINED)

    def amount(self, sizes: Sequence[float]) -> float:
        """Return the share lost, gained or cut, or the count; lengths are in metres.

        >>> Measure(Way.GAINED, 0.05).amount((0.040, 0.043)) > 0.05
        True
        """
        if self.way is Way.COUNT:
            return sizes[0]
        if self.way is Way.PART:
            return sizes[0] / sizes[1]
        change = sizes[1] - sizes[0]
        return (change if self.way is Way.GAINED else -change) / sizes[0]

    def removes(self, sizes: Sequence[float]) -> bool:
        """Return whether these sizes take the item out of use."""
        grown = sizes[-1] - sizes[0]
        beyond_most = self.most is not None and grown >= self.most * (1.0 - _DUST)
        return beyond_most or self.amount(sizes) >= self.limit * (1.0 - _DUST)

    def wrong_size(self, sizes: Sequence[float]) -> str | None:
        """Return the name of a size that can't be, None where all can.

        >>> Measure(Way.PART, 0.10).wrong_size((3.0, 0.0))
        'of'
        """
        for name, size in zip(self.names, sizes, strict=True):
            may_be_none = name in ("number", "now")
            if not isfinite(size) or size < 0.0 or (size == 0.0 and not may_be_none):
                return name
        if not self.is_length and any(size != int(size) for size in sizes):
            return "number"
        return "of" if self.way is Way.PART and sizes[0] > sizes[1] else None

    def seems_swapped(self, sizes: Sequence[float]) -> bool:
        """Return whether the two lengths would fail the item the other way round.

        >>> Measure(Way.LOST, 0.10).seems_swapped((0.017, 0.020))
        True
        """
        if not self.is_length or sizes[1] <= 0.0:
            return False
        return not self.removes(sizes) and self.removes((sizes[1], sizes[0]))


@dataclass(frozen=True)
class Criterion:
    """One line of a list: what removes the item, and who says so.

    `key` is kept in the ledger, so it is never renamed.  `each_use` is for the short
    look before every use too; all lines are for the thorough examination.
    """

    key: str
    text: str
    source: str
    each_use: bool = False
    measure: Measure | None = None


@dataclass(frozen=True)
class Looked:
    """What was seen at a line, with its sizes where it was measured, and how they were typed."""

    seen: Seen
    sizes: tuple[float, ...] = ()
    typed: tuple[str, ...] = ()


@dataclass(frozen=True)
class Verdict:
    """What an examination comes to: the keys of lines found, and of those not looked at."""

    found: tuple[str, ...]
    unseen: tuple[str, ...]

    @property
    def failed(self) -> bool:
        """Whether anything was found."""
        return bool(self.found)

    @property
    def passed(self) -> bool:
        """Whether every line was looked at and nothing was found."""
        return not self.found and not self.unseen


def seen_at(criterion: Criterion, looked: Looked) -> Seen:
    """Return what was seen at a line, its number having the last word against the item.

    >>> worn = Criterion("worn", "Worn", "a standard", measure=Measure(Way.LOST, 0.10))
    >>> seen_at(worn, Looked(Seen.FINE, (0.020, 0.017)))
    <Seen.FOUND: 'found'>
    """
    if criterion.measure is None or not looked.sizes or looked.seen is Seen.FOUND:
        return looked.seen
    return Seen.FOUND if criterion.measure.removes(looked.sizes) else Seen.FINE


def verdict(criteria: Sequence[Criterion], lines: Mapping[str, Looked]) -> Verdict:
    """Return what an examination comes to; a line that is missing was not looked at.

    Parameters
    ----------
    criteria : sequence of Criterion
        The list of the item's kind.
    lines : mapping of str to Looked
        What was seen, by key; lengths in metres.

    Returns
    -------
    Verdict
        Found and unseen lines in the order of the list.

    Raises
    ------
    ValueError
        If a line is none of the list.

    Notes
    -----
    Limits: it knows what was marked, not what the eye missed; the maker's instructions
    and a competent person go before it. Safe side: one line found fails the item.
    Source: 29 CFR 1910.184(i)(9), "immediately removed from service if any of the
    following conditions are present".

    Examples
    --------
    >>> worn = Criterion("worn", "Worn", "a standard")
    >>> verdict([worn], {}).passed, verdict([worn], {"worn": Looked(Seen.FINE)}).passed
    (False, True)
    """
    strange = set(lines) - {criterion.key for criterion in criteria}
    if strange:
        raise ValueError(f"not on this list: {', '.join(sorted(strange))}")
    unseen = Looked(Seen.UNSEEN)
    told = {each.key: seen_at(each, lines.get(each.key, unseen)) for each in criteria}
    return Verdict(
        found=tuple(key for key, seen in told.items() if seen is Seen.FOUND),
        unseen=tuple(key for key, seen in told.items() if seen is Seen.UNSEEN),
    )
