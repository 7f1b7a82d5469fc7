"""Photos and certificates of kit items, and who took which away."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from sqlalchemy import ScalarSelect, Select, func, or_, select
from sqlalchemy.orm import Session, aliased

from coursekit.store.tables import KitFile, KitFileRemoval, KitItem, Person


@dataclass(frozen=True)
class RemovedBy:
    """Who took a file away, when and why."""

    name: str
    at: datetime
    reason: str


@dataclass(frozen=True)
class FileRow:
    """One file of an item; `small_sha256`, `width` and `height` are a picture's."""

    id: int
    item_id: int
    mark: str
    kind: str
    name: str
    media_type: str
    size_bytes: int
    sha256: str
    small_sha256: str | None
    width: int | None
    height: int | None
    by: str
    added_at: datetime
    removed: RemovedBy | None


def files_of_item(session: Session, school_id: int, item_id: int) -> tuple[FileRow, ...]:
    """Return the files of an item, the newest first, those taken away among them: 1 query."""
    return _rows(session, _files(school_id).where(KitFile.item_id == item_id))


def file(session: Session, school_id: int, file_id: int) -> FileRow | None:
    """Return one file of a school: 1 query."""
    rows = _rows(session, _files(school_id).where(KitFile.id == file_id))
    return rows[0] if rows else None


def newest_photo() -> ScalarSelect[int]:
    """Return the id of the newest photo that is there, as a column beside a `KitItem`."""
    return (
        select(func.max(KitFile.id))
        .outerjoin(KitFileRemoval, KitFileRemoval.file_id == KitFile.id)
        .where(
            KitFile.school_id == KitItem.school_id,
            KitFile.item_id == KitItem.id,
            KitFile.kind == "photo",
            KitFileRemoval.id.is_(None),
        )
        .correlate(KitItem)
        .scalar_subquery()
    )


def is_needed(session: Session, school_id: int, digest: str) -> bool:
    """Whether a file that is there has these bytes: 1 query."""
    found = session.scalar(
        select(KitFile.id)
        .outerjoin(KitFileRemoval, KitFileRemoval.file_id == KitFile.id)
        .where(
            KitFile.school_id == school_id,
            or_(KitFile.sha256 == digest, KitFile.small_sha256 == digest),
            KitFileRemoval.id.is_(None),
        )
        .limit(1)
    )
    return found is not None


_adder, _remover = aliased(Person), aliased(Person)


def _files(school_id: int) -> Select[KitFile, str, str, KitFileRemoval | None, str]:
    return (
        select(KitFile, KitItem.mark, _adder.name, KitFileRemoval, _remover.name)
        .join(KitItem, KitItem.id == KitFile.item_id)
        .join(_adder, _adder.id == KitFile.person_id)
        .outerjoin(KitFileRemoval, KitFileRemoval.file_id == KitFile.id)
        .outerjoin(_remover, _remover.id == KitFileRemoval.person_id)
        .where(KitFile.school_id == school_id)
        .order_by(KitFile.id.desc())
    )


def _rows(
    session: Session, query: Select[KitFile, str, str, KitFileRemoval | None, str]
) -> tuple[FileRow, ...]:
    return tuple(
        FileRow(
            id=row.id,
            item_id=row.item_id,
            mark=mark,
            kind=row.kind,
            name=row.name,
            media_type=row.media_type,
            size_bytes=row.size_bytes,
            sha256=row.sha256,
            small_sha256=row.small_sha256,
            width=row.width,
            height=row.height,
            by=adder,
            added_at=row.added_at,
            removed=None if removal is None else _removed(removal, remover),
        )
        for row, mark, adder, removal, remover in session.execute(query)
    )


def _removed(removal: KitFileRemoval, remover: str) -> RemovedBy:
    return RemovedBy(name=remover, at=removal.removed_at, reason=removal.reason)
