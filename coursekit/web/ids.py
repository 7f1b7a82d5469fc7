"""Ids as people and addresses give them: what no row can have is none."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from werkzeug.routing import IntegerConverter, Map

# The largest that both databases keep; a larger one would be an error of the database.
LARGEST_ID = 2**63 - 1


class IdConverter(IntegerConverter):
    """The number in an address: what no row can have is no address."""

    def __init__(self, url_map: Map, *args: Any, **kwargs: Any) -> None:
        super().__init__(url_map, *args, **{"max": LARGEST_ID, **kwargs})


def id_of(text: str) -> int | None:
    """Return the id that a text is, None where it is none.

    >>> id_of("7"), id_of("bow"), id_of("-1"), id_of("9" * 20)
    (7, None, None, None)
    """
    # The length first: many digits take long to read, and very many are an error.
    is_short = text.isdecimal() and len(text) <= len(str(LARGEST_ID))
    return int(text) if is_short and int(text) <= LARGEST_ID else None


def ids_of(texts: Iterable[str]) -> tuple[int, ...]:
    """Return the ids among some texts, in their order.

    >>> ids_of(["7", "", "bow", "3"])
    (7, 3)
    """
    return tuple(found for found in map(id_of, texts) if found is not None)
