"""Calendars, held against RFC 5545 and read back by two readers that are not ours."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from io import StringIO
from zoneinfo import ZoneInfo

import pytest
from dateutil.tz import tzical
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from coursekit.files.calendar import Entry, OnDay, Timed, calendar_bytes, stable_uid

STAMPED = datetime(2026, 6, 1, 0, 0, tzinfo=UTC)
LONDON = ZoneInfo("Europe/London")
DUE = OnDay(Entry("due-1", "Inspect 2 items: Sling 7, Bow 1"), date(2026, 6, 13))
CLASS = Timed(
    Entry("class-1", "Winch basics", place="Yard; north, by the gate"),
    datetime(2026, 3, 28, 9, 0, tzinfo=LONDON),
    datetime(2026, 3, 29, 16, 30, tzinfo=LONDON),
)
# Whatever a person may type; a lone surrogate is no text.
TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=200)


def made(*entries: OnDay | Timed, name: str = "Kit") -> bytes:
    return calendar_bytes(name, entries, STAMPED)


def lines(file: bytes) -> list[str]:
    """Return the content lines, unfolded as RFC 5545, 3.1, says."""
    return file.decode().replace("\r\n ", "").splitlines()


@pytest.mark.source("RFC 5545, 3.1: lines end with CRLF and have 75 octets at most, break excluded")
@given(title=TEXTS)
def test_lines_are_folded_at_75_octets_and_end_with_crlf(title: str) -> None:
    file = made(OnDay(Entry("u-1", f"Inspect {title}"), DUE.day))

    assert file.endswith(b"END:VCALENDAR\r\n")
    assert re.search(rb"(?<!\r)\n|\r(?!\n)", file) is None
    assert max(map(len, file.split(b"\r\n"))) <= 75
    # A fold never falls into a letter.
    assert all(line.decode() or not line for line in file.split(b"\r\n"))


@pytest.mark.source("RFC 5545, 3.6.1: the DTEND of an event of whole days is not part of it")
def test_a_due_date_ends_before_the_next_day() -> None:
    found = lines(made(DUE))

    assert "DTSTART;VALUE=DATE:20260613" in found
    assert "DTEND;VALUE=DATE:20260614" in found


@pytest.mark.source("RFC 5545, 3.3.11: backslash, semicolon, comma and line break are escaped")
def test_texts_are_escaped() -> None:
    entry = Entry("u-1", "Sling 7, cut; or \\ not", "first\r\nsecond")

    found = lines(made(OnDay(entry, DUE.day)))
    assert "SUMMARY:Sling 7\\, cut\\; or \\\\ not" in found
    assert "DESCRIPTION:first\\nsecond" in found


@pytest.mark.source("RFC 5545, 3.6 and 3.6.1: PRODID, VERSION, UID and DTSTAMP have to be there")
def test_what_has_to_be_there_is_there_once() -> None:
    found = lines(made(DUE))

    for needed in ("VERSION:2.0", "PRODID:", "DTSTAMP:20260601T000000Z", "UID:due-1"):
        assert sum(line.startswith(needed) for line in found) == 1


@pytest.mark.source("RFC 7986, 5.7: REFRESH-INTERVAL names its type")
def test_a_reader_is_told_when_to_look_again() -> None:
    assert "REFRESH-INTERVAL;VALUE=DURATION:PT12H" in lines(made(DUE))


def test_a_due_date_makes_nobody_busy_and_a_class_does() -> None:
    assert [line for line in lines(made(DUE, CLASS)) if line.startswith("TRANSP")] == [
        "TRANSP:OPAQUE",
        "TRANSP:TRANSPARENT",
    ]


@pytest.mark.independent("the parser of icalendar")
@given(title=TEXTS.map(str.strip).filter(bool), text=TEXTS, place=TEXTS)
def test_what_is_written_is_what_a_reader_reads(title: str, text: str, place: str) -> None:
    entry = Entry("u-1", f"a {title}", f"b {text}", f"c {place}", "https://example.org/?a=1,2;3")
    (read,) = Calendar.from_ical(made(OnDay(entry, DUE.day))).events

    assert read["SUMMARY"] == readable(entry.title)
    assert read["DESCRIPTION"] == readable(entry.text)
    assert read["LOCATION"] == readable(entry.place)
    assert read["URL"] == entry.url
    assert (read.start, read.end) == (DUE.day, DUE.day + timedelta(days=1))


def readable(text: str) -> str:
    """Return a text without what RFC 5545 lets in no text; a break is a line feed."""
    return re.sub(r"[\x00-\x08\x0b-\x1f\x7f]", "", text.replace("\r\n", "\n"))


@pytest.mark.independent("the parser of icalendar")
def test_a_moment_keeps_its_zone() -> None:
    (read,) = Calendar.from_ical(made(CLASS)).events

    assert (read.start, read.end) == (CLASS.begins, CLASS.ends)
    assert "DTSTART;TZID=Europe/London:20260328T090000" in lines(made(CLASS))


@pytest.mark.independent("dateutil's reader of VTIMEZONE, against the time zone database")
@pytest.mark.parametrize(
    "zone", ["Europe/London", "America/Denver", "Australia/Sydney", "Asia/Kathmandu"]
)
def test_the_zone_is_told_as_it_is_the_year_round(zone: str) -> None:
    here = ZoneInfo(zone)
    noons = [
        STAMPED.replace(month=month, day=day, hour=12)
        for month in range(1, 13)
        for day in (1, 9, 17, 25)
    ]
    moments = [noon.replace(tzinfo=None) for noon in noons]
    begins, ends = (moments[at].replace(tzinfo=here) for at in (0, -1))
    told = tzical(StringIO(made(Timed(CLASS.entry, begins, ends)).decode().replace("\r\n", "\n")))

    read = told.get(zone)
    assert [read.utcoffset(moment) for moment in moments] == [
        here.utcoffset(moment) for moment in moments
    ]


def test_the_same_entries_make_the_same_bytes_in_any_order() -> None:
    assert made(DUE, CLASS) == made(CLASS, DUE)


def test_an_empty_calendar_can_be_read() -> None:
    read = Calendar.from_ical(made(name="Nothing due"))

    assert read.calendar_name == "Nothing due"
    assert read.events == []


def test_an_identifier_is_as_random_to_see_as_rfc_7986_wants_and_stays() -> None:
    uid = stable_uid("Fernbank Recovery School", "inspection", DUE.day)

    assert re.fullmatch(r"[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}", uid)
    assert uid == stable_uid("Fernbank Recovery School", "inspection", "2026-06-13")
    assert stable_uid("a", "bc") != stable_uid("ab", "c")


@pytest.mark.parametrize(
    ("begins", "ends"),
    [
        (CLASS.begins.replace(tzinfo=None), CLASS.ends.replace(tzinfo=None)),
        (CLASS.ends, CLASS.begins),
    ],
)
def test_a_moment_without_zone_and_an_end_before_the_beginning_are_refused(
    begins: datetime, ends: datetime
) -> None:
    with pytest.raises(ValueError, match=r"time zone|before it begins"):
        made(Timed(CLASS.entry, begins, ends))


def test_a_stamp_without_zone_is_refused() -> None:
    with pytest.raises(ValueError, match="time zone"):
        calendar_bytes("Kit", [DUE], STAMPED.replace(tzinfo=None))
