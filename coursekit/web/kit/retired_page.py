"""The retirement count: how many of which kind in which year, and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.drawing.wear_chart import Retired, RetiredWords, describe_retired
from coursekit.services.kit import RetiredItem, RetiredRow
from coursekit.web.kit_words import kind_word


@dataclass(frozen=True)
class RetiredLine:
    """One kind in one year; `key` is the kind as an address names it."""

    key: str
    kind: str
    year: int
    count: int
    reasons: tuple[str, ...]


@dataclass(frozen=True)
class OpenedCount:
    """The items that make one number of the count."""

    kind: str
    year: int
    items: tuple[RetiredItem, ...]


@dataclass(frozen=True)
class RetiredPage:
    """The whole count, the newest year first."""

    title: str
    lines: tuple[RetiredLine, ...]
    chart: str
    opened: OpenedCount | None


def retired_page(
    rows: Sequence[RetiredRow], asked: tuple[str, int], items: Sequence[RetiredItem]
) -> RetiredPage:
    """Return the page of the retirement count, with the items of the number that is asked for."""
    kind, year = asked
    found = {(kind_word(row.kind), row.year): row.count for row in rows}
    return RetiredPage(
        title=_title(rows),
        lines=tuple(
            RetiredLine(row.kind, kind_word(row.kind), row.year, row.count, _reasons(row))
            for row in rows
        ),
        chart=describe_retired(found, _words()),
        opened=OpenedCount(kind_word(kind), year, tuple(items)) if items else None,
    )


def retired_for_chart(rows: Sequence[RetiredRow]) -> tuple[list[Retired], RetiredWords]:
    """Return what the chart of retirements draws, and its words."""
    return [Retired(kind_word(row.kind), row.year, row.count) for row in rows], _words()


def _title(rows: Sequence[RetiredRow]) -> str:
    counts: Counter[str] = Counter()
    for row in rows:
        counts[row.kind] += row.count
    if not counts:
        return _("Nothing has been retired yet")
    told = ngettext("%(num)d item retired so far", "%(num)d items retired so far", counts.total())
    kind, most = counts.most_common(1)[0]
    if most == 1:
        return told
    return _("%(told)s; most often: %(kind)s, %(n)s", told=told, kind=kind_word(kind), n=most)


def _reasons(row: RetiredRow) -> tuple[str, ...]:
    return tuple(
        reason if count == 1 else f"{reason} ({count})" for reason, count in row.reasons if reason
    )


def _words() -> RetiredWords:
    return RetiredWords(
        title=_("Items retired, by kind and year"),
        count=_("items retired"),
        none=_("Nothing has been retired"),
    )
