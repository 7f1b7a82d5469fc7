"""Sign-ins on the server, and the counters that slow guessing down."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import Index
from sqlalchemy.orm import Mapped, mapped_column

from coursekit.store.columns import Base, SchoolRow, same_school


class SignIn(SchoolRow, Base):
    """One signed-in device; only the hash of its token is kept.

    A student's sign-in names the enrolment it is for.
    """

    __tablename__ = "sign_ins"
    __table_args__ = (
        same_school("person_id", "people"),
        same_school("enrolment_id", "enrolments"),
        Index(None, "school_id", "person_id"),
    )

    person_id: Mapped[int]
    enrolment_id: Mapped[int | None]
    token_hash: Mapped[str] = mapped_column(unique=True)
    created_at: Mapped[datetime]
    seen_at: Mapped[datetime]
    expires_at: Mapped[datetime]
    ended_at: Mapped[datetime | None]


class FailedTries(Base):
    """Failures in a row under one key: an account, a code, or who tries.

    It belongs to no school: a guessed code or name has none.
    """

    __tablename__ = "failed_tries"

    key: Mapped[str] = mapped_column(primary_key=True)
    failures: Mapped[int]
    last_at: Mapped[datetime]
    wait_until: Mapped[datetime]
