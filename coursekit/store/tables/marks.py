"""Marks: a new marking stands beside the old one, never in its place."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class AttemptResult(SchoolRow, Base):
    """One marking of one attempt; of those that count, the one with the highest number does.

    `kind` says how it came about: the first marking, a mark that somebody changed, a
    critical finding excused, a second marker's blind marks (which never count), what the two
    agreed on, or the whole marked again by a corrected version of the scenario, which
    `scenario_version_id` then names.  `marked_by` is empty where the solver marked.

    `policy_number` and `pass_share` are the rule that the outcome was decided by; both are
    empty in rows from before schools had a policy.
    """

    __tablename__ = "attempt_results"
    __table_args__ = of_school(
        same_school("attempt_id", "attempts"),
        UniqueConstraint("attempt_id", "number"),
        same_school("marked_by", "people"),
        same_school("scenario_version_id", "scenario_versions"),
        CheckConstraint("outcome IN ('competent', 'not-yet', 'unsafe')", name="known_outcome"),
        CheckConstraint(
            "kind IN ('first', 'changed', 'excused', 'second', 'agreed', 'again')",
            name="known_kind",
        ),
        CheckConstraint("counts = (kind <> 'second')", name="blind_marks_never_count"),
    )

    attempt_id: Mapped[int]
    number: Mapped[int]
    kind: Mapped[str]
    counts: Mapped[bool]
    marked_by: Mapped[int | None]
    code: Mapped[str | None]
    reason: Mapped[str | None]
    scenario_version_id: Mapped[int | None]
    marks: Mapped[float]
    out_of: Mapped[float]
    safe: Mapped[bool]
    outcome: Mapped[str]
    policy_number: Mapped[int | None]
    pass_share: Mapped[float | None]
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
