"""The kit register as a table: CSV or XLSX, one item a row, the same columns both ways.

A cell that a spreadsheet would take for a formula is written with an apostrophe
before it, and read back without.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

from coursekit.files.kit_sheet import sheet_rows
from coursekit.files.plain_table import FORMULA, SHEET, plain_table
from coursekit.files.reading import WHOLE_FILE, read_bytes, text_of, unreadable
from coursekit.problems import Problem, Problems, Where

# What an item is; a file that is read needs the first three, and may leave the others out.
COLUMNS = (
    "mark",
    "type",
    "kind",
    "material",
    "size",
    "wll",
    "mbs",
    "serial",
    "batch",
    "made",
    "label",
    "place",
    "cost",
    "instructions",
    "length",
    "choker",
    "basket",
    "coldest",
    "hottest",
    "rule",
    "first_used",
    "used_before",
)
NEEDED = COLUMNS[:3]
# What follows from the ledger: written, and passed over when it is read again.
FOLLOWS = ("status", "use", "limit", "due")
LARGEST_TABLE = 8 * 1024 * 1024
MOST_ROWS = 20_000
LONGEST_CELL = 4_000

Row = Mapping[str, str]


@dataclass(frozen=True)
class TableRow:
    """One row as it stands in the file: its line, and the text of each column."""

    line: int
    cells: Row

    def text(self, column: str) -> str:
        """Return what a column holds; nothing where the file has no such column."""
        return self.cells.get(column, "")


def read_table(path: Path) -> tuple[TableRow, ...]:
    """Return the rows of a table by its suffix, CSV unless it is `.xlsx`.

    Raises
    ------
    Unreadable
        If the file is no table at all, too large, or packed to burst.
    Problems
        If columns are unknown, missing or written twice, with their line.
    """
    return table_rows(str(path), read_bytes(path, LARGEST_TABLE))


def table_rows(name: str, data: bytes) -> tuple[TableRow, ...]:
    """Return the rows of a table that came as bytes under a name, as `read_table` does."""
    if name.lower().endswith(SHEET):
        lines = sheet_rows(name, data, MOST_ROWS)
    else:
        lines = _csv_rows(text_of(data, name), name)
    return tuple(_table(lines, name))


def write_table(path: Path, rows: Iterable[Mapping[str, str]]) -> None:
    """Write rows under all columns, as CSV unless the suffix is `.xlsx`."""
    path.write_bytes(table_bytes(path.name, rows))


def table_bytes(name: str, rows: Iterable[Mapping[str, str]]) -> bytes:
    """Return rows under all columns as the bytes of a file of this name."""
    header = (*COLUMNS, *FOLLOWS)
    return plain_table(name, [header, *([row.get(one, "") for one in header] for row in rows)])


def _as_typed(text: str) -> str:
    return text[1:] if text.startswith("'") and text[1:].startswith(FORMULA) else text


def _csv_rows(text: str, name: str) -> Iterator[tuple[int, list[str]]]:
    first, _, _ = text.partition("\n")
    # Where the comma parts decimals, spreadsheets part cells by a semicolon.
    mark = ";" if first.count(";") > first.count(",") else ","
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True)
    try:
        for cells in reader:
            yield reader.line_num, cells
    except csv.Error as error:
        raise unreadable(
            name, f"It is no CSV: {error}", "Save it again as CSV", reader.line_num
        ) from None


def _table(lines: Iterable[tuple[int, list[Any]]], name: str) -> Iterator[TableRow]:
    rows = ((line, [_text(cell) for cell in cells]) for line, cells in lines)
    full = ((line, cells) for line, cells in rows if any(cells))
    head = next(full, None)
    if head is None:
        raise unreadable(name, "It is empty", f"Begin with a row of columns: {', '.join(NEEDED)}")
    columns = _columns(*head, name)
    problems: list[Problem] = []
    for count, (line, cells) in enumerate(full, start=1):
        if count > MOST_ROWS:
            raise unreadable(name, f"It has over {MOST_ROWS} rows", "Part it into files", line)
        problems += _too_much(cells, columns, Where(WHOLE_FILE, line, name))
        row = zip(columns, cells, strict=False)
        yield TableRow(line, {column: _as_typed(cell) for column, cell in row})
    if problems:
        raise Problems(problems)


def _columns(line: int, cells: Sequence[str], name: str) -> list[str]:
    columns = [cell.lower() for cell in cells]
    while columns and not columns[-1]:
        columns.pop()
    known = (*COLUMNS, *FOLLOWS)
    problems = [
        Problem(
            Where(column or WHOLE_FILE, line, name),
            "There is no such column" if column else "A column has no name",
            f"Name it as one of: {', '.join(COLUMNS)}",
        )
        for column in columns
        if column not in known
    ]
    problems += [
        Problem(Where(column, line, name), "The column stands there twice", "Keep one of them")
        for column in sorted({column for column in columns if columns.count(column) > 1})
        if column
    ]
    problems += [
        Problem(Where(column, line, name), "The column is missing", "Add it to the first row")
        for column in NEEDED
        if column not in columns
    ]
    if problems:
        raise Problems(problems)
    return columns


def _too_much(cells: Sequence[str], columns: Sequence[str], where: Where) -> Iterator[Problem]:
    if any(cells[len(columns) :]):
        yield Problem(where, "The row has more cells than columns", "Quote what holds a comma")
    if any(len(cell) > LONGEST_CELL for cell in cells):
        yield Problem(where, f"A cell is longer than {LONGEST_CELL} characters", "Shorten it")


def _text(cell: Any) -> str:
    if cell is None:
        return ""
    if isinstance(cell, datetime):
        return cell.date().isoformat()
    if isinstance(cell, date):
        return cell.isoformat()
    return " ".join(str(cell).split())
