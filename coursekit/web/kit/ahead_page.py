"""What will be due: when each item retires, what to buy in the year ahead, what classes cost."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from flask_babel import format_date, ngettext
from flask_babel import gettext as _

from coursekit.drawing.wear_chart import Retired, RetiredWords, describe_retired
from coursekit.services.forecasting import Ahead, ClassCost, KindAhead, StoreAhead
from coursekit.wear.forecast import YEAR, Forecast, Purchases, Rate
from coursekit.web.filters import percent
from coursekit.web.kit_words import kind_word
from coursekit.web.standing import COMING_WORDS

# The chart and the list look so far ahead.
YEARS_AHEAD = 3


@dataclass(frozen=True)
class ItemAhead:
    """One item: when it retires, and why."""

    id: int
    name: str
    kind: str
    likely: str
    between: str
    chance: str
    why: str
    figure: str


@dataclass(frozen=True)
class KindLine:
    """One kind: how many are kept, how many will retire in a year, and what that costs.

    `key` is the kind as an address names it.
    """

    key: str
    kind: str
    kept: int
    expected: str
    between: str
    cost: str


@dataclass(frozen=True)
class CostLine:
    """One class: what its pulls used up."""

    title: str
    on: date
    cost: str
    pulls: int


@dataclass(frozen=True)
class AheadPage:
    """The whole page."""

    title: str
    kinds: tuple[KindLine, ...]
    items: tuple[ItemAhead, ...]
    later: int
    opened: str
    classes: tuple[CostLine, ...]
    chart: str


def ahead_page(store: StoreAhead, today: date, kind: str = "") -> AheadPage:
    """Return the page of what will be due; of one kind where a number of it is opened."""
    shown = _of_kind(store.items, kind) if kind else _within(store.items, today)
    return AheadPage(
        title=_title(store.all) if store.items else _("Nothing is in the register yet"),
        kinds=tuple(_kind_line(kind) for kind in store.kinds if kind.purchases.high),
        items=tuple(_item_ahead(one, found) for one, found in shown),
        later=0 if kind else len(store.items) - len(shown),
        opened=_opened(store, kind),
        classes=tuple(_cost_line(one) for one in store.classes),
        chart=describe_retired({(r.kind, r.year): r.count for r in _rows(store, today)}, _words()),
    )


def _opened(store: StoreAhead, kind: str) -> str:
    """Return what the chances of a kind's items come to, nothing where no kind is opened."""
    number = next((one.purchases.expected for one in store.kinds if one.kind == kind), None)
    if number is None:
        return ""
    return _(
        "%(kind)s: the chances of each item to retire in the year ahead add up to %(number)s.",
        kind=kind_word(kind),
        number=f"{number:.1f}",
    )


def ahead_for_chart(store: StoreAhead, today: date) -> tuple[list[Retired], RetiredWords]:
    """Return what the chart of items that will retire draws, and its words."""
    return _rows(store, today), _words()


def forecast_text(found: Forecast | None, rate: Rate) -> str:
    """Return when an item retires in a sentence, nothing where its use says nothing."""
    if found is None or not rate.pulls or found.early == found.late:
        return ""
    told = _("at %(rate)s pulls a month it retires", rate=f"{rate.a_month:.2g}")
    if found.likely is None:
        return _("%(told)s no sooner than %(early)s", told=told, early=_day(found.early))
    return _(
        "%(told)s about %(likely)s (9 in 10: %(between)s)",
        told=told,
        likely=_day(found.likely),
        between=_between(found),
    )


def sum_text(cents: float, unpriced: int) -> str:
    """Return a sum of the school's own money, and that some of it is missing.

    >>> sum_text(12_950.2, 0)
    '129.50'
    """
    if not cents:
        return _("cost not known") if unpriced else "0"
    told = f"{round(cents) / 100:.2f}"
    return _("%(sum)s and more", sum=told) if unpriced else told


def _title(all_kinds: Purchases) -> str:
    if not all_kinds.high:
        return _("Nothing is known to retire in the year ahead")
    if all_kinds.low == all_kinds.high:
        return ngettext(
            "%(num)d item will retire in the year ahead",
            "%(num)d items will retire in the year ahead",
            all_kinds.high,
        )
    return ngettext(
        "%(low)d to %(num)d item will retire in the year ahead",
        "%(low)d to %(num)d items will retire in the year ahead",
        all_kinds.high,
        low=all_kinds.low,
    )


def _within(items: Sequence[Ahead], today: date) -> list[tuple[Ahead, Forecast]]:
    last = today + timedelta(days=YEARS_AHEAD * YEAR)
    return [
        (one, one.forecast)
        for one in items
        if one.forecast and one.forecast.likely and one.forecast.likely <= last
    ]


def _of_kind(items: Sequence[Ahead], kind: str) -> list[tuple[Ahead, Forecast]]:
    """Return the items of a kind that may retire in the year ahead, however unlikely it is."""
    of_kind = ((one, one.forecast) for one in items if one.item.kind == kind)
    return [(one, found) for one, found in of_kind if found and found.within_a_year]


def _rows(store: StoreAhead, today: date) -> list[Retired]:
    counts = Counter(
        (kind_word(one.item.kind), found.likely.year)
        for one, found in _within(store.items, today)
        if found.likely
    )
    return [Retired(kind, year, number) for (kind, year), number in sorted(counts.items())]


def _item_ahead(one: Ahead, found: Forecast) -> ItemAhead:
    return ItemAhead(
        id=one.item.id,
        name=one.item.mark,
        kind=kind_word(one.item.kind),
        likely=_day(found.likely),
        between="" if found.early == found.late else _between(found),
        chance=percent(found.within_a_year),
        why=str(COMING_WORDS[found.cause]) if found.cause else "",
        figure=found.cause.value if found.cause else "",
    )


def _kind_line(kind: KindAhead) -> KindLine:
    found = kind.purchases
    return KindLine(
        key=kind.kind,
        kind=kind_word(kind.kind),
        kept=kind.kept,
        expected=f"{found.expected:.1f}",
        between=_("%(low)s to %(high)s", low=found.low, high=found.high),
        cost=sum_text(kind.cents, kind.unpriced),
    )


def _cost_line(one: ClassCost) -> CostLine:
    return CostLine(one.title, one.on, sum_text(one.cents, one.unpriced), one.pulls)


def _between(found: Forecast) -> str:
    if found.late is None:
        return _("from %(early)s", early=_day(found.early))
    return _("%(early)s to %(late)s", early=_day(found.early), late=_day(found.late))


def _day(day: date | None) -> str:
    return "" if day is None else str(format_date(day, "medium"))


def _words() -> RetiredWords:
    return RetiredWords(
        title=_("Items that will retire, by kind and year"),
        count=_("items on their likely day"),
        none=_("Nothing is known to retire"),
    )
