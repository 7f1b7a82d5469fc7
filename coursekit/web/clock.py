"""The one place where the web reads the clock."""

from __future__ import annotations

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo


def now() -> datetime:
    """Return the present moment, aware and in UTC."""
    return datetime.now(UTC)  # noqa: TID251 - the one reading of the clock in the web


def today(timezone: str) -> date:
    """Return the date that a calendar shows in a time zone.

    >>> today("Pacific/Kiritimati") >= today("Pacific/Pago_Pago")
    True
    """
    return now().astimezone(ZoneInfo(timezone)).date()
