"""View model of a class's records: the results as they stand, and what was issued of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from flask_babel import gettext as _
from flask_babel import ngettext

from coursekit.services.records import Listed
from coursekit.services.results import ClassResults, StudentResult
from coursekit.web.records.pages import RecordLine, record_line
from coursekit.web.yard_words import yard_notes

COMPETENT = "competent"


@dataclass(frozen=True)
class ResultLine:
    """One student of the class: the outcome as it stands, and the record if one was issued."""

    student: str
    outcome: str
    marks: str
    is_near_cut: bool
    missing: tuple[str, ...]
    yard: tuple[str, ...]
    record: RecordLine | None
    differs: bool


@dataclass(frozen=True)
class ClassRecordsPage:
    """The records of a class."""

    class_id: int
    title: str
    class_title: str
    on: date
    is_closed: bool
    lines: tuple[ResultLine, ...]
    waiting: int


def class_records_page(results: ClassResults, issued: Sequence[Listed]) -> ClassRecordsPage:
    """Return the page of a class's records."""
    records = {row.line.person_id: record_line(row) for row in issued}
    lines = tuple(_line(student, records.get(student.person_id)) for student in results.students)
    competent = sum(1 for line in lines if line.outcome == COMPETENT)
    return ClassRecordsPage(
        class_id=results.head.id,
        title=ngettext(
            "%(competent)s of %(num)d student is competent",
            "%(competent)s of %(num)d students are competent",
            len(lines),
            competent=competent,
        )
        if lines
        else _("Nobody joined this class"),
        class_title=results.head.title,
        on=results.head.on,
        is_closed=results.head.status == "closed",
        lines=lines,
        waiting=sum(1 for line in lines if line.record is None or line.differs),
    )


def _line(student: StudentResult, record: RecordLine | None) -> ResultLine:
    return ResultLine(
        student=student.name,
        outcome=student.outcome,
        marks=f"{student.marks:g} / {student.out_of:g}",
        is_near_cut=student.is_near_cut,
        missing=tuple(one.scenario.title for one in student.scenarios if one.counting is None),
        yard=tuple(yard_notes(student)),
        record=record,
        differs=record is not None and record.moved is not None,
    )
