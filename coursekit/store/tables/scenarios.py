"""Scenario versions: a changed file is a new version, an old one stays."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, SchoolRow, of_school, same_school


class ScenarioVersion(SchoolRow, Base):
    """One version of one scenario: its data as text with units, and the file it came from."""

    __tablename__ = "scenario_versions"
    __table_args__ = of_school(
        UniqueConstraint("school_id", "slug", "number"),
        same_school("loaded_by", "people"),
    )

    slug: Mapped[str]
    number: Mapped[int]
    digest: Mapped[str]
    title: Mapped[str]
    level: Mapped[str]
    method: Mapped[str]
    task_count: Mapped[int]
    document: Mapped[str]
    source: Mapped[str]
    solver_version: Mapped[str]
    loaded_at: Mapped[datetime]
    loaded_by: Mapped[int]
