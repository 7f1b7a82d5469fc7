"""Secret addresses at which a school's calendars are read."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, Index
from sqlalchemy.orm import Mapped, mapped_column

from coursekit.store.columns import Base, SchoolRow, same_school


class CalendarAddress(SchoolRow, Base):
    """One address of one kind of calendar; only the hash of its secret is kept.

    An address that was ended stays with who ended it and when.
    """

    __tablename__ = "calendar_addresses"
    __table_args__ = (
        same_school("made_by", "people"),
        same_school("ended_by", "people"),
        CheckConstraint("(ended_at IS NULL) = (ended_by IS NULL)", name="ended_by_whom"),
        Index(None, "school_id", "kind"),
    )

    kind: Mapped[str]
    secret_hash: Mapped[str] = mapped_column(unique=True)
    made_by: Mapped[int]
    made_at: Mapped[datetime]
    ended_by: Mapped[int | None]
    ended_at: Mapped[datetime | None]
