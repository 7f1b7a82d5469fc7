"""The kit register: types, items, and the counts kept with the ledger."""

from __future__ import annotations

from datetime import date, datetime

from sqlalchemy import CheckConstraint, Index, UniqueConstraint
from sqlalchemy.orm import Mapped

from coursekit.store.columns import Base, Json, SchoolRow, of_school, same_school


class KitType(SchoolRow, Base):
    """A type of kit: what is marked on it, and the school's rule for its life.

    A rating is kept as marked beside the force that it was read as, and so is a length.
    Those of a sling in a choker and in a basket stand beside its WLL, which is for a
    straight pull; between `coldest` and `hottest` it may be used.
    """

    __tablename__ = "kit_types"
    __table_args__ = of_school(UniqueConstraint("school_id", "name"))

    name: Mapped[str]
    kind: Mapped[str]
    material: Mapped[str | None]
    size: Mapped[str]
    wll_marked: Mapped[str | None]
    wll_n: Mapped[float | None]
    mbs_marked: Mapped[str | None]
    mbs_n: Mapped[float | None]
    choker_marked: Mapped[str | None]
    choker_n: Mapped[float | None]
    basket_marked: Mapped[str | None]
    basket_n: Mapped[float | None]
    length_marked: Mapped[str | None]
    length_m: Mapped[float | None]
    coldest: Mapped[str | None]
    hottest: Mapped[str | None]
    instructions: Mapped[str]
    policy: Mapped[Json]
    created_at: Mapped[datetime]


class KitItem(SchoolRow, Base):
    """One item; its status and retirement follow from its ledger and are kept with it.

    What it cost is in hundredths of the school's own money.
    """

    __tablename__ = "kit_items"
    __table_args__ = of_school(
        same_school("type_id", "kit_types"),
        UniqueConstraint("school_id", "mark"),
        CheckConstraint(
            "status IN ('in-store', 'out', 'quarantined', 'retired', 'lost')",
            name="known_status",
        ),
    )

    type_id: Mapped[int]
    mark: Mapped[str]
    serial: Mapped[str]
    batch: Mapped[str]
    made: Mapped[date | None]
    is_labelled: Mapped[bool]
    place: Mapped[str]
    cost_cents: Mapped[int | None]
    status: Mapped[str]
    retired_on: Mapped[date | None]
    retired_for: Mapped[str | None]
    version: Mapped[int]
    created_at: Mapped[datetime]


class KitChange(SchoolRow, Base):
    """What the register said of an item or a type, and says now: who changed it, and why.

    `before` and `after` hold the fields that differ, by name.
    """

    __tablename__ = "kit_changes"
    __table_args__ = of_school(
        same_school("item_id", "kit_items"),
        same_school("type_id", "kit_types"),
        same_school("person_id", "people"),
        UniqueConstraint("school_id", "key"),
        Index(None, "school_id", "item_id"),
        Index(None, "school_id", "type_id"),
        CheckConstraint("(item_id IS NULL) <> (type_id IS NULL)", name="of_one_thing"),
    )

    item_id: Mapped[int | None]
    type_id: Mapped[int | None]
    before: Mapped[Json]
    after: Mapped[Json]
    reason: Mapped[str]
    key: Mapped[str]
    person_id: Mapped[int]
    changed_at: Mapped[datetime]


class KitCount(SchoolRow, Base):
    """What the ledger of one item adds up to; it can be rebuilt from the ledger."""

    __tablename__ = "kit_counts"
    __table_args__ = (
        same_school("item_id", "kit_items"),
        UniqueConstraint("item_id"),
    )

    item_id: Mapped[int]
    light: Mapped[int]
    heavy: Mapped[int]
    overload: Mapped[int]
    unknown: Mapped[int]
    use: Mapped[float]
    first_used: Mapped[date | None]
    last_pull: Mapped[datetime | None]
    last_inspected: Mapped[date | None]
    last_looked: Mapped[date | None]
