"""What the register said before: the changes of an item or a type, the newest first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from coursekit.store.policies import policy_of
from coursekit.store.tables import KitChange, Person


@dataclass(frozen=True)
class ChangedField:
    """One field as it was and as it was changed to: a text, a truth, a number or a rule."""

    name: str
    before: Any
    after: Any


@dataclass(frozen=True)
class ChangeRow:
    """One change: when, by whom, why, and which fields."""

    at: datetime
    by: str
    reason: str
    fields: tuple[ChangedField, ...]


def of_item(session: Session, school_id: int, item_id: int) -> tuple[ChangeRow, ...]:
    """Return the changes of an item: 1 query."""
    return _changes(session, school_id, KitChange.item_id == item_id)


def of_type(session: Session, school_id: int, type_id: int) -> tuple[ChangeRow, ...]:
    """Return the changes of a type: 1 query."""
    return _changes(session, school_id, KitChange.type_id == type_id)


def _changes(session: Session, school_id: int, of: ColumnElement[bool]) -> tuple[ChangeRow, ...]:
    rows = session.execute(
        select(KitChange, Person.name)
        .join(Person, Person.id == KitChange.person_id)
        .where(KitChange.school_id == school_id, of)
        .order_by(KitChange.id.desc())
    ).all()
    return tuple(
        ChangeRow(row.changed_at, name, row.reason, tuple(_fields(row.before, row.after)))
        for row, name in rows
    )


def _fields(before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[ChangedField]:
    for name, old in before.items():
        if name == "policy":
            yield ChangedField(name, policy_of(old), policy_of(after[name]))
        else:
            yield ChangedField(name, old, after[name])
