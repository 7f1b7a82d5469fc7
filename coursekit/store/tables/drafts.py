"""Drafts of scenario files: what somebody is writing, kept at every change."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, SchoolRow, same_school


class ScenarioDraft(SchoolRow, Base):
    """The text of a scenario file as one person has it just now, sound or not.

    `base_id` is the version that it began from and `slug` its scenario; both
    are null for a new one.  `revision` counts the changes of the text.
    """

    __tablename__ = "scenario_drafts"
    __table_args__ = (
        same_school("person_id", "people"),
        same_school("base_id", "scenario_versions"),
        UniqueConstraint("person_id", "slug"),
    )

    person_id: Mapped[int]
    base_id: Mapped[int | None]
    slug: Mapped[str | None]
    text: Mapped[str]
    revision: Mapped[int]
    begun_at: Mapped[datetime]
    changed_at: Mapped[datetime]
