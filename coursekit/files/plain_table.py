"""Rows of text as a file for a spreadsheet: CSV (RFC 4180) or XLSX, by the file's name.

A cell that a spreadsheet would take for a formula is written with an apostrophe
before it, so that a name typed by somebody computes nothing on another's machine.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from coursekit.files.kit_sheet import sheet_bytes

FORMULA = ("=", "+", "-", "@", "\t", "\r")
SHEET = ".xlsx"
SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
CSV_TYPE = "text/csv; charset=utf-8"


def plain_table(name: str, rows: Iterable[Sequence[str | float]]) -> bytes:
    r"""Return rows, their head first, as the bytes of a file of this name.

    A number stays one in a spreadsheet, and is written without needless digits in CSV.

    >>> plain_table("a.csv", [["name", "marks"], ["=1+1", 3.0]]).decode("utf-8-sig")
    "name,marks\r\n'=1+1,3\r\n"
    """
    table = [[_harmless(cell) if isinstance(cell, str) else cell for cell in row] for row in rows]
    if name.lower().endswith(SHEET):
        return sheet_bytes(name[: -len(SHEET)], table)
    written = ([cell if isinstance(cell, str) else f"{cell:g}" for cell in row] for row in table)
    return csv_text(written).encode("utf-8-sig")


def table_type(name: str) -> str:
    """Return the media type of a table by its name."""
    return SHEET_TYPE if name.lower().endswith(SHEET) else CSV_TYPE


def csv_text(rows: Iterable[Sequence[str]]) -> str:
    r"""Return rows as CSV (RFC 4180), as they are.

    >>> csv_text([["mark", "place"], ["Bow 1", "rack 2, left"]])
    'mark,place\r\nBow 1,"rack 2, left"\r\n'
    """
    buffer = io.StringIO(newline="")
    csv.writer(buffer).writerows(rows)
    return buffer.getvalue()


def _harmless(text: str) -> str:
    return f"'{text}" if text.startswith(FORMULA) else text
