"""Attempts at a scenario, and every answer that was ever typed."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class Attempt(SchoolRow, Base):
    """One try of a student at a scenario, with the numbers that the student was given."""

    __tablename__ = "attempts"
    __table_args__ = of_school(
        same_school("enrolment_id", "enrolments"),
        same_school("class_scenario_id", "class_scenarios"),
        UniqueConstraint("enrolment_id", "class_scenario_id", "try_number"),
        CheckConstraint("(status = 'submitted') = (submitted_at IS NOT NULL)", name="sent_when"),
        CheckConstraint("status IN ('started', 'submitted')", name="known_status"),
    )

    enrolment_id: Mapped[int]
    class_scenario_id: Mapped[int]
    try_number: Mapped[int]
    seed: Mapped[int]
    digest: Mapped[str]
    solver_version: Mapped[str]
    variation: Mapped[Json]
    status: Mapped[str]
    started_at: Mapped[datetime]
    submitted_at: Mapped[datetime | None]


class Answer(SchoolRow, Base):
    """One answer as it was typed; a later one for the task stands above it."""

    __tablename__ = "answers"
    __table_args__ = (
        same_school("attempt_id", "attempts"),
        UniqueConstraint("attempt_id", "client_key"),
    )

    attempt_id: Mapped[int]
    task_id: Mapped[str]
    typed: Mapped[Json]
    client_key: Mapped[str]
    received_at: Mapped[datetime]
