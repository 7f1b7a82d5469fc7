"""The yard: what assessors saw, level by level, and when each handed a list in."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class YardMark(SchoolRow, Base):
    """One level that one assessor gave; a later one for the criterion stands above it.

    `criterion` is `task.criterion` of the scenario's yard list.  `key` is the idempotency
    key: a mark that a phone sends twice counts once.
    """

    __tablename__ = "yard_marks"
    __table_args__ = (
        same_school("enrolment_id", "enrolments"),
        same_school("class_scenario_id", "class_scenarios"),
        same_school("assessor_id", "people"),
        UniqueConstraint("school_id", "key"),
        Index(None, "enrolment_id", "class_scenario_id"),
        CheckConstraint("level BETWEEN 0 AND 2", name="known_level"),
    )

    enrolment_id: Mapped[int]
    class_scenario_id: Mapped[int]
    assessor_id: Mapped[int]
    criterion: Mapped[str]
    level: Mapped[int]
    note: Mapped[str]
    key: Mapped[str]
    at: Mapped[datetime]


class YardSheet(SchoolRow, Base):
    """One list handed in: an assessor's own, or what two agreed on, with the reason.

    The levels are copied here as they were, by criterion, so that they are final, and so is
    the pass mark that it is decided by; empty in rows from before that was kept.
    """

    __tablename__ = "yard_sheets"
    __table_args__ = of_school(
        same_school("enrolment_id", "enrolments"),
        same_school("class_scenario_id", "class_scenarios"),
        same_school("assessor_id", "people"),
        UniqueConstraint("enrolment_id", "class_scenario_id", "assessor_id", "kind"),
        CheckConstraint("kind IN ('own', 'agreed')", name="known_kind"),
    )

    enrolment_id: Mapped[int]
    class_scenario_id: Mapped[int]
    assessor_id: Mapped[int]
    kind: Mapped[str]
    levels: Mapped[Json]
    notes: Mapped[Json]
    reason: Mapped[str]
    pass_share: Mapped[float | None]
    handed_in_at: Mapped[datetime]
