"""A class report, a record and a student's records as tables, for a spreadsheet."""

from __future__ import annotations

import csv
from io import BytesIO, StringIO
from typing import Any

import pytest
from openpyxl import load_workbook
from sqlalchemy import select, update

from coursekit.services import answering, recording, teaching
from coursekit.services.answering import Join
from coursekit.services.recording import Circumstances
from coursekit.store.tables import AssessmentRecord, Person
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.classroom import COMPETENT, handed_in
from tests.web.visitor import Visitor

# What openpyxl reads back of a cell with nothing in it.
EMPTY: Any = None


@pytest.fixture
def record(unit: Unit, cast: Cast) -> str:
    """The address of Ana's record, in a class in which Bert handed nothing in."""
    answering.join_class(unit, Join(cast.join_code, "Bert Hale"), NOW)
    handed_in(unit, cast, NOW, **COMPETENT)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, NOW)
    yard = Circumstances("North yard", "wet clay", "")
    recording.issue(unit, cast.instructor.actor, cast.class_id, yard, NOW)
    with unit.read() as session:
        record_id = session.scalars(
            select(AssessmentRecord.id).where(
                AssessmentRecord.person_id == cast.student.actor.person_id
            )
        ).one()
    return f"/records/{record_id}"


def read(visitor: Visitor, path: str) -> list[list[str]]:
    response = visitor.client.get(f"{path}.csv")
    assert response.mimetype == "text/csv"
    return list(csv.reader(StringIO(response.data.decode("utf-8-sig"))))


def cells(visitor: Visitor, path: str) -> list[list[Any]]:
    response = visitor.client.get(f"{path}.xlsx")
    book = load_workbook(BytesIO(response.data))
    # The sheet is called what the file is.
    assert f'"{book.sheetnames[0]}.xlsx"' in response.headers["Content-Disposition"]
    return [list(row) for row in book.worksheets[0].iter_rows(values_only=True)]


def test_the_class_report_is_a_table_of_students_by_tasks(
    instructor: Visitor, cast: Cast, record: str
) -> None:
    report = f"/classes/{cast.class_id}/report"
    head, ana, bert = read(instructor, report)
    assert head[:5] == ["student", "outcome", "marks", "out of", "tries"]
    assert head[5].startswith("Bogged at the ford exit: 1. ")
    assert head[5].endswith("(of 3)")
    assert len(head) == 5 + 7 + 1
    assert ana[:5] == ["Ana Lim", "Competent", "15", "18", "1"]
    # The marks of the tasks add up to those of the student.
    assert sum(map(float, ana[5:12])) == 15.0
    assert bert[:5] == ["Bert Hale", "Not yet competent", "", "", "0"]
    assert bert[5:12] == [""] * 7
    sheet = cells(instructor, report)
    assert (sheet[1][0], sheet[1][2], sheet[2][2]) == ("Ana Lim", 15, EMPTY)
    assert f"{report}.csv" in instructor.open(report).html


def test_a_record_is_a_table_with_all_that_its_page_says(instructor: Visitor, record: str) -> None:
    head, *lines = read(instructor, record)
    assert head == ["part", "what", "said", "marks", "out of", "verdict", "why"]
    said = {(what, answer) for _part, what, answer, *_rest in lines}
    assert {("Place", "North yard"), ("Conditions", "wet clay"), ("Student", "Ana Lim")} <= said
    total = next(line for line in lines if line[1] == "What is the total resistance?")
    assert total[2:6] == ["7.55\N{NO-BREAK SPACE}kN", "3", "3", "Right"]
    rig = next(line for line in lines if line[1] == "How do you rig it?")
    assert "On it lies Damper 1." in rig[2]
    assert lines[-1][1] == "Hash of the record before"
    assert len(cells(instructor, record)) == len(lines) + 1
    assert f"{record}.xlsx" in instructor.open(record).html


def test_a_student_takes_the_own_records_as_a_table(
    student: Visitor, cast: Cast, record: str
) -> None:
    mine = f"/records/people/{cast.student.actor.person_id}"
    head, line = read(student, mine)
    assert dict(zip(head, line, strict=True))["until"] == "2029-06-13"
    assert cells(student, mine)[1][0] == "Ana Lim"
    assert f"{mine}.csv" in student.open("/my-records").html


def test_no_name_computes_anything_in_a_spreadsheet(
    unit: Unit, instructor: Visitor, cast: Cast, record: str
) -> None:
    with unit.write() as session:
        session.execute(update(Person).where(Person.name == "Ana Lim").values(name="=1+1"))
    person = f"/records/people/{cast.student.actor.person_id}"
    for path in (f"/classes/{cast.class_id}/report", record, person):
        for table in (read(instructor, path), cells(instructor, path)):
            names = [cell for row in table for cell in row if "1+1" in str(cell)]
            assert names, path
            assert all(name.startswith("'=") for name in names), path
