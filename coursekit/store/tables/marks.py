"""Marks: a new marking stands beside the old one, never in its place."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class AttemptResult(SchoolRow, Base):
    """One marking of one attempt; the one with the highest number counts."""

    __tablename__ = "attempt_results"
    __table_args__ = of_school(
        same_school("attempt_id", "attempts"),
        UniqueConstraint("attempt_id", "number"),
        CheckConstraint("outcome IN ('competent', 'not-yet', 'unsafe')", name="known_outcome"),
    )

    attempt_id: Mapped[int]
    number: Mapped[int]
    marks: Mapped[float]
    out_of: Mapped[float]
    safe: Mapped[bool]
    outcome: Mapped[str]
    stops: Mapped[Json]
    findings: Mapped[Json]
    solver_version: Mapped[str]
    marked_at: Mapped[datetime]


class TaskMark(SchoolRow, Base):
    """The mark of one task, with its reasons."""

    __tablename__ = "task_marks"
    __table_args__ = (
        same_school("attempt_result_id", "attempt_results"),
        UniqueConstraint("attempt_result_id", "task_id"),
    )

    attempt_result_id: Mapped[int]
    task_id: Mapped[str]
    position: Mapped[int]
    marks: Mapped[float]
    out_of: Mapped[float]
    verdict: Mapped[str]
    slips: Mapped[Json]
    given: Mapped[Json]
    truth: Mapped[Json]
    expected: Mapped[Json]
    feedback: Mapped[Json]
    flagged: Mapped[bool]
