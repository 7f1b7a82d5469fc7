"""The kit register as it is shown: what each item is, counts, and what is due."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import Any, TypeAlias

from sqlalchemy import Row, Select, and_, func, select
from sqlalchemy.orm import Session

from coursekit.rigging.gear import LOAD_BEARING
from coursekit.store.policies import policy_of
from coursekit.store.queries.kit_files import newest_photo
from coursekit.store.queries.splices import newest_repairs
from coursekit.store.tables import KitCount, KitItem, KitType
from coursekit.wear.counting import Counts, count
from coursekit.wear.ledger import Entry
from coursekit.wear.policy import Policy
from coursekit.wear.schedule import Due, Facts, due, rest_until
from coursekit.wear.shelf import Shelf, shelf_of
from coursekit.wear.status import Status, retirement_of, status_of

ItemQuery: TypeAlias = "Select[*tuple[Any, ...]]"
ItemColumns: TypeAlias = "Row[*tuple[Any, ...]]"
# Plain columns: a list of ten thousand items needs no objects that could be changed.
_OF_ITEM = tuple(column for column in KitItem.__table__.columns if column.key != "school_id")
_OF_COUNT = tuple(
    column
    for column in KitCount.__table__.columns
    if column.key not in ("id", "school_id", "item_id")
)


@dataclass(frozen=True)
class Rating:
    """A rating as marked on the item, and the force that it was read as. [N]."""

    name: str
    marked: str
    newtons: float


@dataclass(frozen=True)
class TypeRow:
    """A type of kit with the school's rule for its life.

    `hitches` are the ratings of a sling besides its WLL; length and temperatures are as
    marked, `metres` is what the length was read as. [m].
    """

    id: int
    name: str
    kind: str
    material: str | None
    size: str
    ratings: tuple[Rating, ...]
    hitches: tuple[Rating, ...]
    length: str
    metres: float | None
    coldest: str
    hottest: str
    instructions: str
    policy: Policy

    @property
    def is_rated(self) -> bool:
        """Whether a rating is known of it, or it carries no load."""
        return bool(self.ratings) or self.kind not in LOAD_BEARING

    def rating(self, name: str) -> float | None:
        """Return a rating by its name, None where none is marked. [N]."""
        return next((rating.newtons for rating in self.ratings if rating.name == name), None)


@dataclass(frozen=True)
class ItemRow:
    """One item of kit with its counts and what is due on it today."""

    id: int
    version: int
    mark: str
    serial: str
    batch: str
    made: date | None
    is_labelled: bool
    place: str
    cost_cents: int | None
    registered: date
    status: str
    type: TypeRow
    counts: Counts
    due: Due
    retired_on: date | None
    retired_for: str | None
    photo_id: int | None

    @property
    def kind(self) -> str:
        """The kind of its type."""
        return self.type.kind

    @property
    def shelf(self) -> Shelf:
        """Where it stands in the store."""
        return shelf_of(Status(self.status), self.due, self.counts, self.type.policy)

    @property
    def rest_until(self) -> datetime | None:
        """The moment until which it rests after its last pull, None where it needs no rest."""
        return rest_until(self.counts, self.type.policy)

    @property
    def use(self) -> float:
        """Its use count."""
        return self.counts.use

    @property
    def use_limit(self) -> float | None:
        """The use count at which it retires, None where it has none."""
        return self.type.policy.counting.limit


def items(session: Session, school_id: int, today: date) -> tuple[ItemRow, ...]:
    """Return every item of a school, by mark: 2 queries."""
    return rows_of(session, items_query(school_id), today)


def item(session: Session, school_id: int, item_id: int, today: date) -> ItemRow | None:
    """Return one item of a school: 2 queries."""
    rows = rows_of(session, items_query(school_id).where(KitItem.id == item_id), today)
    return rows[0] if rows else None


def items_of_kinds(
    session: Session, school_id: int, kinds: Iterable[str], today: date
) -> tuple[ItemRow, ...]:
    """Return the items of some kinds, by mark: 2 queries."""
    return rows_of(session, items_query(school_id).where(KitType.kind.in_(list(kinds))), today)


def items_of_ids(
    session: Session, school_id: int, item_ids: Iterable[int], today: date
) -> tuple[ItemRow, ...]:
    """Return some items by their ids, by mark: 2 queries."""
    return rows_of(session, items_query(school_id).where(KitItem.id.in_(list(item_ids))), today)


def ids_of_mark(session: Session, school_id: int, mark: str) -> tuple[int, ...]:
    """Return the item of a mark as it is typed, else those that differ in case: 1 query."""
    rows = session.execute(
        select(KitItem.id, KitItem.mark).where(
            KitItem.school_id == school_id, func.lower(KitItem.mark) == mark.lower()
        )
    ).all()
    exact = tuple(item_id for item_id, written in rows if written == mark)
    return exact or tuple(item_id for item_id, _written in rows)


def items_of_batch(
    session: Session, school_id: int, batch: str, today: date
) -> tuple[ItemRow, ...]:
    """Return the items of a batch, by mark; none of a batch without a name: 2 queries."""
    named = (KitItem.batch == batch, KitItem.batch != "")
    return rows_of(session, items_query(school_id).where(*named), today)


def types(session: Session, school_id: int) -> tuple[TypeRow, ...]:
    """Return the types of a school, by kind and name: 1 query."""
    rows = session.scalars(
        select(KitType).where(KitType.school_id == school_id).order_by(KitType.kind, KitType.name)
    )
    return tuple(type_of(row) for row in rows)


def number_of_type(session: Session, school_id: int, type_id: int) -> int:
    """Return how many items a type has, those that are gone among them: 1 query."""
    of_type = (KitItem.school_id == school_id, KitItem.type_id == type_id)
    return session.scalar(select(func.count()).select_from(KitItem).where(*of_type)) or 0


def items_query(school_id: int) -> ItemQuery:
    """Return the query of a school's items with their counts, by mark, for `rows_of`."""
    repairs = newest_repairs(school_id)
    of_item = and_(repairs.c.item_id == KitItem.id, repairs.c.age == 1)
    return (
        select(*_OF_ITEM, *_OF_COUNT, newest_photo().label("photo_id"), repairs.c.repair)
        .join(KitType, KitType.id == KitItem.type_id)
        .join(KitCount, KitCount.item_id == KitItem.id)
        .outerjoin(repairs, of_item)
        .where(KitItem.school_id == school_id)
        .order_by(KitItem.mark)
    )


