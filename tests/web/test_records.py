"""Records on the pages: issued, listed, printed, checked by anybody."""

from __future__ import annotations

from datetime import datetime
from io import BytesIO

import pytest
from flask import Flask
from freezegun.api import FrozenDateTimeFactory
from openpyxl import load_workbook
from pypdf import PdfReader
from sqlalchemy import select, update

from coursekit.services import teaching
from coursekit.store.tables import AssessmentRecord, Certificate, Person
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.classroom import COMPETENT, handed_in
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor


@pytest.fixture
def closed(unit: Unit, cast: Cast) -> str:
    """The address of the records of the cast's class, which Ana did well and Mara closed."""
    handed_in(unit, cast, NOW, **COMPETENT)
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, NOW)
    return f"/records/classes/{cast.class_id}"


@pytest.fixture
def record(instructor: Visitor, closed: str, unit: Unit) -> str:
    """The address of Ana's record."""
    instructor.open(closed).send(place="North yard", conditions="wet clay")
    with unit.read() as session:
        return f"/records/{session.scalars(select(AssessmentRecord.id)).one()}"


def words_of(visitor: Visitor, path: str) -> str:
    response = visitor.client.get(path)
    assert response.mimetype == "application/pdf"
    pages = PdfReader(BytesIO(response.data)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_an_open_class_is_told_to_be_closed_first(instructor: Visitor, cast: Cast) -> None:
    instructor.open(f"/records/classes/{cast.class_id}")
    assert "once the class is closed" in instructor.html
    assert instructor.heading == "0 of 1 student is competent"


def test_records_are_issued_with_the_place_and_never_twice(
    instructor: Visitor, closed: str
) -> None:
    instructor.open(closed).send(place="North yard")
    assert "1 record is issued, with 1 certificate." in instructor.html
    assert "until Jun 13, 2029" in instructor.html
    instructor.send(place="North yard")
    assert "Nothing is new" in instructor.html


def test_a_missing_place_is_told_beside_its_field_and_nothing_typed_is_lost(
    instructor: Visitor, closed: str
) -> None:
    instructor.open(closed).send(place="", conditions="wet clay")
    assert instructor.status == 422
    assert "wet clay" in instructor.html


def test_the_list_answers_who_is_competent(instructor: Visitor, record: str) -> None:
    instructor.open("/records")
    assert instructor.heading == "1 person is competent today"
    for narrowed, found in (("?words=ana", True), ("?words=bert", False),
                            ("?standing=valid", True), ("?standing=expired", False)):  # fmt: skip
        instructor.open(f"/records{narrowed}")
        assert ("Ana Lim" in instructor.html) == found


def test_what_runs_out_is_told_as_the_days_pass(
    unit: Unit, instructor: Visitor, record: str, clock: FrozenDateTimeFactory, app: Flask
) -> None:  # fmt: skip
    told = []
    for day in ("2029-04-13", "2029-04-14", "2029-06-13T22:59", "2029-06-13T23:00"):
        clock.move_to(datetime.fromisoformat(f"{day}+00:00"))
        anybody = Visitor(app.test_client()).open(f"/check?code={code_of(unit)}")
        told.append(anybody.heading)
    assert told == [
        "Ana Lim is competent until Jun 13, 2029",
        "Ana Lim is competent until Jun 13, 2029",
        "Ana Lim is competent until Jun 13, 2029",
        "Ana Lim: this certificate is run out",
    ]


def code_of(unit: Unit) -> str:
    with unit.read() as session:
        return session.scalars(select(Certificate.code)).one()


def test_the_record_tells_all_and_prints(instructor: Visitor, record: str) -> None:
    instructor.open(record)
    assert instructor.heading == "Ana Lim: competent"
    printed = words_of(instructor, f"{record}.pdf")
    for text in ("North yard", "wet clay", "7.55 kN", "Mara Quint", "ground.slope", "Hash"):
        assert text in printed
    for text in ("North yard", "7.55", "ground.slope"):
        assert text in instructor.html


def test_all_records_of_a_student_print_as_one_list(
    instructor: Visitor, record: str, cast: Cast
) -> None:
    person = f"/records/people/{cast.student.actor.person_id}"
    assert "Print all records" in instructor.open(person).html
    printed = words_of(instructor, f"{person}.pdf")
    for text in ("Ana Lim", "Records of a student", "Competent", "until Jun 13, 2029"):
        assert text in printed


def test_the_certificate_prints_with_its_code_and_what_was_not_assessed(
    instructor: Visitor, record: str
) -> None:
    instructor.open(f"{record}/certificate")
    assert instructor.heading == "Ana Lim is competent until Jun 13, 2029"
    printed = words_of(instructor, f"{record}/certificate.pdf")
    for text in ("Ana Lim", "What was not assessed", "driving, first aid", "It is no licence"):
        assert text in printed
    assert "certified" not in printed.lower()
    assert instructor.client.get(f"{record}/code.svg").mimetype == "image/svg+xml"


def test_anybody_checks_a_code_and_reads_no_more_than_the_certificate(
    unit: Unit, instructor: Visitor, record: str, app: Flask
) -> None:
    code = code_of(unit)
    anybody = Visitor(app.test_client()).open(f"/C/{code}")
    assert anybody.heading == "Ana Lim is competent until Jun 13, 2029"
    for text in ("7.55", "North yard", "wet clay", "Mara Quint"):
        assert text not in anybody.html


def test_a_wrong_and_a_mistyped_code_say_so(visitor: Visitor) -> None:
    visitor.open("/C/000000000000000N")
    assert (visitor.status, "no such record" in visitor.html) == (404, True)
    visitor.open("/check?code=ABCD")
    assert visitor.status == 422
    assert "A code has 16" in visitor.html
    assert visitor.value("code") == "ABCD"


def test_guessing_at_speed_is_told_to_wait(visitor: Visitor) -> None:
    for _ in range(41):
        visitor.open("/C/000000000000000N")
    visitor.open("/C/000000000000000N")
    assert visitor.status == 429
    assert int(visitor.response.headers["Retry-After"]) >= 1


def test_the_head_withdraws_with_a_reason_that_the_check_does_not_show(
    unit: Unit, instructor: Visitor, record: str, app: Flask
) -> None:
    instructor.open(f"{record}/judge").send(act="withdrawn", reason="a wrong key")
    assert "Withdrawn by Mara Quint" in instructor.html
    anybody = Visitor(app.test_client()).open(f"/C/{code_of(unit)}")
    assert anybody.heading == "Ana Lim: this certificate is withdrawn"
    assert "a wrong key" not in anybody.html
    instructor.open(f"{record}/judge").send(act="reinstated", reason="after all")
    assert instructor.status == 422
    assert "after all" in instructor.html


def test_a_student_reads_the_own_record_and_nobody_elses(
    student: Visitor, record: str, app: Flask, cast: Cast
) -> None:
    student.open("/my-records")
    assert student.heading == "You have 1 record of assessment"
    assert student.open(record).heading == "Ana Lim: competent"
    assert words_of(student, f"{record}/certificate.pdf")
    assert on_the_device_of(app, cast.outsider).open(record).status == 404


def test_tables_hold_the_list_and_no_formula(instructor: Visitor, record: str, unit: Unit) -> None:
    with unit.write() as session:
        session.execute(update(Person).where(Person.name == "Ana Lim").values(name="=1+1"))
    csv = instructor.client.get("/records/table.csv").data.decode("utf-8-sig")
    assert "'=1+1" in csv
    book = load_workbook(BytesIO(instructor.client.get("/records/table.xlsx").data))
    cells = [cell for row in book.worksheets[0].iter_rows(values_only=True) for cell in row]
    assert "'=1+1" in cells
    assert "competent" in str(cells).lower()


def test_the_record_tells_the_rig_that_was_built_and_draws_it(
    instructor: Visitor, record: str
) -> None:
    rig = ("It ends at loaded utility 4x4, rear with Soft 1.", "On it lies Damper 1.")
    instructor.open(record)
    assert instructor.html.count('class="plan-svg"') == 1
    printed = words_of(instructor, f"{record}.pdf")
    for text in rig:
        assert text in instructor.html
        assert text in printed
    assert "the rig drawn here" not in instructor.html + printed
