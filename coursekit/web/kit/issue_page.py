"""View models of the counter: the kit list of a class, what stays and why, what is out."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass

from flask import url_for
from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.services.issuing import ItemDesk
from coursekit.services.kit import ItemRow
from coursekit.services.kit_list import KitList, RigOnList
from coursekit.wear.ledger import Size
from coursekit.wear.status import Status
from coursekit.web.kit.each_use import EachUse, each_use
from coursekit.web.kit.enough_text import EnoughLine, enough_line
from coursekit.web.kit.pages import ItemLine, hindrance, item_line
from coursekit.web.kit_words import SIZES, kind_word, planned_text, ratings_of
from coursekit.web.standing import why_it_stays
from coursekit.web.worded import worded
from coursekit.web.words import item_name


@dataclass(frozen=True)
class RigLines:
    """One scenario: the rig that the list equips, item by item, or what is lacking.

    Whether what is `unmeasured` is long enough was not checked.
    """

    scenario: str
    planned: str
    items: tuple[tuple[str, str], ...]
    lacking: tuple[str, ...]
    is_meant: bool
    unmeasured: str


@dataclass(frozen=True)
class ClassKitPage:
    """What a class takes out of the store; `left_out` tells why what was scanned can't go."""

    class_id: int
    class_title: str
    title: str
    is_open: bool
    rigs: tuple[RigLines, ...]
    left_out: tuple[str, ...]
    staying: tuple[ItemLine, ...]
    out: tuple[ItemLine, ...]
    enough: Mapping[int, EnoughLine]
    looks: tuple[EachUse, ...]
    instructions: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class GiveBackPage:
    """What comes back from a class; `not_out` was scanned, but is not out with it.

    `logged` tells by item which pulls of it the class has logged.
    """

    class_id: int
    class_title: str
    title: str
    out: int
    not_out: tuple[str, ...]
    logged: Mapping[int, str]
    looks: tuple[EachUse, ...]


@dataclass(frozen=True)
class Instead:
    """An item that could go in the place of one that stays: what is marked on it, and where."""

    id: int
    name: str
    told: str


@dataclass(frozen=True)
class DeskPage:
    """One item at the counter, and whether it has enough left for the day of the chosen class.

    `classes` are those that are open, each with the address that chooses it.
    """

    line: ItemLine
    title: str
    may_go: bool
    why: tuple[str, ...]
    stays_for: str
    classes: tuple[tuple[str, str, bool], ...]
    class_title: str
    enough: EnoughLine | None
    instead: tuple[Instead, ...]
    looks: tuple[EachUse, ...]
    instructions: tuple[tuple[str, str], ...]


def class_kit_page(found: KitList, scanned: Collection[int] = ()) -> ClassKitPage:
    """Return the page of a class's kit, and of what was scanned for it."""
    return ClassKitPage(
        class_id=found.head.id,
        class_title=found.head.title,
        title=_title(found),
        is_open=found.head.status == "open",
        rigs=tuple(_rig_lines(one) for one in found.rigs),
        left_out=tuple(_left_out(found, scanned)),
        staying=tuple(map(item_line, found.held)),
        out=tuple(map(item_line, found.out)),
        enough={item_id: enough_line(each) for item_id, each in found.enough.items()},
        looks=each_use((*found.proposed, *found.spares, *found.short)),
        instructions=_instructions((*found.proposed, *found.spares, *found.short)),
    )


def give_back_page(
    found: KitList, logged: Mapping[int, Mapping[Size, int]], scanned: Collection[int] = ()
) -> GiveBackPage:
    """Return the page of what a class has out, and of what was scanned of it."""
    is_known = {row.id for row in found.out}
    return GiveBackPage(
        class_id=found.head.id,
        class_title=found.head.title,
        title=_("What is back, and how does it look?")
        if found.out
        else _("Nothing is out with this class"),
        out=len(found.out),
        not_out=tuple(
            row.mark for row in found.asked_for if row.id in scanned and row.id not in is_known
        ),
        logged={item_id: _logged_text(pulls) for item_id, pulls in logged.items()},
        looks=each_use(found.out),
    )


