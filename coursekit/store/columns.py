"""Types of columns, and how a row is tied to its school."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any

from sqlalchemy import (
    JSON,
    DateTime,
    Dialect,
    Double,
    ForeignKey,
    ForeignKeyConstraint,
    MetaData,
    Text,
    TypeDecorator,
    UniqueConstraint,
)
from sqlalchemy.orm import DeclarativeBase, Mapped, mapped_column
from sqlalchemy.schema import SchemaItem

Json = Annotated[Any, "json"]


class UtcDateTime(TypeDecorator[datetime]):
    """An instant: stored in UTC, given back aware; a naive one is refused."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Return the instant in UTC, naive where the database knows no zones."""
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError("an instant without a time zone can't be stored")
        in_utc = value.astimezone(UTC)
        return in_utc.replace(tzinfo=None) if dialect.name == "sqlite" else in_utc

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        """Return the instant as aware UTC."""
        if value is None:
            return None
        return value.replace(tzinfo=UTC) if dialect.name == "sqlite" else value.astimezone(UTC)


class Base(DeclarativeBase):
    """The base of every table; constraints are named, so that migrations can name them."""

    metadata = MetaData(
        naming_convention={
            "ix": "ix_%(table_name)s_%(column_0_N_name)s",
            "uq": "uq_%(table_name)s_%(column_0_N_name)s",
            "ck": "ck_%(table_name)s_%(constraint_name)s",
            "fk": "fk_%(table_name)s_%(column_0_N_name)s",
            "pk": "pk_%(table_name)s",
        }
    )
    type_annotation_map = {  # noqa: RUF012  the name and form are SQLAlchemy's
        str: Text(),
        float: Double(),
        datetime: UtcDateTime(),
        Json: JSON(),
    }


class SchoolRow:
    """A row of one school: its id is unique by itself, and together with the school's."""

    id: Mapped[int] = mapped_column(primary_key=True)
    school_id: Mapped[int] = mapped_column(ForeignKey("schools.id"))


def of_school(*more: SchemaItem) -> tuple[SchemaItem, ...]:
    """Return the table arguments of a row that others of its school point at."""
    return (UniqueConstraint("school_id", "id"), *more)


def same_school(column: str, table: str, target: str = "id") -> ForeignKeyConstraint:
    """Return the key of a column that points at a row of the same school."""
    return ForeignKeyConstraint(["school_id", column], [f"{table}.school_id", f"{table}.{target}"])
