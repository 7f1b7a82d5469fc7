"""View model of the page that scans labels: what was scanned, and what can be done with it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from flask import url_for
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l
from flask_babel import ngettext

from coursekit.services.scanning import ScanDesk, Scanned
from coursekit.web.kit.enough_text import EnoughLine, enough_line
from coursekit.web.kit.pages import ItemLine, hindrance, item_line

# A class takes fewer items than this out of the store.
MOST_SCANNED = 100
OPEN, ISSUE, TAKE_BACK = "open", "issue", "return"
ACTS = {
    OPEN: _l("Open an item"),
    ISSUE: _l("Issue to a class"),
    TAKE_BACK: _l("Take back"),
}


@dataclass(frozen=True)
class ScanAsked:
    """What the address asks for: the act, the class, the items so far, and a mark as typed.

    `marked` is how many items have the mark; `one_too_many` says that more was scanned
    than the list takes.
    """

    act: str
    class_id: int | None
    item_ids: tuple[int, ...]
    one_too_many: bool
    mark: str
    marked: int

    @property
    def is_found(self) -> bool:
        """Whether the mark is that of one item."""
        return self.marked == 1

    @property
    def is_amiss(self) -> bool:
        """Whether a mark was typed that is not that of one item."""
        return bool(self.mark) and not self.is_found


@dataclass(frozen=True)
class ScannedLine:
    """One item that was scanned, what hinders the act, and the page without it."""

    line: ItemLine
    enough: EnoughLine | None
    hindered: str
    without: str


@dataclass(frozen=True)
class ScanPage:
    """The page that scans; `onward` leads to what comes next.

    `told` is said of the last scan, `refused` says it again where that is not on the list.
    """

    title: str
    act: str
    acts: tuple[tuple[str, str, bool], ...]
    classes: tuple[tuple[int, str, bool], ...]
    mark: str
    told: str
    refused: str
    items: tuple[ScannedLine, ...]
    onward: tuple[tuple[str, str], ...]


def scan_page(desk: ScanDesk, asked: ScanAsked) -> ScanPage:
    """Return the page of what was scanned so far."""
    lines = tuple(_line(one, desk, asked) for one in desk.scanned)
    refused = _refused(desk, asked)
    return ScanPage(
        title=str(ACTS[asked.act]),
        act=asked.act,
        acts=tuple(
            (url_for("kit.scan", act=key), str(text), key == asked.act)
            for key, text in ACTS.items()
        ),
        classes=tuple((key, title, key == asked.class_id) for key, title in desk.classes),
        mark=asked.mark if asked.is_amiss else "",
        told=refused or _told(lines),
        refused="" if asked.is_amiss else refused,
        items=lines,
        onward=tuple(_onward(desk, asked, lines)),
    )


def _refused(desk: ScanDesk, asked: ScanAsked) -> str:
    """Return why the last scan is not on the list, empty where it is."""
    if asked.is_amiss:
        return _amiss(asked)
    if asked.one_too_many:
        return _(
            "The list is full with %(most)d items: the last one is not on it.", most=MOST_SCANNED
        )
    if asked.item_ids and asked.item_ids[-1] not in {one.item.id for one in desk.scanned}:
        return _("This is the label of no item of this store.")
    return ""


def _amiss(asked: ScanAsked) -> str:
    if asked.marked:
        return _(
            "%(number)d items are marked so but for capitals. "
            "Type the mark as it stands under the code.",
            number=asked.marked,
        )
    return _(
        "No item is marked %(mark)s. Type the mark as it stands under the code.", mark=asked.mark
    )


def _told(lines: Sequence[ScannedLine]) -> str:
    if not lines:
        return ""
    last = lines[-1]
    return last.hindered or _("%(item)s is on the list.", item=last.line.name)


def _line(one: Scanned, desk: ScanDesk, asked: ScanAsked) -> ScannedLine:
    others = [other.item.id for other in desk.scanned if other is not one]
    return ScannedLine(
        line=item_line(one.item),
        enough=enough_line(one.enough) if asked.act == ISSUE and one.enough else None,
        hindered=_hindered(one, asked),
        without=_address(asked, others),
    )


def _hindered(one: Scanned, asked: ScanAsked) -> str:
    if asked.act == TAKE_BACK:
        is_out = one.out_with is not None
        return "" if is_out else _("%(item)s is not out with a class.", item=one.item.mark)
    return hindrance(one.item, is_out=one.out_with is not None)


def _onward(
    desk: ScanDesk, asked: ScanAsked, lines: Sequence[ScannedLine]
) -> Iterator[tuple[str, str]]:
    """Yield where the list leads, with its words: one way for each class."""
    able = [one for one, line in zip(desk.scanned, lines, strict=True) if not line.hindered]
    if asked.act == ISSUE and able and asked.class_id in dict(desk.classes):
        ids = [one.item.id for one in able]
        yield url_for("kit.class_kit", class_id=asked.class_id, item=ids), _to_issue(len(ids))
    if asked.act == TAKE_BACK:
        for class_id, title in dict.fromkeys(one.out_with for one in able if one.out_with):
            ids = [one.item.id for one in able if one.out_with == (class_id, title)]
            address = url_for("kit.give_back", class_id=class_id, item=ids)
            yield address, _to_take_back(len(ids), title)


def _to_issue(number: int) -> str:
    return ngettext(
        "Look at %(num)d item, then issue it", "Look at %(num)d items, then issue them", number
    )


def _to_take_back(number: int, title: str) -> str:
    return ngettext(
        "Take %(num)d item back from %(title)s",
        "Take %(num)d items back from %(title)s",
        number,
        title=title,
    )


def _address(asked: ScanAsked, item_ids: Sequence[int]) -> str:
    values: dict[str, Any] = {"act": asked.act, "class_id": asked.class_id, "item": list(item_ids)}
    return url_for("kit.scan", **values)
