"""One item as a line of any list of kit: its standing, its use, and what is marked on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from flask_babel import format_date
from flask_babel import gettext as _

from coursekit.services.kit import ItemRow
from coursekit.wear.schedule import Cause
from coursekit.wear.status import AWAY, Status
from coursekit.web.kit_words import kind_word, ratings_of
from coursekit.web.standing import DUE_WORDS, Tag, coming, standing

# The bar's drawing is 120 wide and its limit stands at 100.
BAR_LIMIT, BAR_END = 100.0, 120.0


# The figure that tells where an item stands by its moves.
STANDING = "standing"


@dataclass(frozen=True)
class Figure:
    """A figure of an item in words, and the name by which the entries are found that made it.

    What no entry makes has no name.
    """

    name: str
    text: str


@dataclass(frozen=True)
class ItemLine:
    """One item on the shelf: name, standing, the bar of its use, and what is marked on it.

    `figures` tell its use and what is due, each to be opened into what made it; `tag_made_by`
    is the figure that its standing is.  `photo` is the id of its newest photo, None where
    it has none.
    """

    id: int
    name: str
    kind: str
    tag: Tag
    bar: float | None
    figures: tuple[Figure, ...]
    marked: str
    tag_made_by: str
    photo: int | None


def item_line(row: ItemRow) -> ItemLine:
    """Return one item as it stands on the shelf."""
    tag = standing(row)
    return ItemLine(
        id=row.id,
        name=row.mark,
        kind=kind_word(row.kind),
        tag=tag,
        bar=bar_of(row.use, row.use_limit),
        figures=tuple(_figures(row, tag)),
        marked=" · ".join(_marked_texts(row)),
        tag_made_by=_tag_made_by(row, tag),
        photo=row.photo_id,
    )


def hindrance(row: ItemRow, *, is_out: bool) -> str:
    """Return what keeps an item from going out now, empty where nothing does."""
    if is_out:
        return _("%(item)s is out already: take it back first.", item=row.mark)
    if not row.due.may_go_out:
        return _("%(item)s has to stay: %(why)s.", item=row.mark, why=standing(row).word)
    return ""


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


def _figures(row: ItemRow, tag: Tag) -> Iterable[Figure]:
    yield Figure(Cause.USE if row.use_limit else "", use_text(row.use, row.use_limit))
    if row.status in AWAY:
        return
    due = (reason.cause for reason in row.due.now if reason.cause is not tag.cause)
    yield from (Figure(cause, str(DUE_WORDS[cause])) for cause in due)
    ahead = next((r for r in row.due.reasons if not r.is_due and r.on is not None), None)
    if ahead is not None and row.status != Status.QUARANTINED:
        yield Figure(ahead.cause, coming(ahead))


def _tag_made_by(row: ItemRow, tag: Tag) -> str:
    """Return which figure an item's standing is: one that is due, else its moves, or none."""
    if tag.cause is not None:
        return tag.cause.value
    return "" if row.status == Status.IN_STORE else STANDING


def _marked_texts(row: ItemRow) -> Iterable[str]:
    yield from ratings_of(row.type)
    if row.serial:
        yield _("serial %(serial)s", serial=row.serial)
    yield made_text(row.made)
