"""What an item was exposed to, in words: of one entry, and of its whole life."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.services.exposing import Exposed
from coursekit.services.kit import LifeLine
from coursekit.wear.ledger import Kind
from coursekit.web.kit_words import EXPOSURES


def exposure_text(detail: Mapping[str, Any]) -> str:
    """Return what one entry tells of an exposure, nothing where it tells of none."""
    what = detail.get("condition")
    if what not in EXPOSURES:
        return ""
    word = str(EXPOSURES[Exposed(what)])
    return f"{word}, {_hours(detail['hours'])}" if "hours" in detail else word


def exposed_text(lines: Iterable[LifeLine]) -> str:
    """Return how often an item was exposed to what, and how long it lay in the sun."""
    known = [
        line.detail
        for line in lines
        if line.kind == Kind.EXPOSURE and not line.is_reversed and "condition" in line.detail
    ]
    often = Counter(detail["condition"] for detail in known)
    hours = sum(detail.get("hours", 0) for detail in known)
    return ", ".join(
        f"{word}: {_hours(hours) if what is Exposed.SUN else _times(often[what])}"
        for what, word in EXPOSURES.items()
        if often[what]
    )


def _hours(hours: int) -> str:
    return _("%(hours)s h", hours=hours)


def _times(number: int) -> str:
    return ngettext("%(num)d time", "%(num)d times", number)
