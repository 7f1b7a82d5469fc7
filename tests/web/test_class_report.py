"""The report of a class: on the screen, as a chart, and printed."""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PdfReader

from coursekit.drawing.class_chart import TaskBar, describe_tasks, task_chart
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.classroom import COMPETENT, handed_in
from tests.web.visitor import Visitor


@pytest.fixture
def report(unit: Unit, cast: Cast) -> str:
    """The address of the report of a class in which Ana handed in."""
    handed_in(unit, cast, NOW, **COMPETENT)
    return f"/classes/{cast.class_id}/report"


def test_it_answers_how_many_are_competent(instructor: Visitor, report: str) -> None:
    instructor.open(report)
    assert instructor.heading == "1 of 1 student is competent"
    for text in ("Ana Lim", " / 18", "Weight and resistance", "100 %"):
        assert text in instructor.html
    assert "don&#39;t pass these figures on" in instructor.html


def test_it_prints_the_same(instructor: Visitor, report: str) -> None:
    response = instructor.client.get(f"{report}.pdf")
    assert response.mimetype == "application/pdf"
    pages = PdfReader(BytesIO(response.data)).pages
    printed = " ".join(" ".join(page.extract_text() for page in pages).split())
    for text in ("1 of 1 student is competent", "Ana Lim", " / 18", "Weight and resistance",
                 "held back below 30 papers", "It clears no real pull"):  # fmt: skip
        assert text in printed
    assert sum(len(page.images) for page in pages) == 1


def test_each_scenario_has_its_chart_and_no_other(instructor: Visitor, report: str) -> None:
    chart = instructor.client.get(f"{report}/0.svg")
    assert chart.mimetype == "image/svg+xml"
    assert b"Task 1: 100 % of the marks" in chart.data
    assert instructor.client.get(f"{report}/1.svg").status_code == 404


def test_a_class_without_papers_is_reported_too(instructor: Visitor, cast: Cast) -> None:
    instructor.open(f"/classes/{cast.class_id}/report")
    assert instructor.heading == "0 of 1 student is competent"
    assert instructor.client.get(f"/classes/{cast.class_id}/report.pdf").status_code == 200


def test_the_chart_says_in_words_what_it_shows() -> None:
    bars = [TaskBar("1. Weight", 0.5, 0.2, 0.8), TaskBar("2. Line", 1.0, 0.7, 1.0)]
    assert describe_tasks(bars) == "1. Weight: 50 % of the marks; 2. Line: 100 % of the marks."
    assert task_chart(bars) == task_chart(bars)
