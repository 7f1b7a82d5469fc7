"""People and their roles."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import CheckConstraint, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from coursekit.store.columns import Base, SchoolRow, of_school, same_school


class Person(SchoolRow, Base):
    """Somebody of a school; a student who joined with a code has no sign-in name.

    Who has left stays, with the moment it ended: what was recorded names its people.  Whose
    name was erased stays too, under another one that leads to nobody.
    """

    __tablename__ = "people"
    __table_args__ = of_school(UniqueConstraint("school_id", "sign_in_name"))

    name: Mapped[str]
    sign_in_name: Mapped[str | None]
    password_hash: Mapped[str | None]
    created_at: Mapped[datetime]
    ended_at: Mapped[datetime | None]
    erased_at: Mapped[datetime | None]


class PersonRole(Base):
    """One role of one person."""

    __tablename__ = "person_roles"
    __table_args__ = (
        same_school("person_id", "people"),
        CheckConstraint(
            "role IN ('instructor', 'storekeeper', 'head', 'student')", name="known_role"
        ),
    )

    school_id: Mapped[int] = mapped_column(primary_key=True)
    person_id: Mapped[int] = mapped_column(primary_key=True)
    role: Mapped[str] = mapped_column(primary_key=True)
