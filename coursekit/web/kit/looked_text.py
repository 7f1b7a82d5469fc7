"""What an examination of the past looked at, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from flask_babel import gettext as _

from coursekit.quantities.display import show_share
from coursekit.wear.inspection import Measure, Occasion, Seen, Way
from coursekit.wear.lists import criterion_of
from coursekit.web.kit_words import OCCASIONS, SEEN, core_text


@dataclass(frozen=True)
class LookedLine:
    """One line: what would be found, what was seen, and its sizes where it was measured."""

    text: str
    seen: str
    sizes: str
    is_found: bool


def looked_lines(detail: Mapping[str, Any]) -> tuple[LookedLine, ...]:
    """Return the lines that an entry kept, none where it kept none."""
    return tuple(_line(detail["list"], kept) for kept in detail.get("lines", ()))


def inspection_texts(detail: Mapping[str, Any]) -> Iterator[str]:
    """Yield why an item was examined, with what had happened to it, and what was found."""
    if "occasion" in detail:
        word = str(OCCASIONS[Occasion(detail["occasion"])])
        yield f"{word}: {detail['event']}" if "event" in detail else word
    for line in looked_lines(detail):
        if line.is_found:
            yield _("found: %(what)s", what=line.text)


def _line(name: str, kept: Mapping[str, Any]) -> LookedLine:
    criterion = criterion_of(name, kept["line"])
    seen = Seen(kept["seen"])
    measure = criterion.measure if criterion else None
    return LookedLine(
        text=core_text(criterion.text) if criterion else kept["line"],
        seen=str(SEEN[seen]),
        sizes=_sizes(measure, kept) if measure and "sizes" in kept else "",
        is_found=seen is Seen.FOUND,
    )


def _sizes(measure: Measure, kept: Mapping[str, Any]) -> str:
    typed = kept["typed"]
    if measure.way is Way.COUNT:
        return _("%(number)s counted", number=typed[0])
    share = show_share(measure.amount(kept["sizes"]), measure.limit)
    if measure.way is Way.PART:
        return _("%(number)s of %(all)s, %(share)s", number=typed[0], all=typed[1], share=share)
    if measure.way is Way.LOST:
        return _("%(new)s as new, %(now)s now, %(share)s lost", new=typed[0], now=typed[1],
                 share=share)  # fmt: skip
    return _("%(new)s as new, %(now)s now, %(share)s gained", new=typed[0], now=typed[1],
             share=share)  # fmt: skip
