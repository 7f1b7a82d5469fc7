"""A spreadsheet file (XLSX) read and written row by row, and never unpacked beyond a bound."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from coursekit.files.reading import unreadable

# A register of twenty thousand items unpacks to a fifth of it.
LARGEST_UNPACKED = 64 * 1024 * 1024
# What spreadsheet programs take as the name of a sheet.
LONGEST_TITLE = 31
_MEND = "Save it again as XLSX or CSV"


def sheet_rows(name: str, data: bytes, most: int) -> Iterator[tuple[int, list[Any]]]:
    """Yield the rows of the first sheet with their line; `most` and one more at most.

    Raises Unreadable for what is no spreadsheet, or would unpack beyond the bound.
    """
    _refuse_bombs(name, data)
    from openpyxl import load_workbook
    from openpyxl.utils.exceptions import InvalidFileException

    try:
        book = load_workbook(io.BytesIO(data), read_only=True, data_only=True, keep_links=False)
        sheet = book.worksheets[0]
        rows = sheet.iter_rows(values_only=True, max_row=most + 2)
        for line, cells in enumerate(rows, start=1):
            yield line, list(cells)
    except (InvalidFileException, zipfile.BadZipFile, KeyError, ValueError, IndexError) as error:
        raise unreadable(name, "It is no spreadsheet that can be read", _MEND) from error


def sheet_bytes(title: str, rows: Iterable[Sequence[str | float]]) -> bytes:
    """Return rows of text and numbers as a new spreadsheet, the first one kept in view."""
    from openpyxl import Workbook

    book = Workbook(write_only=True)
    sheet = book.create_sheet(title[:LONGEST_TITLE])
    sheet.freeze_panes = "B2"
    for row in rows:
        sheet.append(list(row))
    buffer = io.BytesIO()
    book.save(buffer)
    return buffer.getvalue()


def _refuse_bombs(name: str, data: bytes) -> None:
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as packed:
            unpacked = sum(entry.file_size for entry in packed.infolist())
    except zipfile.BadZipFile:
        raise unreadable(name, "It is no spreadsheet", _MEND) from None
    if unpacked > LARGEST_UNPACKED:
        megabytes = LARGEST_UNPACKED // 1024**2
        raise unreadable(name, f"It would unpack to over {megabytes} MB", _MEND)
