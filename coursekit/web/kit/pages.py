"""View models of the kit store: what may go out, one item's life, what was retired."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from flask_babel import format_date, ngettext
from flask_babel import gettext as _

from coursekit.services.kit import ItemRow
from coursekit.wear.status import Status
from coursekit.web.kit_words import kind_word
from coursekit.web.standing import AWAY, Tag, coming, is_held, standing

# The bar's drawing is 120 wide and its limit stands at 100.
BAR_LIMIT, BAR_END = 100.0, 120.0
# A shelf shows so many; a search or a kind narrows it down.
MOST_SHOWN = 60


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


@dataclass(frozen=True)
class Shelf:
    """Items that stand alike, under one heading."""

    key: str
    title: str
    number: int
    items: tuple[ItemLine, ...]

    @property
    def more(self) -> int:
        """How many are not shown, so that a large store still makes a small page."""
        return self.number - len(self.items)


@dataclass(frozen=True)
class KindLink:
    """A kind of gear that the shelf can be narrowed to."""

    kind: str
    text: str
    here: bool


@dataclass(frozen=True)
class Search:
    """What the store was asked for: words and a kind, both may be empty."""

    words: str = ""
    kind: str = ""


@dataclass(frozen=True)
class StorePage:
    """The store at a glance."""

    title: str
    shelves: tuple[Shelf, ...]
    kinds: tuple[KindLink, ...]
    search: Search
    found: int
    any: bool
    may_register: bool
    classes: tuple[tuple[int, str], ...]


def store_page(
    rows: Sequence[ItemRow],
    search: Search,
    *,
    may_register: bool,
    classes: tuple[tuple[int, str], ...] = (),
) -> StorePage:
    """Return the store, its gravest items first."""
    found = [row for row in rows if meets(row, search)]
    return StorePage(
        title=_store_title(rows),
        shelves=tuple(_shelves(found)),
        kinds=_kind_links(rows, search),
        search=search,
        found=len(found),
        any=bool(rows),
        may_register=may_register,
        classes=classes,
    )


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


def _store_title(rows: Sequence[ItemRow]) -> str:
    kept = [row for row in rows if row.status not in AWAY]
    held = sum(is_held(row) for row in kept)
    if not kept:
        return _("Nothing is in the register yet")
    if not held:
        return _("Everything in the store may go out today")
    return ngettext(
        "%(num)d of %(all)d items can't go out today",
        "%(num)d of %(all)d items can't go out today",
        held,
        all=len(kept),
    )


def _shelves(rows: Sequence[ItemRow]) -> Iterable[Shelf]:
    for key, title, belongs in _headings():
        stand = [row for row in rows if belongs(row)]
        if stand:
            shown = tuple(item_line(row) for row in stand[:MOST_SHOWN])
            yield Shelf(key, title, len(stand), shown)


def _headings() -> tuple[tuple[str, str, Callable[[ItemRow], bool]], ...]:
    def toned(tone: str) -> Callable[[ItemRow], bool]:
        return lambda row: row.status not in AWAY and standing(row).tone == tone

    return (
        ("held", _("Can't go out"), toned("stop")),
        ("soon", _("Look at these first"), toned("care")),
        ("ready", _("May go out"), toned("good")),
        ("out", _("Out with a class"), toned("soft")),
        ("away", _("Retired or lost"), lambda row: row.status in AWAY),
    )


def _kind_links(rows: Sequence[ItemRow], search: Search) -> tuple[KindLink, ...]:
    kinds = dict.fromkeys(row.kind for row in rows)
    return tuple(KindLink(kind, kind_word(kind), kind == search.kind) for kind in sorted(kinds))


def meets(row: ItemRow, search: Search) -> bool:
    """Whether an item is of the kind that is asked for and has all the words."""
    if search.kind and row.kind != search.kind:
        return False
    told = f"{row.mark} {row.serial} {row.batch} {row.type.name} {kind_word(row.kind)}".casefold()
    return all(word in told for word in search.words.casefold().split())


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