def rows_of(
    session: Session, query: ItemQuery, today: date, known: Sequence[TypeRow] = ()
) -> tuple[ItemRow, ...]:
    """Return the items of a query as they stand today: 1 query, and 1 for types not `known`.

    Many items share a type, so its rule is read once and not beside each of them.
    """
    found = session.execute(query).all()
    types = {row.id: row for row in known or _types_of(session, {row.type_id for row in found})}
    return tuple(_row(row, types[row.type_id], today) for row in found)


def _types_of(session: Session, type_ids: Collection[int]) -> Iterable[TypeRow]:
    return map(type_of, session.scalars(select(KitType).where(KitType.id.in_(type_ids))))


def _row(row: ItemColumns, type_row: TypeRow, today: date) -> ItemRow:
    counts = counts_of(row)
    facts = Facts(row.made, row.is_labelled, Status(row.status), type_row.is_rated)
    return ItemRow(
        id=row.id,
        version=row.version,
        mark=row.mark,
        serial=row.serial,
        batch=row.batch,
        made=row.made,
        is_labelled=row.is_labelled,
        place=row.place,
        cost_cents=row.cost_cents,
        registered=row.created_at.date(),
        status=row.status,
        type=as_spliced(type_row, row.repair),
        counts=counts,
        due=due(facts, counts, type_row.policy, today),
        retired_on=row.retired_on,
        retired_for=row.retired_for,
        photo_id=row.photo_id,
    )


def as_folded(row: ItemRow, ledger: Sequence[Entry], today: date) -> ItemRow:
    """Return an item as a part of its ledger has it, in place of the whole."""
    status, counting = status_of(ledger) or Status.IN_STORE, row.type.policy.counting
    counts, end = count(ledger, counting), retirement_of(ledger)
    facts = Facts(row.made, row.is_labelled, status, row.type.is_rated)
    return replace(
        row,
        status=status.value,
        counts=counts,
        due=due(facts, counts, row.type.policy, today),
        retired_on=end.day if end else None,
        retired_for=end.reason if end else None,
    )


def as_spliced(type_row: TypeRow, repair: Mapping[str, Any] | None) -> TypeRow:
    """Return a type as one item of it is: as long as its last splice left it."""
    if not repair or "metres" not in repair:
        return type_row
    return replace(type_row, length=repair["length"], metres=repair["metres"])


def counts_of(row: KitCount | ItemColumns) -> Counts:
    """Return the counts that are kept beside the ledger."""
    return Counts(
        light=row.light,
        heavy=row.heavy,
        overload=row.overload,
        unknown=row.unknown,
        use=row.use,
        first_used=row.first_used,
        last_pull=row.last_pull,
        last_inspected=row.last_inspected,
        last_looked=row.last_looked,
    )


def type_of(row: KitType) -> TypeRow:
    """Return a type as it is shown."""
    marked = (("wll", row.wll_marked, row.wll_n), ("mbs", row.mbs_marked, row.mbs_n))
    hitched = (
        ("choker", row.choker_marked, row.choker_n),
        ("basket", row.basket_marked, row.basket_n),
    )
    return TypeRow(
        id=row.id,
        name=row.name,
        kind=row.kind,
        material=row.material,
        size=row.size,
        ratings=tuple(_ratings(marked)),
        hitches=tuple(_ratings(hitched)),
        length=row.length_marked or "",
        metres=row.length_m,
        coldest=row.coldest or "",
        hottest=row.hottest or "",
        instructions=row.instructions,
        policy=policy_of(row.policy),
    )


def _ratings(marked: Iterable[tuple[str, str | None, float | None]]) -> Iterator[Rating]:
    for name, text, newtons in marked:
        if text is not None and newtons is not None:
            yield Rating(name, text, newtons)
