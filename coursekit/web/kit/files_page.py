"""The photos and certificates on the page of an item."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from flask_babel import format_decimal
from flask_babel import gettext as _
from flask_babel import lazy_gettext as _l

from coursekit.files.photo import SMALL_SIDE, fitting
from coursekit.services.kit_files import FileKind, FileRow
from coursekit.web.kit.file_forms import CertificateForm, PhotoForm
from coursekit.web.kit.pages import ItemLine
from coursekit.web.uploads import MEGABYTE

KINDS = {FileKind.PHOTO: _l("photo"), FileKind.CERTIFICATE: _l("certificate")}


@dataclass(frozen=True)
class FileLine:
    """One file: what it is, who added it when, and for a picture its size in pixels."""

    id: int
    kind: str
    name: str
    size: str
    alt: str
    is_picture: bool
    width: int
    height: int
    small_width: int
    small_height: int
    by: str
    added_at: datetime


@dataclass(frozen=True)
class RemovedLine:
    """One file that was taken away: what it was, by whom, when and why."""

    kind: str
    name: str
    by: str
    at: datetime
    reason: str


@dataclass(frozen=True)
class FilesPart:
    """What there is to see of an item; `photo` is the newest, which stands on top."""

    photo: FileLine | None
    photos: tuple[FileLine, ...]
    certificates: tuple[FileLine, ...]
    removed: tuple[RemovedLine, ...]
    may_remove: bool
    photo_form: PhotoForm
    certificate_form: CertificateForm


def files_part(rows: Iterable[FileRow], item: ItemLine, *, may_remove: bool) -> FilesPart:
    """Return the files of an item, with a form for another of each kind."""
    files = list(rows)
    lines = [file_line(row, item) for row in files if row.removed is None]
    photos = [line for line in lines if line.kind == FileKind.PHOTO]
    return FilesPart(
        photo=photos[0] if photos else None,
        photos=tuple(photos),
        certificates=tuple(line for line in lines if line.kind == FileKind.CERTIFICATE),
        removed=tuple(_removed_lines(files)),
        may_remove=may_remove,
        photo_form=PhotoForm(),
        certificate_form=CertificateForm(),
    )


def _removed_lines(files: Iterable[FileRow]) -> Iterator[RemovedLine]:
    for row in files:
        if row.removed is not None:
            word = str(KINDS[FileKind(row.kind)])
            yield RemovedLine(word, row.name, row.removed.name, row.removed.at, row.removed.reason)


def file_line(row: FileRow, item: ItemLine) -> FileLine:
    """Return one file as the page shows it."""
    # Only pictures have a size, and only theirs is shown.
    width, height = row.width or 1, row.height or 1
    small_width, small_height = fitting((width, height), SMALL_SIDE)
    return FileLine(
        id=row.id,
        kind=row.kind,
        name=row.name,
        size=size_text(row.size_bytes),
        alt=_alt(row, item),
        is_picture=row.small_sha256 is not None,
        width=width,
        height=height,
        small_width=small_width,
        small_height=small_height,
        by=row.by,
        added_at=row.added_at,
    )


def size_text(size: int) -> str:
    """Return the size of a file, in kilobytes until it has a megabyte."""
    if size < MEGABYTE:
        return _("%(size)s kB", size=format_decimal(-(-size // 1024)))
    return _("%(size)s MB", size=format_decimal(round(size / MEGABYTE, 1)))


def _alt(row: FileRow, item: ItemLine) -> str:
    if row.kind == FileKind.PHOTO:
        return _("Photo of %(item)s, %(kind)s", item=item.name, kind=item.kind)
    return _("Certificate of %(item)s, %(kind)s", item=item.name, kind=item.kind)
