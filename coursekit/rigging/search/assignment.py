"""Which item goes into which slot, and in how many ways: plain combinatorics.

A slot offers the items that may stand in it; each item stands in one slot.
"""

from __future__ import annotations

import itertools
import math
from bisect import bisect_left
from collections import Counter
from collections.abc import Mapping, Sequence


def smallest_worst_use(slots: Sequence[Mapping[str, float]]) -> float | None:
    """Return the smallest worst use over all ways to fill the slots; None where there is none.

    Each slot maps the items that fit to the share of their limit that they would use.
    With no slots there is nothing that could be used, which is 0.

    >>> smallest_worst_use([{"a": 0.2, "b": 0.5}, {"a": 0.3}])
    0.5
    >>> smallest_worst_use([{"a": 0.2}, {"a": 0.3}]) is None
    True
    """
    if not slots:
        return 0.0
    if not _matching([list(slot) for slot in slots]):
        return None
    levels = sorted(use for slot in slots for use in slot.values())

    def filled(level: float) -> int:
        return _matching([[i for i, use in slot.items() if use <= level] for slot in slots])

    found = bisect_left(levels, 1, key=filled)
    return levels[found]


def first_choice(slots: Sequence[Sequence[str]]) -> tuple[str, ...] | None:
    """Return an item for each slot: the first slot's best that leaves all others something.

    Each slot lists its items in order of preference, the slots themselves in order of weight.

    >>> first_choice([["a", "b"], ["a"]])
    ('b', 'a')
    """
    if not _matching(slots):
        return None
    chosen: list[str] = []
    for number, slot in enumerate(slots):
        rest = slots[number + 1 :]
        chosen.append(
            next(
                item
                for item in slot
                if item not in chosen and _matching(_without(rest, {*chosen, item}))
            )
        )
    return tuple(chosen)


def _without(slots: Sequence[Sequence[str]], taken: set[str]) -> list[list[str]]:
    return [[item for item in slot if item not in taken] for slot in slots]


def _matching(slots: Sequence[Sequence[str]]) -> bool:
    """Whether every slot can have an item of its own (augmenting paths)."""
    holder: dict[str, int] = {}

    def place(slot: int, tried: set[str]) -> bool:
        for item in slots[slot]:
            if item in tried:
                continue
            tried.add(item)
            if item not in holder or place(holder[item], tried):
                holder[item] = slot
                return True
        return False

    return all(place(slot, set()) for slot in range(len(slots)))


def ways(slots: Sequence[frozenset[str]], at_hand: Mapping[str, int]) -> int:
    """Return in how many ways single items fill the slots: the permanent of what fits where.

    Each slot names the kinds that fit it; of each kind `at_hand` single items exist,
    and another single item in a slot is another way.

    >>> ways([frozenset("a"), frozenset("ab")], {"a": 2, "b": 1})
    4
    """
    rows = sorted(slots, key=lambda slot: sum(at_hand[kind] for kind in slot))
    if all(small <= large for small, large in itertools.pairwise(rows)):
        sizes = (sum(at_hand[kind] for kind in row) for row in rows)
        return math.prod(max(0, size - taken) for taken, size in enumerate(sizes))
    return _permanent(rows, at_hand)


def _permanent(rows: Sequence[frozenset[str]], at_hand: Mapping[str, int]) -> int:
    """Count by the sets of slots filled so far, kinds that fit the same slots taken together."""
    columns: Counter[int] = Counter()
    for kind in frozenset[str]().union(*rows):
        columns[sum(1 << i for i, row in enumerate(rows) if kind in row)] += at_hand[kind]
    filled: Counter[int] = Counter({0: 1})
    for fits, items in columns.items():
        after: Counter[int] = Counter()
        for mask, count in filled.items():
            for more in _subsets(fits & ~mask):
                after[mask | more] += count * math.perm(items, more.bit_count())
        filled = after
    return filled[(1 << len(rows)) - 1]


def _subsets(mask: int) -> list[int]:
    found, subset = [0], mask
    while subset:
        found.append(subset)
        subset = (subset - 1) & mask
    return found
