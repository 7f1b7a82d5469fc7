"""Calendars as a phone or a desktop subscribes to them: iCalendar, RFC 5545."""

from __future__ import annotations

import re
import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from icalendar import TRANSP, Calendar, Event

MIMETYPE = "text/calendar"
MADE_BY = "-//coursekit//coursekit//EN"
HALF_A_DAY = timedelta(hours=12)
_NAMES = uuid.UUID("5c6a1b9e-0f4d-5d0a-9c1e-3a7f2b8d4e61")
# RFC 5545, 3.3.11: no control character stands in a text but the tab, and breaks
# of line, which are escaped.
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")


@dataclass(frozen=True)
class Entry:
    """What a calendar shows of one thing; `uid` stays the same whenever the feed is read."""

    uid: str
    title: str
    text: str = ""
    place: str = ""
    url: str = ""


@dataclass(frozen=True)
class OnDay:
    """An entry that is of a day, not of an hour, such as a due date."""

    entry: Entry
    day: date


@dataclass(frozen=True)
class Timed:
    """An entry from one moment to another; both are aware, in the zone where it happens."""

    entry: Entry
    begins: datetime
    ends: datetime


def stable_uid(*parts: object) -> str:
    """Return the identifier that the same parts always get, and no other parts.

    It tells nothing of them: RFC 7986, 5.3, wants neither host nor person in it.

    >>> stable_uid("kit", 7) == stable_uid("kit", 7) != stable_uid("kit7")
    True
    """
    return str(uuid.uuid5(_NAMES, repr(tuple(map(str, parts)))))


def calendar_bytes(
    name: str, entries: Sequence[OnDay | Timed], stamped: datetime, refresh: timedelta = HALF_A_DAY
) -> bytes:
    """Return a calendar as a file of UTF-8, its lines folded and its texts escaped.

    Parameters
    ----------
    name : str
        What the calendar is called where somebody subscribes to it.
    entries : sequence
        In any order; they come out by time, so that the same ones make the same bytes.
    stamped : datetime
        When the content was last known to be true, aware.
    refresh : timedelta
        How often it is worth looking again.

    Raises
    ------
    ValueError
        If a moment has no time zone, or something ends before it begins.

    Notes
    -----
    Source: RFC 5545 (iCalendar), RFC 7986 (name and refresh interval).

    Examples
    --------
    >>> from datetime import UTC
    >>> due = OnDay(Entry("u-1", "Inspect: Sling 1"), date(2026, 6, 13))
    >>> made = calendar_bytes("Kit", [due], datetime(2026, 6, 1, tzinfo=UTC))
    >>> b"DTEND;VALUE=DATE:20260614" in made
    True
    """
    _require_aware(stamped)
    calendar = Calendar.new(
        name=_plain(name),
        prodid=MADE_BY,
        uid=stable_uid("calendar", name),
        refresh_interval=refresh,
    )
    # RFC 7986, 5.7: this property has no type of its own, so it names one.
    calendar["REFRESH-INTERVAL"].params["VALUE"] = "DURATION"
    for one in sorted(entries, key=_by_time):
        calendar.add_component(_event(one, stamped))
    _add_timezones(calendar, [one for one in entries if isinstance(one, Timed)])
    return bytes(calendar.to_ical())


def _event(one: OnDay | Timed, stamped: datetime) -> Event:
    begins, ends = _span(one)
    entry = one.entry
    return Event.new(
        uid=entry.uid,
        stamp=stamped,
        start=begins,
        end=ends,
        summary=_plain(entry.title),
        description=_plain(entry.text) or None,
        location=_plain(entry.place) or None,
        url=entry.url or None,
        # A due date makes nobody busy.
        transparency=TRANSP.TRANSPARENT if isinstance(one, OnDay) else TRANSP.OPAQUE,
    )


def _span(one: OnDay | Timed) -> tuple[date, date]:
    """Return start and end; the end of a day is the next day, which it doesn't reach."""
    if isinstance(one, OnDay):
        return one.day, one.day + timedelta(days=1)
    for moment in (one.begins, one.ends):
        _require_aware(moment)
    if one.ends < one.begins:
        raise ValueError(f"{one.entry.title} ends before it begins")
    return one.begins, one.ends


def _require_aware(moment: datetime) -> None:
    if moment.tzinfo is None:
        raise ValueError("a moment without a time zone can't stand in a calendar")


def _by_time(one: OnDay | Timed) -> tuple[str, str]:
    return (_span(one)[0].isoformat(), one.entry.uid)


def _add_timezones(calendar: Calendar, timed: Iterable[Timed]) -> None:
    """Say what each zone means, for the years that the calendar speaks of."""
    moments = [moment.date() for one in timed for moment in (one.begins, one.ends)]
    if moments:
        first, last = min(moments), max(moments)
        calendar.add_missing_timezones(
            first_date=date(first.year, 1, 1), last_date=date(last.year + 2, 1, 1)
        )


def _plain(text: str) -> str:
    return _CONTROL.sub("", text.replace("\r\n", "\n"))
