"""Replies to the question that follows a diagnosis; none of them changes a mark."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, same_school


class FollowUpReply(SchoolRow, Base):
    """One reply: which slips were named, what was asked, what was typed, what it told.

    `numbers` are those of the question where it had fresh ones, empty where the ways were
    laid side by side.  `slip` and `step` are what the reply points at, where it does.
    """

    __tablename__ = "follow_up_replies"
    __table_args__ = (
        same_school("attempt_id", "attempts"),
        UniqueConstraint("attempt_id", "task_id"),
        CheckConstraint(
            "outcome IN ('confirmed', 'another', 'right-now', 'neither')", name="known_outcome"
        ),
    )

    attempt_id: Mapped[int]
    task_id: Mapped[str]
    slips: Mapped[Json]
    numbers: Mapped[Json]
    typed: Mapped[str]
    outcome: Mapped[str]
    slip: Mapped[str | None]
    step: Mapped[str | None]
    said: Mapped[Json]
    replied_at: Mapped[datetime]
