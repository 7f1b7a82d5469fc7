"""One item as a line of any list of kit: its standing, its use, and what is marked on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from flask_babel import format_date
from flask_babel import gettext as _

from coursekit.services.kit import ItemRow
from coursekit.wear.shelf import AWAY
from coursekit.wear.status import Status
from coursekit.web.kit_words import kind_word
from coursekit.web.standing import Tag, coming, standing

# The bar's drawing is 120 wide and its limit stands at 100.
BAR_LIMIT, BAR_END = 100.0, 120.0


@dataclass(frozen=True)
class ItemLine:
    """One item on the shelf: name, standing, the bar of its use, and what is marked on it."""

    id: int
    name: str
    kind: str
    tag: Tag
    bar: float | None
    use: str
    marked: str


def item_line(row: ItemRow) -> ItemLine:
    """Return one item as it stands on the shelf."""
    return ItemLine(
        id=row.id,
        name=row.mark,
        kind=kind_word(row.kind),
        tag=standing(row),
        bar=bar_of(row.use, row.use_limit),
        use=" · ".join(_use_texts(row)),
        marked=" · ".join(_marked_texts(row)),
    )


def bar_of(use: float, limit: float | None) -> float | None:
    """Return how far the bar of a use count reaches; its tick stands at 100.

    >>> bar_of(15.0, 30.0), bar_of(90.0, 30.0), bar_of(3.0, None)
    (50.0, 120.0, None)
    """
    return None if not limit else round(min(BAR_LIMIT * use / limit, BAR_END), 1)


def use_text(use: float, limit: float | None) -> str:
    """Return a use count against the limit of its policy."""
    if limit is None:
        return _("no use count: inspection and age decide")
    return _("use count %(use)s of %(limit)s", use=f"{use:.4g}", limit=f"{limit:.4g}")


def made_text(made: date | None) -> str:
    """Return the date of make, which labels give by month."""
    if made is None:
        return _("date of make unknown")
    return _("made %(month)s", month=format_date(made, "MMM y"))


def _use_texts(row: ItemRow) -> Iterable[str]:
    yield use_text(row.use, row.use_limit)
    if row.status in AWAY or row.status == Status.QUARANTINED:
        return
    ahead = next((r for r in row.due.reasons if not r.is_due and r.on is not None), None)
    if ahead is not None:
        yield coming(ahead)


def _marked_texts(row: ItemRow) -> Iterable[str]:
    yield from (f"{rating.name.upper()} {rating.marked}" for rating in row.type.ratings)
    if row.serial:
        yield _("serial %(serial)s", serial=row.serial)
    yield made_text(row.made)
