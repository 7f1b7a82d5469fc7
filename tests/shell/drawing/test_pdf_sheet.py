"""Printed sheets, read back by another library than the one that writes them."""

from __future__ import annotations

from datetime import UTC, datetime
from io import BytesIO

import pytest
from pypdf import PdfReader

from coursekit.drawing.canvas import as_png, new_chart
from coursekit.drawing.pdf import pdf_of
from coursekit.drawing.pdf_sheet import (
    Facts,
    Figure,
    NewPage,
    Paper,
    Part,
    Sheet,
    Table,
    Text,
)

AT = datetime(2026, 6, 6, 9, 30, tzinfo=UTC)
CAUTION = "It clears no real pull."


def sheet(*parts: Part, title: str = "Who is competent", paper: Paper = "A4") -> Sheet:
    return Sheet(
        title,
        kind="Class report",
        school="Larch Hill recovery school",
        caution=CAUTION,
        at=AT,
        parts=parts,
        paper=paper,
        page_of="Page {page} of {pages}",
    )


def read(made: Sheet) -> PdfReader:
    return PdfReader(BytesIO(pdf_of(made)))


def words(made: Sheet) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in read(made).pages]


def test_a_sheet_says_what_it_holds_in_order() -> None:
    (page,) = words(sheet(Facts([("Outcome", "not yet")], "Who"), Text("Stop.", warns=True)))
    places = [page.index(text) for text in ("Who is competent", "Outcome", "not yet", "Stop.")]
    assert places == sorted(places)


def test_every_page_names_school_kind_caution_and_its_number() -> None:
    pages = words(sheet(Text("First."), NewPage(), Text("Second.")))
    assert len(pages) == 2
    for number, page in enumerate(pages, start=1):
        for text in ("Larch Hill recovery school", "Class report", CAUTION):
            assert text in page
        assert f"Page {number} of 2" in page


def test_a_long_table_repeats_its_head_and_loses_no_row() -> None:
    rows = [[f"row {n}", "x " * (n % 40)] for n in range(120)]
    pages = words(sheet(Table(["Task", "Why"], rows, widths=(1, 3))))
    assert len(pages) > 2
    assert all("Task Why" in page for page in pages)
    assert all(any(f"row {n} " in f"{page} " for page in pages) for n in range(120))


def test_the_same_sheet_has_the_same_bytes() -> None:
    made = sheet(Table(["a"], [["1"]]), Text("b"))
    assert pdf_of(made) == pdf_of(made)


@pytest.mark.parametrize("name", ["Łucja Žižkova", "Ωμέγα", "Яна", "Nguyễn", "Şeyma", "Ólafur"])
def test_names_in_latin_greek_and_cyrillic_print_as_they_are(name: str) -> None:
    assert name in words(sheet(title=name))[0]


def test_a_script_that_the_fonts_lack_stops_no_sheet() -> None:
    names = ["山田", "अनु", "🛻", "a\u200bb", "\u202eabc"]
    made = sheet(Table(names, [names]), *map(Text, names), title="".join(names))
    assert CAUTION in words(made)[0]


def test_a_figure_is_described_and_no_wider_than_the_text() -> None:
    figure, axes = new_chart()
    axes.plot([0, 1], [0, 1])
    (page,) = read(sheet(Figure(as_png(figure), "A line that rises."))).pages
    assert len(page.images) == 1


def test_it_knows_its_title_language_and_day() -> None:
    reader = read(sheet(Text("x", "Part one")))
    assert reader.metadata is not None
    assert reader.metadata.title == "Who is competent"
    assert reader.metadata.creation_date == AT
    assert str(reader.root_object["/Lang"]) == "en"
    assert "Part one" in str(reader.outline)


@pytest.mark.parametrize(("paper", "points"), [("A4", (595, 842)), ("Letter", (612, 792))])
@pytest.mark.source("ISO 216: A4 is 210 by 297 mm; ANSI/ASME Y14.1: Letter is 8.5 by 11 in")
def test_the_paper_has_its_size(paper: Paper, points: tuple[int, int]) -> None:
    (page,) = read(sheet(paper=paper)).pages
    assert (round(page.mediabox.width), round(page.mediabox.height)) == points


def test_a_table_without_rows_is_its_head() -> None:
    assert "Task" in words(sheet(Table(["Task"], [])))[0]
