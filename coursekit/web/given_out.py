"""Files that a page gives out: printed sheets with the school and the caution, and tables."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from flask import Response
from flask_babel import gettext as _
from werkzeug.utils import secure_filename

from coursekit.drawing.pdf import pdf_of
from coursekit.drawing.pdf_sheet import Paper, Part, Sheet
from coursekit.web.filters import language

PDF = "application/pdf"


def sheet_of(
    title: str, kind: str, school: str, at: datetime, parts: Sequence[Part], paper: Paper = "A4"
) -> Sheet:
    """Return a sheet of the school: what it is stands above, what it is not below."""
    return Sheet(
        title=title,
        kind=kind,
        school=school,
        caution=_(
            "For training: coursekit checks formulas and answers. It clears no real pull. "
            "The maker's rating, local codes and qualified people decide."
        ),
        at=at,
        parts=parts,
        language=language(),
        paper=paper,
        page_of=_("Page {page} of {pages}"),
    )


def pdf_response(sheet: Sheet, name: str) -> Response:
    """Return a sheet as a file that a browser shows and saves under a harmless name."""
    return _file(pdf_of(sheet), PDF, f"{name}.pdf", "inline")


def attached(data: bytes, media_type: str, name: str) -> Response:
    """Return a file that a browser saves."""
    return _file(data, media_type, name, "attachment")


def _file(data: bytes, media_type: str, name: str, how: str) -> Response:
    answer = Response(data, content_type=media_type)
    answer.headers["Content-Disposition"] = f'{how}; filename="{secure_filename(name)}"'
    answer.headers["Cache-Control"] = "private, no-store"
    return answer
