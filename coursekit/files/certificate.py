"""A maker's or examiner's certificate that somebody sent: a PDF as it is, or a picture.

A PDF is kept byte for byte, because what was signed may not change.  Only its frame is
looked at, and nothing here opens it: it is given out to be saved, never shown by the app.
"""

from __future__ import annotations

from dataclasses import dataclass

from coursekit.files.photo import NoPicture, Picture, no_picture, read_picture, too_large
from coursekit.files.reading import unreadable

LARGEST_PDF = 5 * 1024 * 1024
"""Bytes of a PDF."""

PAGE_SIDE = 2400
"""Pixels of the longer side of a page that was photographed: small print is to be read."""

PDF = "application/pdf"
# ISO 32000-1, 7.5.2 and 7.5.5: the first line of a file, and the last.
_HEAD, _TAIL = b"%PDF-", b"%%EOF"
# Programs write line ends and more behind the last line; readers look this far back.
_TAIL_REACH = 1024


@dataclass(frozen=True)
class Pdf:
    """A PDF as it was sent; unlike a picture it has no small one and no size in pixels."""

    data: bytes
    small: None = None
    width: None = None
    height: None = None

    @property
    def media_type(self) -> str:
        """What it is."""
        return PDF


def read_certificate(data: bytes, name: str) -> Pdf | Picture:
    r"""Return a certificate as it is kept.

    Raises
    ------
    Problems
        If it is too large, damaged, or neither a PDF nor a picture.

    Examples
    --------
    >>> read_certificate(b"%PDF-1.7\n...\n%%EOF\n", "splice.pdf").media_type
    'application/pdf'
    """
    if data.startswith(_HEAD):
        return _pdf(data, name)
    try:
        return read_picture(data, name, PAGE_SIDE)
    except NoPicture:
        raise no_picture(name, f"{name} is neither a PDF nor a picture") from None


def _pdf(data: bytes, name: str) -> Pdf:
    if len(data) > LARGEST_PDF:
        raise too_large(name, LARGEST_PDF)
    if _TAIL not in data[-_TAIL_REACH:]:
        mend = "Save it anew in the program that made it, and send that"
        raise unreadable(name, f"{name} is a PDF whose end is missing", mend)
    return Pdf(data)
