"""Has an item enough left for the day?  A shape, few words, and a bar against what is planned."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.wear.planning import Enough
from coursekit.web.kit.pages import bar_of
from coursekit.web.standing import Tag


@dataclass(frozen=True)
class EnoughLine:
    """What is planned for one item and whether it has so much left.

    The bar is what is left, and its tick what is planned; None where nothing is counted.
    """

    tag: Tag
    bar: float | None
    text: str


def enough_line(found: Enough) -> EnoughLine:
    """Return the line of one item.

    >>> from coursekit.wear.planning import Enough
    >>> enough_line(Enough(planned=0, heavy=0, covered=0, use=0.0, left=5.0, sharing=1)).bar
    """
    left = found.left if found.planned else None
    return EnoughLine(
        tag=_tag(found),
        bar=None if left is None else bar_of(left, found.use),
        text=" · ".join(_texts(found)),
    )


def _tag(found: Enough) -> Tag:
    if not found.planned:
        return Tag("○", _("no pull is planned for it"), "soft")
    if found.left is None:
        return Tag("○", _("no use count"), "soft")
    if found.is_enough:
        return Tag("✓", _("enough for today"), "good")
    return Tag("▲", _("not enough for today"), "stop")


def _texts(found: Enough) -> Iterator[str]:
    if not found.planned:
        return
    planned = ngettext("%(num)d pull planned", "%(num)d pulls planned", found.planned)
    if found.left is None:
        yield _("%(planned)s: inspection and age decide", planned=planned)
        return
    yield _("%(planned)s, enough left for %(covered)s", planned=planned, covered=found.covered)
    if found.heavy:
        yield ngettext("%(num)d of them heavy", "%(num)d of them heavy", found.heavy)
    needed, left = shown_amounts(found.use, found.left)
    yield _("use count: %(needed)s needed, %(left)s left", needed=needed, left=left)
    if found.sharing > 1:
        yield _("%(num)s of its type take turns, shares rounded up", num=found.sharing)


def shown_amounts(needed: float, left: float) -> tuple[str, str]:
    """Return what is needed, rounded up, and what is left, rounded down.

    They get as many decimals as it takes not to speak against each other.

    >>> shown_amounts(12.0, 9.0), shown_amounts(9.04, 9.06)
    (('12', '9'), ('9.04', '9.06'))
    """
    up = down = 0.0
    for tens in (10.0, 100.0, 10_000.0, 1_000_000.0):
        up, down = ceil(needed * tens) / tens, floor(left * tens) / tens
        if (up <= down) == (needed <= left):
            break
    return f"{up:.10g}", f"{down:.10g}"
