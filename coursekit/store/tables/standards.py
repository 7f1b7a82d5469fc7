"""Sheets on which a panel judges a scenario, and the pass marks that a school took from them."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class StandardSheet(SchoolRow, Base):
    """One judging of one version of a scenario; `round` 1 is blind, in round 2 peers are seen."""

    __tablename__ = "standard_sheets"
    __table_args__ = of_school(
        same_school("scenario_version_id", "scenario_versions"),
        same_school("opened_by", "people"),
        CheckConstraint("round IN (1, 2)", name="known_round"),
    )

    scenario_version_id: Mapped[int]
    round: Mapped[int]
    opened_at: Mapped[datetime]
    opened_by: Mapped[int]
    closed_at: Mapped[datetime | None]


class StandardRating(SchoolRow, Base):
    """What one judge expects, task by task; a later row of the round stands above it."""

    __tablename__ = "standard_ratings"
    __table_args__ = (
        same_school("sheet_id", "standard_sheets"),
        same_school("judge_id", "people"),
        CheckConstraint("round IN (1, 2)", name="known_round"),
    )

    sheet_id: Mapped[int]
    judge_id: Mapped[int]
    round: Mapped[int]
    chances: Mapped[Json]
    given_at: Mapped[datetime]


class PassMark(SchoolRow, Base):
    """A pass mark that the head took on for a version; the one with the highest number holds."""

    __tablename__ = "pass_marks"
    __table_args__ = of_school(
        same_school("scenario_version_id", "scenario_versions"),
        same_school("sheet_id", "standard_sheets"),
        same_school("made_by", "people"),
        UniqueConstraint("scenario_version_id", "number"),
        CheckConstraint("method IN ('panel')", name="known_method"),
        CheckConstraint("share > 0 AND share <= 1", name="a_share"),
    )

    scenario_version_id: Mapped[int]
    number: Mapped[int]
    share: Mapped[float]
    method: Mapped[str]
    sheet_id: Mapped[int]
    reason: Mapped[str]
    made_at: Mapped[datetime]
    made_by: Mapped[int]
