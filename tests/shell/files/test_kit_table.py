"""The register as a table: CSV and XLSX, both ways, and what is no table at all."""

import csv
import io
import zipfile
from pathlib import Path

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from coursekit.files.kit_table import COLUMNS, MOST_ROWS, read_table, write_table
from coursekit.files.reading import Unreadable
from coursekit.problems import Problems

HEAD = "mark,type,kind,wll\n"
ROW = {"mark": "Bow 1", "type": "Bow shackle 3.25 t", "kind": "bow-shackle", "wll": "3.25 t"}
# What a cell keeps: blanks at its ends and runs of them are no part of a text.
TEXTS = st.text(st.characters(exclude_categories=("C", "Z")), max_size=20)


def table(folder: Path, text: str, name: str = "kit.csv", encoding: str = "utf-8") -> Path:
    path = folder / name
    path.write_text(text, encoding=encoding, newline="")
    return path


def told(path: Path) -> str:
    with pytest.raises(Problems) as raised:
        read_table(path)
    return str(raised.value)


@pytest.mark.parametrize("name", ["kit.csv", "kit.xlsx"])
def test_what_is_written_is_read_again(tmp_path: Path, name: str) -> None:
    write_table(tmp_path / name, [{**ROW, "status": "in-store"}])
    (row,) = read_table(tmp_path / name)
    assert row.line == 2
    assert {column: row.text(column) for column in ROW} == ROW


@pytest.mark.parametrize("name", ["kit.csv", "kit.xlsx"])
@given(texts=st.lists(TEXTS, min_size=len(COLUMNS), max_size=len(COLUMNS)))
def test_any_text_goes_there_and_back(
    tmp_path_factory: pytest.TempPathFactory, name: str, texts: list[str]
) -> None:
    path = tmp_path_factory.mktemp("tables") / name
    write_table(path, [dict(zip(COLUMNS, ["one", *texts[1:]], strict=True))])
    (row,) = read_table(path)
    assert [row.text(column) for column in COLUMNS] == ["one", *texts[1:]]


@pytest.mark.parametrize("text", ["=1+1", "+49", "-3", "@SUM(A1)"])
def test_no_cell_is_a_formula_in_a_spreadsheet(tmp_path: Path, text: str) -> None:
    write_table(tmp_path / "kit.csv", [{**ROW, "place": text}])
    write_table(tmp_path / "kit.xlsx", [{**ROW, "place": text}])

    with (tmp_path / "kit.csv").open(encoding="utf-8-sig", newline="") as file:
        (written,) = csv.DictReader(file)
    sheet = openpyxl.load_workbook(tmp_path / "kit.xlsx").worksheets[0]
    cell = sheet.cell(2, COLUMNS.index("place") + 1)
    assert written["place"] == cell.value == f"'{text}"
    assert cell.data_type == "s"
    assert read_table(tmp_path / "kit.csv")[0].text("place") == text


def test_a_spreadsheet_of_another_country_parts_cells_by_semicolons(tmp_path: Path) -> None:
    path = table(tmp_path, "mark;type;kind\nBow 1;Bow 3,25 t;bow-shackle\n", encoding="utf-8-sig")
    assert read_table(path)[0].text("type") == "Bow 3,25 t"


def test_empty_lines_count_as_lines_and_are_no_rows(tmp_path: Path) -> None:
    path = table(tmp_path, f"\n{HEAD}\nBow 1,Bow,bow-shackle,\n,,,\n")
    assert [row.line for row in read_table(path)] == [4]


def test_columns_that_are_unknown_missing_or_twice_are_told_at_once(tmp_path: Path) -> None:
    said = told(table(tmp_path, "mark,maximum strength,mark,kind\n"))
    assert "maximum strength: There is no such column. Name it as one of: mark," in said
    assert ":1: mark: The column stands there twice" in said
    assert ":1: type: The column is missing" in said


def test_a_row_that_is_longer_than_the_columns_names_its_line(tmp_path: Path) -> None:
    said = told(table(tmp_path, f"{HEAD}Bow 1,Bow,bow-shackle,1,5 t\n"))
    assert "kit.csv:2: file: The row has more cells than columns" in said


def test_an_image_under_the_name_of_a_table_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "kit.csv"
    path.write_bytes(b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" + bytes(1000))
    assert "It is a binary file" in told(path)


def test_a_file_of_fifty_megabytes_is_not_read_to_its_end(tmp_path: Path) -> None:
    path = tmp_path / "kit.csv"
    with path.open("wb") as file:
        file.truncate(50 * 1024 * 1024)
    assert "It is larger than 8192 kB" in told(path)


def test_a_spreadsheet_that_would_burst_is_not_unpacked(tmp_path: Path) -> None:
    path = tmp_path / "kit.xlsx"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", bytes(65 * 1024 * 1024))
    assert path.stat().st_size < 1024 * 1024
    assert "It would unpack to over 64 MB" in told(path)


@pytest.mark.parametrize("content", [b"", b"mark,type,kind", b"PK\x03\x04 and no more"])
def test_what_is_no_spreadsheet_is_said_to_be_none(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "kit.xlsx"
    path.write_bytes(content)
    with pytest.raises(Unreadable, match="no spreadsheet"):
        read_table(path)


def test_a_packed_file_without_a_sheet_is_no_spreadsheet(tmp_path: Path) -> None:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as packed:
        packed.writestr("notes.txt", "nothing")
    (tmp_path / "kit.xlsx").write_bytes(buffer.getvalue())
    assert "no spreadsheet" in told(tmp_path / "kit.xlsx")


def test_an_empty_file_and_an_open_quote_are_no_table(tmp_path: Path) -> None:
    assert "It is empty" in told(table(tmp_path, "\n\n"))
    assert "It is no CSV" in told(table(tmp_path, f'{HEAD}"Bow 1,Bow\n'))


def test_more_rows_than_a_register_has_are_refused(tmp_path: Path) -> None:
    rows = "".join(f"B{number},Bow,bow-shackle,\n" for number in range(MOST_ROWS + 1))
    assert f"It has over {MOST_ROWS} rows" in told(table(tmp_path, HEAD + rows))
