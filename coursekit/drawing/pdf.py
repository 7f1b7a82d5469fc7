"""The door to printed sheets: a sheet in, the bytes of a PDF out."""

from __future__ import annotations

from coursekit.drawing.pdf_sheet import Sheet


def pdf_of(sheet: Sheet) -> bytes:
    """Return the sheet as a PDF; the same sheet gives the same bytes.

    Examples
    --------
    >>> from datetime import UTC, datetime
    >>> from coursekit.drawing.pdf_sheet import Facts
    >>> at = datetime(2026, 6, 6, 9, tzinfo=UTC)
    >>> sheet = Sheet("Kit", "Register", "Hill school", "No pull is cleared.", at,
    ...               [Facts([("Items", "12")])])
    >>> pdf_of(sheet)[:5], pdf_of(sheet) == pdf_of(sheet)
    (b'%PDF-', True)
    """
    # Loading the library takes a third of a second, so it waits for the first sheet.
    from coursekit.drawing.pdf_page import Page

    page = Page(sheet)
    for part in sheet.parts:
        page.put(part)
    return bytes(page.output())
