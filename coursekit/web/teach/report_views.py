"""The report of a class, as a page, as its charts and as a printed sheet."""

from __future__ import annotations

from flask import Response, abort, render_template
from flask.typing import ResponseReturnValue

from coursekit.drawing.class_chart import task_chart
from coursekit.services.figures import class_figures
from coursekit.services.records import stale_in_class
from coursekit.services.results import class_results
from coursekit.web import clock
from coursekit.web.given_out import pdf_response, table_response
from coursekit.web.identity import actor, someone, unit
from coursekit.web.teach.report_page import ReportPage, chart_words, report_page, report_sheet
from coursekit.web.teach.report_table import report_rows


def report(class_id: int) -> ResponseReturnValue:
    """Show who showed what in a class, and how its tasks worked."""
    stale = stale_in_class(unit(), actor(), class_id)
    return render_template("teach/report.html", page=_page(class_id), stale=stale)


def report_pdf(class_id: int) -> ResponseReturnValue:
    """Give the report of a class out as a sheet."""
    sheet = report_sheet(_page(class_id), someone().school.name, clock.now())
    return pdf_response(sheet, f"class-report-{class_id}")


def report_csv(class_id: int) -> ResponseReturnValue:
    """Give the students of a class by its tasks out as CSV."""
    return _table(class_id, "csv")


def report_xlsx(class_id: int) -> ResponseReturnValue:
    """Give the students of a class by its tasks out as a spreadsheet."""
    return _table(class_id, "xlsx")


def report_chart(class_id: int, number: int) -> ResponseReturnValue:
    """Give out the chart of the scenario in a place of the report."""
    charts = _page(class_id).charts
    if number >= len(charts):
        abort(404)
    chart = Response(task_chart(charts[number], chart_words()), mimetype="image/svg+xml")
    chart.headers["Cache-Control"] = "private, no-store"
    return chart


def _table(class_id: int, ending: str) -> Response:
    results = class_results(unit(), actor(), class_id)
    figures = class_figures(unit(), actor(), class_id)
    return table_response(report_rows(results, figures), f"class-report-{class_id}.{ending}")


def _page(class_id: int) -> ReportPage:
    return report_page(
        class_results(unit(), actor(), class_id), class_figures(unit(), actor(), class_id)
    )
