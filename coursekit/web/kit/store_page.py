"""The store at a glance: what it is narrowed to, how many stand where, and a page of its items."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.services.shelf import STANDS, Cursor, Group, Looked, Sought, Stretch, Word
from coursekit.wear.shelf import Shelf
from coursekit.web.kit.pages import ItemLine, item_line
from coursekit.web.kit_words import kind_word
from coursekit.web.words import KINDS

LONGEST_SEARCH = 60
# A shelf and a mark, with the mark of the register's own length.
LONGEST_CURSOR = 140
# A store with more places than that is searched by the name of the place.
MOST_PLACES = 40
# Laid out in a second and a half; the whole of a large register is for a table.
MOST_ON_PAPER = 500
_BEFORE, _AFTER = "before", "after"


@dataclass(frozen=True)
class Search:
    """What the store is narrowed to, as the address of its page says; all may be empty."""

    words: str = ""
    stands: str = ""
    kind: str = ""
    place: str = ""

    @property
    def args(self) -> dict[str, str]:
        """What an address needs to say of it."""
        return {name: value for name, value in vars(self).items() if value}

    @property
    def sought(self) -> Sought:
        """What the service looks for; a word finds a kind by its name in the page's language."""
        return Sought(
            words=tuple(map(_word, self.words.split())),
            stands=self.stands or None,
            kind=self.kind or None,
            place=self.place or None,
        )


@dataclass(frozen=True)
class Chip:
    """One way to narrow the store, with the number of items that it leaves."""

    text: str
    number: int
    args: Mapping[str, str]
    here: bool


@dataclass(frozen=True)
class ShelfPart:
    """Items that stand alike, under one heading; `number` counts those of other pages too."""

    key: str
    title: str
    number: int
    items: tuple[ItemLine, ...]


@dataclass(frozen=True)
class StorePage:
    """The store at a glance; `before` and `after` lead to the pages beside this one.

    `off_paper` counts what the register on paper leaves off of what was found.
    """

    title: str
    search: Search
    said: str
    stands: tuple[Chip, ...]
    kinds: tuple[Chip, ...]
    places: tuple[Chip, ...]
    shelves: tuple[ShelfPart, ...]
    found: int
    off_paper: int
    any: bool
    before: Mapping[str, str] | None
    after: Mapping[str, str] | None


def asked(given: Mapping[str, str]) -> Search:
    """Return what an address asks for; a way to stand that is not known is any."""
    stands = given.get("stands", "")
    return Search(
        words=_given(given, "words", LONGEST_SEARCH).strip(),
        stands=stands if stands in STANDS else "",
        kind=_given(given, "kind", LONGEST_CURSOR),
        place=_given(given, "place", LONGEST_CURSOR),
    )


def _given(given: Mapping[str, str], name: str, longest: int) -> str:
    """Return a text of an address; NUL stands in no item, and not every database takes it."""
    return given.get(name, "")[:longest].replace("\0", "")


def cursor(given: Mapping[str, str]) -> Cursor | None:
    """Return where the page of an address begins, None for the first page.

    >>> cursor({"after": "ready:Rope 7"})
    Cursor(shelf=<Shelf.READY: 'ready'>, mark='Rope 7', is_before=False)
    >>> cursor({"after": "attic:Rope 7"}) is None
    True
    """
    for name in (_BEFORE, _AFTER):
        shelf, _colon, mark = given.get(name, "")[:LONGEST_CURSOR].partition(":")
        if shelf in tuple(Shelf) and mark:
            return Cursor(Shelf(shelf), mark, is_before=name == _BEFORE)
    return None


def store_page(looked: Looked, search: Search) -> StorePage:
    """Return the store, its gravest items first."""
    every = looked.groups
    found = _number(every, search)
    return StorePage(
        title=_title(every),
        search=search,
        said=ngettext("%(num)d item found", "%(num)d items found", found),
        stands=tuple(_stand_chips(every, search)),
        kinds=tuple(_kind_chips(every, search)),
        places=tuple(_place_chips(every, search)),
        shelves=tuple(_shelves(looked, search)),
        found=found,
        off_paper=max(0, found - MOST_ON_PAPER),
        any=bool(every),
        **_beside(looked.page, search),
    )


