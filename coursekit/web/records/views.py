"""The pages of records: the list, one record, its certificate, and what a student has."""

from __future__ import annotations

from flask import Response, abort, render_template, request, url_for
from flask.typing import ResponseReturnValue

from coursekit.services import records as service
from coursekit.services.actor import Role
from coursekit.services.records import CertificateRow, RecordView
from coursekit.web import clock
from coursekit.web.given_out import pdf_response, table_response
from coursekit.web.identity import actor, someone, unit
from coursekit.web.qr import qr_svg
from coursekit.web.records.pages import Search, chosen, record_line, records_page, table_rows
from coursekit.web.records.record_page import CertificatePage, certificate_page, record_page
from coursekit.web.records.record_table import record_rows
from coursekit.web.records.sheets import certificate_sheet, person_sheet, record_sheet

LONGEST = 60


def records() -> ResponseReturnValue:
    """Show who is competent until when."""
    page = records_page(service.records(unit(), actor(), clock.now()), _search())
    return render_template("records/records.html", page=page)


def table_csv() -> ResponseReturnValue:
    """Give the list out as CSV, narrowed as it is on the screen."""
    return _table("records.csv")


def table_xlsx() -> ResponseReturnValue:
    """Give the list out as a spreadsheet, narrowed as it is on the screen."""
    return _table("records.xlsx")


def person(person_id: int) -> ResponseReturnValue:
    """Show every record of a student, over all classes."""
    rows = service.records_of_person(unit(), actor(), person_id, clock.now())
    return render_template(
        "records/person.html",
        lines=tuple(map(record_line, rows)),
        student=rows[0].line.student,
        person_id=person_id,
    )


def person_pdf(person_id: int) -> ResponseReturnValue:
    """Give every record of a student out as one sheet."""
    now = clock.now()
    rows = service.records_of_person(unit(), actor(), person_id, now)
    sheet = person_sheet(tuple(map(record_line, rows)), someone().school.name, now)
    return pdf_response(sheet, f"records-of-student-{person_id}")


def person_csv(person_id: int) -> ResponseReturnValue:
    """Give every record of a student out as CSV."""
    return _person_table(person_id, "csv")


def person_xlsx(person_id: int) -> ResponseReturnValue:
    """Give every record of a student out as a spreadsheet."""
    return _person_table(person_id, "xlsx")


def mine() -> ResponseReturnValue:
    """Show the student's own records."""
    rows = service.own_records(unit(), actor(), clock.now())
    return render_template("records/mine.html", lines=tuple(map(record_line, rows)))


def record(record_id: int) -> ResponseReturnValue:
    """Show one record whole."""
    page = record_page(_view(record_id))
    return render_template(
        "records/record.html",
        page=page,
        may_judge=actor().has(Role.HEAD),
        may_issue=actor().has(Role.INSTRUCTOR, Role.HEAD),
    )


def record_pdf(record_id: int) -> ResponseReturnValue:
    """Give one record out as a sheet."""
    view = _view(record_id)
    sheet = record_sheet(record_page(view), view.record.school, view.record.line.issued_at)
    return pdf_response(sheet, f"record-{view.record.line.seq}")


def record_csv(record_id: int) -> ResponseReturnValue:
    """Give one record out as CSV."""
    return _record_table(record_id, "csv")


def record_xlsx(record_id: int) -> ResponseReturnValue:
    """Give one record out as a spreadsheet."""
    return _record_table(record_id, "xlsx")


def certificate(record_id: int) -> ResponseReturnValue:
    """Show the certificate of a record."""
    view = _view(record_id)
    page, row = _certificate(view)
    return render_template("records/certificate.html", page=page, address=_address(row))


def certificate_pdf(record_id: int) -> ResponseReturnValue:
    """Give a certificate out as a sheet."""
    view = _view(record_id)
    page, row = _certificate(view)
    sheet = certificate_sheet(page, _address(row), row.issued_at)
    return pdf_response(sheet, f"certificate-{view.record.line.seq}")


def code(record_id: int) -> ResponseReturnValue:
    """Give out the address of a certificate's check as a picture."""
    _page, row = _certificate(_view(record_id))
    answer = Response(qr_svg(_address(row)), mimetype="image/svg+xml")
    answer.headers["Cache-Control"] = "private, no-store"
    return answer


def _view(record_id: int) -> RecordView:
    return service.record(unit(), actor(), record_id, clock.now())


def _certificate(view: RecordView) -> tuple[CertificatePage, CertificateRow]:
    page, row = certificate_page(view), view.record.line.certificate
    if page is None or row is None:
        abort(404)
    return page, row


def _address(row: CertificateRow) -> str:
    return url_for("records.check_code", code=row.code, _external=True)


def _search() -> Search:
    asked = {name: request.args.get(name, "")[:LONGEST] for name in ("words", "standing")}
    return Search(**asked, course=request.args.get("course", "")[:200])


def _table(name: str) -> Response:
    rows = service.records(unit(), actor(), clock.now())
    return table_response(table_rows(chosen(rows, _search())), name)


def _person_table(person_id: int, ending: str) -> Response:
    rows = service.records_of_person(unit(), actor(), person_id, clock.now())
    return table_response(table_rows(rows), f"records-of-student-{person_id}.{ending}")


def _record_table(record_id: int, ending: str) -> Response:
    view = _view(record_id)
    return table_response(record_rows(record_page(view)), f"record-{view.record.line.seq}.{ending}")
