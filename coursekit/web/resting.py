"""What still rests after its last pull: a stretched line recovers slowly."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from flask_babel import format_time
from flask_babel import gettext as _

from coursekit.services.kit import ItemRow
from coursekit.web import clock


def rest_text(until: datetime | None) -> str:
    """Return until when an item rests, nothing where it needs no rest or its rest is over."""
    if until is None or until <= clock.now():
        return ""
    return _("rests until %(time)s", time=format_time(until, "HH:mm"))


def resting(rows: Iterable[ItemRow]) -> tuple[str, ...]:
    """Return which of some items still rest, each with the time until it does."""
    told = ((row.mark, rest_text(row.rest_until)) for row in rows)
    return tuple(f"{mark} {text}" for mark, text in dict(told).items() if text)
