"""Photos and certificates of kit items: taken in with a check, given out, taken away.

A picture is kept as the app wrote it, a PDF as it was sent.  What is taken away is deleted
from the disk, because it may show people; that it was there, who took it away and why stays.
Neither a photo nor a certificate says that an item is sound: inspection decides.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from sqlalchemy.orm import Session

from coursekit.files.certificate import Pdf, read_certificate
from coursekit.files.photo import Picture, read_picture
from coursekit.services.actor import Actor, Role
from coursekit.services.checks import LONGEST_LINE, Checks
from coursekit.services.errors import NotFound, Refused
from coursekit.store import queries, tables
from coursekit.store.filing import Filing
from coursekit.store.queries.kit_files import FileRow
from coursekit.store.queries.schools import locked_school
from coursekit.store.unit import Unit

__all__ = [
    "FileKind",
    "FileRow",
    "GivenFile",
    "NewFile",
    "Removal",
    "add_file",
    "file_of_id",
    "files_of_item",
    "give_file",
    "remove_file",
]

KEEPERS = (Role.STOREKEEPER, Role.INSTRUCTOR)
MOST_OF_ITEM = 40


class FileKind(StrEnum):
    """What a file is of an item."""

    PHOTO = "photo"
    CERTIFICATE = "certificate"


@dataclass(frozen=True)
class NewFile:
    """A file as it was sent, under the name that it had there."""

    item_id: int
    kind: FileKind
    name: str
    data: bytes


@dataclass(frozen=True)
class Removal:
    """A file that is to be taken away, with the reason."""

    file_id: int
    reason: str


@dataclass(frozen=True)
class GivenFile:
    """The bytes of a file with their digest, and what they are."""

    row: FileRow
    digest: str
    data: bytes


def files_of_item(unit: Unit, actor: Actor, item_id: int) -> tuple[FileRow, ...]:
    """Return the files of an item, the newest first, those taken away among them."""
    actor.require(*KEEPERS)
    with unit.read() as session:
        return queries.kit_files.files_of_item(session, actor.school_id, item_id)


def file_of_id(unit: Unit, actor: Actor, file_id: int, *, or_removed: bool = False) -> FileRow:
    """Return what is known of a file that is there, or also of one that was."""
    actor.require(*KEEPERS)
    with unit.read() as session:
        row = _row(session, actor, file_id)
    if row.removed is not None and not or_removed:
        raise NotFound("file")
    return row


def give_file(
    unit: Unit, filing: Filing, actor: Actor, file_id: int, *, small: bool = False
) -> GivenFile:
    """Return the bytes of a file, or the small picture of it.

    Raises
    ------
    NotFound
        If it is another school's, was taken away, has no small picture, or is not on the
        disk as it was written.
    """
    row = file_of_id(unit, actor, file_id)
    digest = row.small_sha256 if small else row.sha256
    data = filing.read(actor.school_id, digest) if digest else None
    if digest is None or data is None:
        raise NotFound("file")
    return GivenFile(row, digest, data)


def add_file(unit: Unit, filing: Filing, actor: Actor, new: NewFile, now: datetime) -> int:
    """Take in a file of an item and return its id; one that is there already counts once.

    Raises
    ------
    Problems
        If it can't be read, or is none of the kinds that are taken.
    Refused
        If the item has as many files as it may have.
    """
    actor.require(*KEEPERS)
    name = clean_name(new.name)
    read = read_picture if new.kind is FileKind.PHOTO else read_certificate
    found = read(new.data, name)
    with unit.write() as session:
        # Whoever takes away the same bytes waits, so that they are not deleted in between.
        locked_school(session, actor.school_id)
        _require_item(session, actor, new.item_id)
        row = _new_row(filing, actor, found)
        row.item_id, row.kind, row.name, row.added_at = new.item_id, new.kind.value, name, now
        there = queries.kit_files.files_of_item(session, actor.school_id, new.item_id)
        same = _same(there, row)
        if same is not None:
            return same
        _refuse_many(there)
        session.add(row)
        session.flush()
        return row.id


def remove_file(unit: Unit, filing: Filing, actor: Actor, removal: Removal, now: datetime) -> int:
    """Take a file away, delete its bytes, and return the id of its item.

    Raises
    ------
    Refused
        If it was taken away before, or the disk keeps its bytes: each try deletes what an
        earlier one had to leave there.
    """
    actor.require(Role.STOREKEEPER)
    checks = Checks()
    reason = checks.text("reason", removal.reason)
    checks.done()
    with unit.write() as session:
        locked_school(session, actor.school_id)
        row = _row(session, actor, removal.file_id)
        if row.removed is None:
            session.add(
                tables.KitFileRemoval(
                    school_id=actor.school_id,
                    file_id=row.id,
                    reason=reason,
                    person_id=actor.person_id,
                    removed_at=now,
                )
            )
    _sweep(unit, filing, actor, row)
    if row.removed is not None:
        raise Refused("This file was removed already", "Nothing is left to do")
    return row.item_id


def clean_name(name: str) -> str:
    r"""Return the name of a file as it may be shown: no folders, no control characters.

    >>> clean_name("C:\\kit\\rope 1.jpg"), clean_name("../../proof\n.pdf"), clean_name("")
    ('rope 1.jpg', 'proof.pdf', 'file')
    """
    last = name.replace("\\", "/").rsplit("/", 1)[-1]
    shown = "".join(character for character in last if character.isprintable())
    return shown.strip()[-LONGEST_LINE:] or "file"


def _sweep(unit: Unit, filing: Filing, actor: Actor, row: FileRow) -> None:
    """Delete bytes that no file needs any more.

    It comes after the removal is committed: bytes without a row harm nobody, a row
    without its bytes would.
    """
    with unit.write() as session:
        locked_school(session, actor.school_id)
        for digest in (row.sha256, row.small_sha256):
            if digest and not queries.kit_files.is_needed(session, actor.school_id, digest):
                _forget(filing, actor, digest)


def _forget(filing: Filing, actor: Actor, digest: str) -> None:
    try:
        filing.forget(actor.school_id, digest)
    except OSError as error:
        what = f"It is shown no more, but the disk did not delete it: {error.strerror}"
        mend = "Remove it once more; if that fails too, ask who keeps the server"
        raise Refused(what, mend) from error


def _new_row(filing: Filing, actor: Actor, found: Pdf | Picture) -> tables.KitFile:
    """Put the bytes on the disk and return the row that tells of them."""
    return tables.KitFile(
        school_id=actor.school_id,
        media_type=found.media_type,
        size_bytes=len(found.data),
        sha256=filing.keep(actor.school_id, found.data),
        small_sha256=None if found.small is None else filing.keep(actor.school_id, found.small),
        width=found.width,
        height=found.height,
        person_id=actor.person_id,
    )


def _same(there: Iterable[FileRow], new: tables.KitFile) -> int | None:
    return next(
        (
            row.id
            for row in there
            if row.removed is None and (row.kind, row.sha256) == (new.kind, new.sha256)
        ),
        None,
    )


def _refuse_many(there: Iterable[FileRow]) -> None:
    if sum(row.removed is None for row in there) >= MOST_OF_ITEM:
        raise Refused(
            f"The item has {MOST_OF_ITEM} files already", "Remove one that is needed no more"
        )


def _require_item(session: Session, actor: Actor, item_id: int) -> None:
    item = session.get(tables.KitItem, item_id)
    if item is None or item.school_id != actor.school_id:
        raise NotFound("item")


def _row(session: Session, actor: Actor, file_id: int) -> FileRow:
    row = queries.kit_files.file(session, actor.school_id, file_id)
    if row is None:
        raise NotFound("file")
    return row
