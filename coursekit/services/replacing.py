"""What could go out in the place of an item that has to stay."""

from __future__ import annotations

from collections.abc import Iterable

from coursekit.store.queries.kit import ItemRow

# So many are named: one is taken, and the store's page has the rest.
MOST_NAMED = 3


def could_replace(other: ItemRow, row: ItemRow) -> bool:
    """Whether an item is of the same kind, fit to go out, and marked at least as strong.

    Every rating that the one shows has to be shown by the other too: a WLL stands for no
    MBS, nor the other way about.
    """
    return (
        other.id != row.id
        and other.kind == row.kind
        and other.due.may_go_out
        and all((other.type.rating(one.name) or 0.0) >= one.newtons for one in row.type.ratings)
    )


def replacements(row: ItemRow, alike: Iterable[ItemRow]) -> tuple[ItemRow, ...]:
    """Return what could replace an item, the likest first: its own type, then by strength."""
    fit = [other for other in alike if could_replace(other, row)]
    return tuple(sorted(fit, key=lambda other: _unlike(other, row))[:MOST_NAMED])


def _unlike(other: ItemRow, row: ItemRow) -> tuple[bool, float, str]:
    stronger = sum((other.type.rating(one.name) or 0.0) / one.newtons for one in row.type.ratings)
    return other.type.id != row.type.id, stronger, other.mark
