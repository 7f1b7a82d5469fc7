"""Reviews: what somebody asks about a marked paper, and what another person answered."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class ReviewRequest(SchoolRow, Base):
    """A student's appeal, or an instructor's wish to excuse a critical finding.

    `stop` is the finding as it was said, for a wish to excuse it.  `seen_number` is the
    newest marking when it was asked: who marked up to there may not answer.
    """

    __tablename__ = "review_requests"
    __table_args__ = of_school(
        same_school("attempt_id", "attempts"),
        same_school("asked_by", "people"),
        CheckConstraint("kind IN ('appeal', 'excuse')", name="known_kind"),
    )

    attempt_id: Mapped[int]
    kind: Mapped[str]
    stop: Mapped[Json]
    reason: Mapped[str]
    seen_number: Mapped[int]
    asked_by: Mapped[int]
    asked_at: Mapped[datetime]


class ReviewAnswer(SchoolRow, Base):
    """The one answer to a request, by another person."""

    __tablename__ = "review_answers"
    __table_args__ = (
        same_school("review_request_id", "review_requests"),
        same_school("answered_by", "people"),
        UniqueConstraint("review_request_id"),
    )

    review_request_id: Mapped[int]
    granted: Mapped[bool]
    reason: Mapped[str]
    answered_by: Mapped[int]
    answered_at: Mapped[datetime]
