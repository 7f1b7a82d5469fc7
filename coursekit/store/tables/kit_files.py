"""Photos and certificates of kit items: what each is; the bytes are kept on disk."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, SchoolRow, of_school, same_school


class KitFile(SchoolRow, Base):
    """One file of an item, as it was taken in; `name` is the name that its file had.

    The digests name the bytes on disk; a picture has a small one beside the large.
    """

    __tablename__ = "kit_files"
    __table_args__ = of_school(
        same_school("item_id", "kit_items"),
        same_school("person_id", "people"),
        Index(None, "school_id", "item_id"),
        Index(None, "school_id", "sha256"),
        CheckConstraint("kind IN ('photo', 'certificate')", name="known_kind"),
        CheckConstraint("media_type IN ('image/jpeg', 'application/pdf')", name="known_type"),
        CheckConstraint(
            "(media_type = 'image/jpeg') = (small_sha256 IS NOT NULL AND "
            "width IS NOT NULL AND height IS NOT NULL)",
            name="picture_has_size",
        ),
    )

    item_id: Mapped[int]
    kind: Mapped[str]
    name: Mapped[str]
    media_type: Mapped[str]
    size_bytes: Mapped[int]
    sha256: Mapped[str]
    small_sha256: Mapped[str | None]
    width: Mapped[int | None]
    height: Mapped[int | None]
    person_id: Mapped[int]
    added_at: Mapped[datetime]


class KitFileRemoval(SchoolRow, Base):
    """Why a file was taken away, by whom and when; its row stays."""

    __tablename__ = "kit_file_removals"
    __table_args__ = (
        same_school("file_id", "kit_files"),
        same_school("person_id", "people"),
        UniqueConstraint("file_id"),
    )

    file_id: Mapped[int]
    reason: Mapped[str]
    person_id: Mapped[int]
    removed_at: Mapped[datetime]