def _logged_text(pulls: Mapping[Size, int]) -> str:
    return ", ".join(f"{word}: {pulls[size]}" for size, word in SIZES.items() if pulls.get(size))


def desk_page(desk: ItemDesk, class_id: int | None) -> DeskPage:
    """Return the page that issues one item to a class."""
    line = item_line(desk.item)
    may_go = desk.item.due.may_go_out
    return DeskPage(
        line=line,
        title=_("With which class does %(item)s go?", item=line.name)
        if may_go
        else _("%(item)s stays: %(why)s", item=line.name, why=line.tag.word),
        may_go=may_go and bool(desk.classes),
        why=() if may_go else why_it_stays(desk.item),
        stays_for="" if desk.classes else _("No class is open, so nothing goes out."),
        classes=tuple(_to_choose(desk, class_id)),
        class_title=next((title for key, title in desk.classes if key == class_id), ""),
        enough=enough_line(desk.enough) if desk.enough else None,
        instead=() if may_go else tuple(map(_instead, desk.instead)),
        looks=each_use([desk.item]),
        instructions=_instructions([desk.item]),
    )


def _to_choose(desk: ItemDesk, class_id: int | None) -> Iterator[tuple[str, str, bool]]:
    for key, title in desk.classes:
        address = url_for("kit.issue_item", item_id=desk.item.id, class_id=key)
        yield address, title, key == class_id


def _instructions(rows: Iterable[ItemRow]) -> tuple[tuple[str, str], ...]:
    """Return what the makers say of the types of some items, each type once."""
    told = {row.type.name: row.type.instructions for row in rows if row.type.instructions}
    return tuple(told.items())


def _instead(row: ItemRow) -> Instead:
    return Instead(
        row.id, row.mark, " · ".join((*ratings_of(row.type), *filter(None, [row.place])))
    )


def _left_out(found: KitList, scanned: Collection[int]) -> Iterator[str]:
    rows = [row for row in found.asked_for if row.id in scanned]
    with_it = {row.id for row in found.out}
    told = (hindrance(r, is_out=r.status == Status.OUT or r.id in with_it) for r in rows)
    yield from filter(None, told)


def _title(found: KitList) -> str:
    short = sum(one.planned.is_meant and one.rig is None for one in found.rigs)
    if not found.rigs:
        return _("The class has no scenario yet")
    if short:
        return ngettext(
            "%(num)d scenario can't be rigged safely with what is fit",
            "%(num)d scenarios can't be rigged safely with what is fit",
            short,
        )
    worn = sum(not found.enough[row.id].is_enough for row in found.out)
    if worn:
        return ngettext(
            "%(num)d item that is out has too little left for today",
            "%(num)d items that are out have too little left for today",
            worn,
        )
    if not found.proposed:
        return _("Everything for %(title)s is out", title=found.head.title)
    return ngettext(
        "%(num)d item to issue to %(title)s",
        "%(num)d items to issue to %(title)s",
        len(found.proposed),
        title=found.head.title,
    )


def _rig_lines(one: RigOnList) -> RigLines:
    return RigLines(
        scenario=one.scenario.title,
        planned=planned_text(one.planned.pulls, one.planned.made),
        items=tuple(_items(one)),
        lacking=tuple(_lacking(one)),
        is_meant=one.planned.is_meant,
        unmeasured=unmeasured_text(one),
    )


def unmeasured_text(one: RigOnList) -> str:
    """Return which lengths of a rig were not checked, nothing where all were."""
    if not one.unmeasured:
        return ""
    marks = ", ".join(row.mark for row in one.unmeasured)
    return _("Not checked, because the register has no length of it: is %(items)s long enough?",
             items=marks)  # fmt: skip


def _items(one: RigOnList) -> Iterator[tuple[str, str]]:
    for name, row in one.items.items():
        yield item_name(name), _where(row)


def _where(row: ItemRow) -> str:
    return _("%(mark)s, %(place)s", mark=row.mark, place=row.place) if row.place else row.mark


def _lacking(one: RigOnList) -> Iterator[str]:
    if one.lacking:
        kinds = ", ".join(map(kind_word, one.lacking))
        yield _("Too few are fit of: %(kinds)s.", kinds=kinds)
    yield from (worded(one.scenario, found.message) for found in one.stops)
