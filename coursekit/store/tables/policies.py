"""A school's own rules: each change is a new row beside the old ones."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class SchoolPolicyVersion(SchoolRow, Base):
    """One version of a school's policy; the one with the highest number is in force."""

    __tablename__ = "school_policies"
    __table_args__ = of_school(
        same_school("made_by", "people"),
        UniqueConstraint("school_id", "number"),
        CheckConstraint("number > 0", name="counted_from_one"),
    )

    number: Mapped[int]
    policy: Mapped[Json]
    reason: Mapped[str]
    made_at: Mapped[datetime]
    made_by: Mapped[int]
