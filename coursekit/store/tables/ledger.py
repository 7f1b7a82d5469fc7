"""The kit ledger and the pulls it records: append-only, chained by hashes."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class PullRecord(SchoolRow, Base):
    """One attempt made on the day: the rig that was really used and how it ended.

    `cell_sha256` is of the load cell's file that it was measured by.
    """

    __tablename__ = "pulls"
    __table_args__ = of_school(
        same_school("class_session_id", "class_sessions"),
        same_school("scenario_version_id", "scenario_versions"),
        same_school("person_id", "people"),
        UniqueConstraint("school_id", "key"),
        Index(None, "school_id", "class_session_id"),
        Index(None, "school_id", "cell_sha256"),
        CheckConstraint(
            "ended IN ('came-free', 'stuck', 'stalled', 'jerked', 'parted')", name="known_end"
        ),
    )

    class_session_id: Mapped[int]
    scenario_version_id: Mapped[int | None]
    rig: Mapped[Json]
    items: Mapped[Json]
    method: Mapped[str]
    ended: Mapped[str]
    at: Mapped[datetime]
    person_id: Mapped[int]
    key: Mapped[str]
    fingerprint: Mapped[str]
    recorded_at: Mapped[datetime]
    cell_sha256: Mapped[str | None]


class LedgerEntry(SchoolRow, Base):
    """One line of a school's ledger, in order of arrival, chained to the one before.

    It names people by id only, so that a name can be erased without touching it.
    """

    __tablename__ = "ledger_entries"
    __table_args__ = of_school(
        same_school("item_id", "kit_items"),
        same_school("person_id", "people"),
        same_school("class_session_id", "class_sessions"),
        same_school("pull_id", "pulls"),
        same_school("reverses_key", "ledger_entries", "key"),
        UniqueConstraint("school_id", "key"),
        UniqueConstraint("school_id", "seq"),
        Index(None, "school_id", "item_id"),
        Index(None, "school_id", "kind", "day"),
        Index(None, "school_id", "class_session_id"),
        CheckConstraint("(kind = 'pull') = (ended IS NOT NULL)", name="pull_has_end"),
        CheckConstraint(
            "(kind = 'correction') = (reverses_key IS NOT NULL)", name="correction_reverses"
        ),
    )

    seq: Mapped[int]
    key: Mapped[str]
    item_id: Mapped[int]
    kind: Mapped[str]
    at: Mapped[datetime]
    day: Mapped[date]
    timezone: Mapped[str]
    person_id: Mapped[int]
    class_session_id: Mapped[int | None]
    pull_id: Mapped[int | None]
    method: Mapped[str | None]
    ended: Mapped[str | None]
    origin: Mapped[str | None]
    load_n: Mapped[float | None]
    limit_n: Mapped[float | None]
    declared: Mapped[str | None]
    passed: Mapped[bool | None]
    reverses_key: Mapped[str | None]
    reason: Mapped[str]
    detail: Mapped[Json]
    recorded_at: Mapped[datetime]
    prev_hash: Mapped[str]
    hash: Mapped[str]
