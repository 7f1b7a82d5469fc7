"""Practice: questions that a student tried alone; nothing here is part of a record."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class PracticeSkill(SchoolRow, Base):
    """How one student stands with one skill: the state of the spacing, and a tally."""

    __tablename__ = "practice_skills"
    __table_args__ = (
        same_school("person_id", "people"),
        UniqueConstraint("person_id", "skill"),
    )

    person_id: Mapped[int]
    skill: Mapped[str]
    state: Mapped[Json]
    due_at: Mapped[datetime]
    tries: Mapped[int]
    hits: Mapped[int]


class PracticeQuestion(SchoolRow, Base):
    """One question with its numbers; the answer and its mark once it is given."""

    __tablename__ = "practice_questions"
    __table_args__ = of_school(
        same_school("person_id", "people"),
        same_school("scenario_version_id", "scenario_versions"),
        Index(None, "person_id", "asked_at"),
        CheckConstraint("(verdict IS NULL) = (answered_at IS NULL)", name="marked_when"),
    )

    person_id: Mapped[int]
    scenario_version_id: Mapped[int]
    task_id: Mapped[str]
    skill: Mapped[str]
    variation: Mapped[Json]
    asked_at: Mapped[datetime]
    typed: Mapped[Json]
    verdict: Mapped[str | None]
    slips: Mapped[Json]
    feedback: Mapped[Json]
    answered_at: Mapped[datetime | None]