def _word(text: str) -> Word:
    kinds = (kind for kind in KINDS if text.casefold() in kind_word(kind).casefold())
    return Word(text, frozenset(kinds))


def _title(groups: Iterable[Group]) -> str:
    stands = Counter[Shelf]()
    for group in groups:
        stands[group.shelf] += group.number
    kept = stands.total() - stands[Shelf.AWAY]
    if not kept:
        return _("Nothing is in the register yet")
    if not stands[Shelf.HELD]:
        return _("Everything in the store may go out today")
    return ngettext(
        "%(num)d of %(all)d items can't go out today",
        "%(num)d of %(all)d items can't go out today",
        stands[Shelf.HELD],
        all=kept,
    )


def _number(groups: Iterable[Group], search: Search) -> int:
    return sum(group.with_words for group in groups if _meets(group, search))


def _meets(group: Group, search: Search) -> bool:
    return (
        search.kind in ("", group.kind)
        and search.place in ("", group.place)
        and (not search.stands or group.stands(search.stands))
    )


def _stand_chips(groups: Iterable[Group], search: Search) -> Iterator[Chip]:
    words = {
        "": _("all"),
        "kept": _("kept"),
        "held": _("can't go out"),
        "due": _("due"),
        "quarantined": _("in quarantine"),
        "ready": _("may go out"),
        "out": _("out with a class"),
        "away": _("retired or lost"),
    }
    for key, text in words.items():
        narrowed = replace(search, stands=key)
        yield Chip(text, _number(groups, narrowed), narrowed.args, key == search.stands)


def _kind_chips(groups: Iterable[Group], search: Search) -> Iterator[Chip]:
    yield _any_of(_("all kinds"), groups, replace(search, kind=""), search)
    numbers = _numbers(groups, replace(search, kind=""), lambda group: group.kind)
    for kind in sorted(numbers, key=kind_word):
        chosen = replace(search, kind=kind)
        yield Chip(kind_word(kind), numbers[kind], chosen.args, kind == search.kind)


def _place_chips(groups: Iterable[Group], search: Search) -> Iterator[Chip]:
    numbers = _numbers(groups, replace(search, place=""), lambda group: group.place)
    del numbers[""]
    if not numbers:
        return
    yield _any_of(_("all places"), groups, replace(search, place=""), search)
    most = [place for place, _of in numbers.most_common(MOST_PLACES)]
    for place in sorted(most):
        chosen = replace(search, place=place)
        yield Chip(place, numbers[place], chosen.args, place == search.place)


def _any_of(text: str, groups: Iterable[Group], wider: Search, search: Search) -> Chip:
    return Chip(text, _number(groups, wider), wider.args, wider == search)


def _numbers(groups: Iterable[Group], search: Search, name: Callable[[Group], str]) -> Counter[str]:
    numbers = Counter[str]()
    for group in groups:
        if group.with_words and _meets(group, search):
            numbers[name(group)] += group.with_words
    return numbers


def _shelves(looked: Looked, search: Search) -> Iterator[ShelfPart]:
    titles = {
        Shelf.HELD: _("Can't go out"),
        Shelf.SOON: _("Look at these first"),
        Shelf.READY: _("May go out"),
        Shelf.OUT: _("Out with a class"),
        Shelf.AWAY: _("Retired or lost"),
    }
    for shelf, rows in groupby(looked.page.rows, key=lambda row: row.shelf):
        number = _number((g for g in looked.groups if g.shelf is shelf), search)
        yield ShelfPart(shelf.value, titles[shelf], number, tuple(map(item_line, rows)))


def _beside(page: Stretch, search: Search) -> dict[str, Mapping[str, str] | None]:
    """Return the addresses of the pages before and after this one, None where there is none."""

    def at(name: str, place: int) -> Mapping[str, str]:
        row = page.rows[place]
        return {**search.args, name: f"{row.shelf.value}:{row.mark}"}

    return {
        "before": at(_BEFORE, 0) if page.rows and page.more_before else None,
        "after": at(_AFTER, -1) if page.rows and page.more_after else None,
    }
