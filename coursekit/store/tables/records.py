"""Records of assessment and certificates: issued once, followed by others, never changed."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped, mapped_column

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class AssessmentRecord(SchoolRow, Base):
    """What a school stands behind: all that decided the outcome of a student in a class.

    It is chained to the record before it in its school.  People stand in it by id only,
    so that a name can be erased without touching it.  `follows_id` is the earlier record
    of the same student and class that this one stands in place of.
    """

    __tablename__ = "assessment_records"
    __table_args__ = of_school(
        same_school("class_session_id", "class_sessions"),
        same_school("person_id", "people"),
        same_school("issued_by", "people"),
        same_school("follows_id", "assessment_records"),
        UniqueConstraint("school_id", "seq"),
        Index(None, "school_id", "class_session_id", "person_id"),
        CheckConstraint("outcome IN ('competent', 'not-yet', 'unsafe')", name="known_outcome"),
    )

    seq: Mapped[int]
    class_session_id: Mapped[int]
    person_id: Mapped[int]
    follows_id: Mapped[int | None]
    outcome: Mapped[str]
    document: Mapped[Json]
    issued_by: Mapped[int]
    issued_at: Mapped[datetime]
    prev_hash: Mapped[str]
    hash: Mapped[str]


class Certificate(SchoolRow, Base):
    """A record that may be shown to others, with the days it holds for and its code.

    `replaces_id` is the one that was issued before it for the same student and class.
    """

    __tablename__ = "certificates"
    __table_args__ = of_school(
        same_school("record_id", "assessment_records"),
        same_school("person_id", "people"),
        same_school("replaces_id", "certificates"),
        UniqueConstraint("record_id"),
        Index(None, "school_id", "expires"),
    )

    record_id: Mapped[int]
    person_id: Mapped[int]
    replaces_id: Mapped[int | None]
    code: Mapped[str] = mapped_column(unique=True)
    effective: Mapped[date]
    expires: Mapped[date]
    warn_days: Mapped[int]
    timezone: Mapped[str]
    issued_at: Mapped[datetime]


class CertificateAct(SchoolRow, Base):
    """What was done to a certificate after it was issued, by whom and why."""

    __tablename__ = "certificate_acts"
    __table_args__ = (
        same_school("certificate_id", "certificates"),
        same_school("person_id", "people"),
        Index(None, "certificate_id"),
        CheckConstraint("act IN ('suspended', 'reinstated', 'withdrawn')", name="known_act"),
    )

    certificate_id: Mapped[int]
    act: Mapped[str]
    reason: Mapped[str]
    person_id: Mapped[int]
    at: Mapped[datetime]
