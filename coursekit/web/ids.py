"""Ids as people and addresses give them: what no row can have is none."""

from __future__ import annotations

from collections.abc import Iterable

# The largest that both databases keep; a larger one would be an error of the database.
LARGEST_ID = 2**63 - 1


def ids_of(texts: Iterable[str]) -> tuple[int, ...]:
    """Return the ids among some texts, in their order.

    >>> ids_of(["7", "", "bow", "-1", "99999999999999999999", "3"])
    (7, 3)
    """
    return tuple(found for found in map(_id_of, texts) if found is not None)


def _id_of(text: str) -> int | None:
    is_short = text.isdecimal() and len(text) <= len(str(LARGEST_ID))
    return int(text) if is_short and int(text) <= LARGEST_ID else None
