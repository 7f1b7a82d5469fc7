"""Courses, class sessions, what they hold, plan to pull, and who is in them."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class Course(SchoolRow, Base):
    """A course that the school runs."""

    __tablename__ = "courses"
    __table_args__ = of_school(UniqueConstraint("school_id", "title"))

    title: Mapped[str]
    created_at: Mapped[datetime]


class ClassSession(SchoolRow, Base):
    """One class on one local date; its join code lives while it is open."""

    __tablename__ = "class_sessions"
    __table_args__ = of_school(
        same_school("course_id", "courses"),
        same_school("instructor_id", "people"),
        CheckConstraint("status IN ('draft', 'open', 'closed')", name="known_status"),
        CheckConstraint("(status = 'open') = (join_code IS NOT NULL)", name="code_while_open"),
    )

    course_id: Mapped[int]
    title: Mapped[str]
    on: Mapped[date]
    timezone: Mapped[str]
    status: Mapped[str]
    join_code: Mapped[str | None] = mapped_column(unique=True)
    opened_at: Mapped[datetime | None]
    closed_at: Mapped[datetime | None]
    instructor_id: Mapped[int]
    created_at: Mapped[datetime]
    version: Mapped[int]


class ClassScenario(SchoolRow, Base):
    """A scenario that a class works on, in its place."""

    __tablename__ = "class_scenarios"
    __table_args__ = of_school(
        same_school("class_session_id", "class_sessions"),
        same_school("scenario_version_id", "scenario_versions"),
        UniqueConstraint("class_session_id", "scenario_version_id"),
        UniqueConstraint("class_session_id", "position"),
    )

    class_session_id: Mapped[int]
    scenario_version_id: Mapped[int]
    position: Mapped[int]


class PullPlan(SchoolRow, Base):
    """How often a class pulls the rig of each scenario; the highest number holds.

    `pulls` has a number for each scenario version by its id; what it leaves out is as usual.
    """

    __tablename__ = "pull_plans"
    __table_args__ = of_school(
        same_school("class_session_id", "class_sessions"),
        same_school("made_by", "people"),
        UniqueConstraint("class_session_id", "number"),
        CheckConstraint("number > 0", name="counted_from_one"),
    )

    class_session_id: Mapped[int]
    number: Mapped[int]
    pulls: Mapped[Json]
    made_at: Mapped[datetime]
    made_by: Mapped[int]


class Enrolment(SchoolRow, Base):
    """A student in a class; the return code lets the same student in again.

    `return_tag` is the part of the code that finds the row; older cards have none.
    """

    __tablename__ = "enrolments"
    __table_args__ = of_school(
        same_school("class_session_id", "class_sessions"),
        same_school("person_id", "people"),
        UniqueConstraint("class_session_id", "name_key"),
        Index(None, "return_tag"),
    )

    class_session_id: Mapped[int]
    person_id: Mapped[int]
    name_key: Mapped[str]
    return_tag: Mapped[str | None]
    return_code_hash: Mapped[str]
    joined_at: Mapped[datetime]
