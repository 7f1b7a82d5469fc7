"""Marking again: a run over the papers of a scenario, and what it would do to each."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class MarkingRun(SchoolRow, Base):
    """A run over the papers of one class, or of all; its progress is the rows of its papers.

    Nobody's marks are written before it is confirmed.
    """

    __tablename__ = "marking_runs"
    __table_args__ = of_school(
        same_school("class_session_id", "class_sessions"),
        same_school("scenario_version_id", "scenario_versions"),
        same_school("started_by", "people"),
        same_school("confirmed_by", "people"),
        CheckConstraint(
            "(confirmed_at IS NULL) = (confirmed_by IS NULL)", name="confirmed_by_somebody"
        ),
    )

    class_session_id: Mapped[int | None]
    scenario_version_id: Mapped[int]
    may_fall: Mapped[bool]
    papers: Mapped[int]
    started_by: Mapped[int]
    started_at: Mapped[datetime]
    confirmed_by: Mapped[int | None]
    confirmed_at: Mapped[datetime | None]
    code: Mapped[str | None]
    reason: Mapped[str | None]


class MarkingRunPaper(SchoolRow, Base):
    """One paper of a run: the marking that was seen, and the sheet that would stand beside it.

    `refusal` says why it can't be marked again; `sheet` is emptied once it was written.
    """

    __tablename__ = "marking_run_papers"
    __table_args__ = (
        same_school("marking_run_id", "marking_runs"),
        same_school("attempt_id", "attempts"),
        same_school("attempt_result_id", "attempt_results"),
        UniqueConstraint("marking_run_id", "attempt_id"),
    )

    marking_run_id: Mapped[int]
    attempt_id: Mapped[int]
    attempt_result_id: Mapped[int]
    refusal: Mapped[Json]
    sheet: Mapped[Json]
    moves: Mapped[Json]
    outcome_before: Mapped[str]
    outcome_after: Mapped[str]
    marks_before: Mapped[float]
    marks_after: Mapped[float]
    is_moved: Mapped[bool]
