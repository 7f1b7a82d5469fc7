"""Files that a page gives out: printed sheets with the school and the caution, and tables."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from mimetypes import guess_extension

from flask import Response
from flask_babel import get_locale
from flask_babel import gettext as _
from werkzeug.utils import secure_filename

from coursekit.drawing.pdf import pdf_of
from coursekit.drawing.pdf_sheet import Paper, Part, Sheet
from coursekit.files.plain_table import plain_table, table_type
from coursekit.web.filters import language

PDF = "application/pdf"
# Where printers hold Letter: Unicode CLDR, paperSize of the supplemental data (from memory).
LETTER = frozenset(
    ["BZ", "CA", "CL", "CO", "CR", "GT", "MX", "NI", "PA", "PH", "PR", "SV", "US", "VE"]
)


def sheet_of(title: str, kind: str, school: str, at: datetime, parts: Sequence[Part]) -> Sheet:
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
        paper=_paper(),
        page_of=_("Page {page} of {pages}"),
    )


def pdf_response(sheet: Sheet, name: str) -> Response:
    """Return a sheet as a file that a browser shows and saves under a harmless name."""
    return _file(pdf_of(sheet), PDF, f"{name}.pdf", "inline")


def attached(data: bytes, media_type: str, name: str) -> Response:
    """Return a file that a browser saves."""
    return _file(data, media_type, name, "attachment")


def table_response(rows: Iterable[Sequence[str | float]], name: str) -> Response:
    """Return rows, their head first, as a file of the kind that its name says."""
    return attached(plain_table(name, rows), table_type(name), name)


def guarded(data: bytes, media_type: str, attached_as: str = "") -> Response:
    """Return a file that somebody sent: shown as a picture, or saved where it has a name.

    Nothing in it runs and nothing is fetched for it, whatever a browser takes it for.
    """
    answer = Response(data, content_type=media_type)
    named = f'; filename="{_harmless(attached_as, media_type)}"' if attached_as else ""
    answer.headers["Content-Disposition"] = f"attachment{named}" if attached_as else "inline"
    answer.headers["Content-Security-Policy"] = "sandbox; default-src 'none'"
    answer.headers["X-Content-Type-Options"] = "nosniff"
    # A browser may keep it for its person, and asks each time whether they may still see it.
    answer.headers["Cache-Control"] = "private, no-cache"
    return answer


def _harmless(name: str, media_type: str) -> str:
    """Return a name whose end says what the file is, whatever its sender called it."""
    stem = secure_filename(name).rpartition(".")[0] or "file"
    return f"{stem}{guess_extension(media_type)}"


def _paper() -> Paper:
    locale = get_locale()
    return "Letter" if locale is not None and locale.territory in LETTER else "A4"


def _file(data: bytes, media_type: str, name: str, how: str) -> Response:
    answer = Response(data, content_type=media_type)
    answer.headers["Content-Disposition"] = f'{how}; filename="{secure_filename(name)}"'
    answer.headers["Cache-Control"] = "private, no-store"
    return answer
