"""View models of the lists: who is competent until when, and what a class's records are."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.assessment.codes import grouped
from coursekit.assessment.validity import Validity
from coursekit.services.records import Listed
from coursekit.web.filters import day
from coursekit.web.verdicts import VALIDITIES, outcome_of, validity_of

MOST_SHOWN = 200
HOLDS = (Validity.VALID, Validity.EXPIRING)
NO_CERTIFICATE = "none"


@dataclass(frozen=True)
class RecordLine:
    """One record in a list."""

    record_id: int
    person_id: int
    student: str
    course: str
    title: str
    on: date
    outcome: str
    validity: str | None
    until: date | None
    moved: str | None


@dataclass(frozen=True)
class FilterLink:
    """One filter that is a link."""

    value: str
    text: str
    number: int
    here: bool


@dataclass(frozen=True)
class StaleLink:
    """A class with records that no longer say what its marks say."""

    class_id: int
    text: str


@dataclass(frozen=True)
class Search:
    """What a list is narrowed to."""

    words: str = ""
    standing: str = ""
    course: str = ""


@dataclass(frozen=True)
class RecordsPage:
    """The list of records; its title answers who is competent."""

    title: str
    search: Search
    standings: tuple[FilterLink, ...]
    courses: tuple[FilterLink, ...]
    lines: tuple[RecordLine, ...]
    more: int
    is_empty: bool
    stale: tuple[StaleLink, ...]


def records_page(rows: Sequence[Listed], search: Search) -> RecordsPage:
    """Return the list of records, narrowed by a search."""
    found = tuple(chosen(rows, search))
    return RecordsPage(
        title=_title(rows),
        search=search,
        standings=tuple(_standing_links(rows, search)),
        courses=tuple(_course_links(rows, search)),
        lines=tuple(map(record_line, found[:MOST_SHOWN])),
        more=max(0, len(found) - MOST_SHOWN),
        is_empty=not rows,
        stale=tuple(_stale(rows)),
    )


def chosen(rows: Iterable[Listed], search: Search) -> Iterator[Listed]:
    """Yield the records that meet a search; what runs out first comes first where that is asked."""
    words = search.words.casefold().split()
    found = (
        row
        for row in rows
        if (not search.standing or _standing(row) == search.standing)
        and (not search.course or row.line.course == search.course)
        and all(word in _text(row) for word in words)
    )
    if search.standing in (Validity.EXPIRING, Validity.VALID):
        return iter(sorted(found, key=_expires))
    return found


def record_line(row: Listed) -> RecordLine:
    """Return one record as it stands in a list."""
    certificate = row.line.certificate
    return RecordLine(
        row.line.record_id,
        row.line.person_id,
        row.line.student,
        row.line.course,
        row.line.title,
        row.line.on,
        row.line.outcome,
        None if row.validity is None else row.validity.value,
        None if certificate is None else certificate.term.expires,
        row.moved,
    )


def table_rows(rows: Iterable[Listed]) -> Iterator[list[str]]:
    """Yield the records as rows of a table, with their heads first."""
    yield [_("student"), _("course"), _("class"), _("day"), _("outcome"), _("certificate"),
           _("from"), _("until"), _("code"), _("record"), _("marks now say")]  # fmt: skip
    for row in rows:
        certificate = row.line.certificate
        held = ["", "", "", ""]
        if certificate is not None and row.validity is not None:
            held = [
                str(validity_of(row.validity.value).word),
                certificate.term.effective.isoformat(),
                certificate.term.expires.isoformat(),
                grouped(certificate.code),
            ]
        yield [
            row.line.student,
            row.line.course,
            row.line.title,
            row.line.on.isoformat(),
            str(outcome_of(row.line.outcome).word),
            *held,
            str(row.line.seq),
            "" if row.moved is None else str(outcome_of(row.moved).word),
        ]


def _title(rows: Sequence[Listed]) -> str:
    holding = {row.line.person_id for row in rows if row.validity in HOLDS}
    soon = [row for row in rows if row.validity is Validity.EXPIRING]
    if not rows:
        return _("No record of assessment was issued yet")
    title = ngettext(
        "%(num)d person is competent today", "%(num)d people are competent today", len(holding)
    )
    if not soon:
        return title
    return _("%(title)s; the next runs out on %(day)s", title=title, day=day(_expires(
        min(soon, key=_expires))))  # fmt: skip


def _stale(rows: Sequence[Listed]) -> Iterator[StaleLink]:
    moved = [row.line for row in rows if row.moved is not None]
    titles = {line.class_id: f"{line.title} · {day(line.on)}" for line in moved}
    for class_id, title in titles.items():
        number = sum(1 for line in moved if line.class_id == class_id)
        text = ngettext(
            "%(title)s: %(num)d record no longer says what the marks say: issue it again",
            "%(title)s: %(num)d records no longer say what the marks say: issue them again",
            number,
            title=title,
        )
        yield StaleLink(class_id, text)


def _expires(row: Listed) -> date:
    certificate = row.line.certificate
    return date.max if certificate is None else certificate.term.expires


def _standing(row: Listed) -> str:
    return NO_CERTIFICATE if row.validity is None else row.validity.value


def _text(row: Listed) -> str:
    return f"{row.line.student} {row.line.title} {row.line.course}".casefold()


def _standing_links(rows: Sequence[Listed], search: Search) -> Iterator[FilterLink]:
    words = {key: str(mark.word) for key, mark in VALIDITIES.items()}
    words[NO_CERTIFICATE] = _("No certificate")
    for key, text in words.items():
        number = sum(1 for row in rows if _standing(row) == key)
        if number:
            yield FilterLink(key, text, number, here=search.standing == key)


def _course_links(rows: Sequence[Listed], search: Search) -> Iterator[FilterLink]:
    courses = sorted({row.line.course for row in rows})
    if len(courses) > 1:
        for course in courses:
            number = sum(1 for row in rows if row.line.course == course)
            yield FilterLink(course, course, number, here=search.course == course)
