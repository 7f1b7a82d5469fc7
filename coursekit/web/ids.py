"""Ids as people and addresses give them: what no row can have is none."""

from __future__ import annotations

from collections.abc import Iterable

# The largest that both databases keep; a larger one would be an error of the database.
LARGEST_ID = 2**63 - 1


def ids_of(texts: Iterable[str]) -> tuple[int, ...]:
    """Return the ids among some texts, in their order.

    >>> ids_of(["7", "", "bow", "-1", "9" * 20, "3"])
    (7, 3)
    """
    return tuple(int(text) for text in texts if _is_id(text))


def _is_id(text: str) -> bool:
    # The length first: many digits take long to read.
    is_short = text.isdecimal() and len(text) <= len(str(LARGEST_ID))
    return is_short and int(text) <= LARGEST_ID
