"""Schools: the owners of every other row."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy.orm import Mapped, mapped_column

from coursekit.store.columns import Base


class School(Base):
    """A school, with the zone and locale that its people write in."""

    __tablename__ = "schools"

    id: Mapped[int] = mapped_column(primary_key=True)
    name: Mapped[str]
    timezone: Mapped[str]
    locale: Mapped[str]
    created_at: Mapped[datetime]
