"""Ids as people and addresses give them: what no row can have is none."""

from __future__ import annotations

from collections.abc import Iterable

# The largest that both databases keep; a larger one would be an error of the database.
LARGEST_ID = 2**63 - 1


def id_of(text: str | int) -> int:
    """Return the id that a text is.

    Raises
    ------
    ValueError
        If it is none, as where a form's list takes no other.

    >>> id_of("7")
    7
    """
    typed = str(text)
    # The length first: many digits take long to read.
    if not typed.isdecimal() or len(typed) > len(str(LARGEST_ID)) or int(typed) > LARGEST_ID:
        raise ValueError(typed)
    return int(typed)


def ids_of(texts: Iterable[str]) -> tuple[int, ...]:
    """Return the ids among some texts, in their order.

    >>> ids_of(["7", "", "bow", "-1", "9" * 20, "3"])
    (7, 3)
    """
    return tuple(_ids(texts))


def _ids(texts: Iterable[str]) -> Iterable[int]:
    for text in texts:
        try:
            yield id_of(text)
        except ValueError:
            continue
