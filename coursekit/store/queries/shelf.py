"""The kit store as it is looked through: a page of items, and how many stand where.

Whether an item is due follows from the rule of its type.  The edges of each rule are
reckoned once for today, so that the database sorts and counts the items by itself and
a page reads no more rows than it shows.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from sqlalchemy import ColumnElement, and_, case, false, func, or_, select, true
from sqlalchemy.orm import InstrumentedAttribute, Session

from coursekit.store.queries.kit import ItemQuery, ItemRow, TypeRow, items_query, rows_of
from coursekit.store.tables import KitCount, KitItem, KitType
from coursekit.wear.policy import Policy
from coursekit.wear.shelf import Edges, Shelf, edges, near_edges
from coursekit.wear.status import AWAY, Status

SHELVES = tuple(Shelf)
# Either of them on the day clears an item that is looked over on each day of a class.
_LOOKS = (KitCount.last_inspected, KitCount.last_looked)
RANKS = {shelf: rank for rank, shelf in enumerate(SHELVES)}


@dataclass(frozen=True)
class Stand:
    """A way to stand that the store is narrowed to; what is None may be any."""

    shelves: frozenset[Shelf] = frozenset(SHELVES)
    status: Status | None = None
    is_due: bool | None = None


STANDS = {
    "kept": Stand(frozenset(SHELVES) - {Shelf.AWAY}),
    "held": Stand(frozenset({Shelf.HELD})),
    "ready": Stand(frozenset({Shelf.SOON, Shelf.READY})),
    "due": Stand(frozenset(SHELVES) - {Shelf.AWAY}, is_due=True),
    "out": Stand(status=Status.OUT),
    "quarantined": Stand(status=Status.QUARANTINED),
    "away": Stand(frozenset({Shelf.AWAY})),
}


@dataclass(frozen=True)
class Word:
    """One word that is looked for, and the kinds whose names have it where it was typed."""

    text: str
    kinds: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Sought:
    """Which items are looked for: those with every word; of each list one, or any (None).

    `stands` is a name of `STANDS`.
    """

    words: tuple[Word, ...] = ()
    stands: str | None = None
    kind: str | None = None
    place: str | None = None


@dataclass(frozen=True)
class Cursor:
    """Where a page begins: after an item of a shelf and a mark, or before it."""

    shelf: Shelf
    mark: str
    is_before: bool = False


@dataclass(frozen=True)
class Group:
    """How many items are alike in what a list is narrowed by, and how many have the words."""

    kind: str
    place: str
    shelf: Shelf
    status: str
    is_due: bool
    number: int
    with_words: int

    def stands(self, name: str) -> bool:
        """Whether its items stand in a way of `STANDS`."""
        stand = STANDS[name]
        return (
            self.shelf in stand.shelves
            and stand.status in (None, self.status)
            and stand.is_due in (None, self.is_due)
        )


@dataclass(frozen=True)
class Stretch:
    """A page of items, and whether there are more before and after it."""

    rows: tuple[ItemRow, ...]
    more_before: bool
    more_after: bool


class Shelved:
    """The items of a school, each with its shelf of today; `types` are all of its types."""

    def __init__(self, school_id: int, types: Sequence[TypeRow], today: date) -> None:
        self._school_id = school_id
        self._types = types
        self._today = today
        self._is_due = _any(_due_by(edges(rule, today), ids) for rule, ids in self._rules())
        self._shelf = case(
            (KitItem.status.in_([status.value for status in AWAY]), RANKS[Shelf.AWAY]),
            (or_(self._is_barred(), self._is_due), RANKS[Shelf.HELD]),
            (KitItem.status == Status.OUT.value, RANKS[Shelf.OUT]),
            (_any(self._near()), RANKS[Shelf.SOON]),
            else_=RANKS[Shelf.READY],
        )

    def groups(self, session: Session, words: Sequence[Word]) -> tuple[Group, ...]:
        """Return how many items stand where: 1 query."""
        each = (
            select(
                KitType.kind.label("kind"),
                KitItem.place.label("place"),
                self._shelf.label("shelf"),
                KitItem.status.label("status"),
                case((self._is_due, 1), else_=0).label("is_due"),
                case((self._has_all(words), 1), else_=0).label("has_words"),
            )
            .join(KitType, KitType.id == KitItem.type_id)
            .join(KitCount, KitCount.item_id == KitItem.id)
            .where(KitItem.school_id == self._school_id)
            .subquery()
        )
        alike = (each.c.kind, each.c.place, each.c.shelf, each.c.status, each.c.is_due)
        counted = (func.count(), func.sum(each.c.has_words))
        found = session.execute(select(*alike, *counted).group_by(*alike))
        return tuple(
            Group(row[0], row[1], SHELVES[row[2]], row[3], bool(row[4]), row[5], row[6])
            for row in found.all()
        )

    def stretch(
        self, session: Session, sought: Sought, cursor: Cursor | None, most: int
    ) -> Stretch:
        """Return a page of the items looked for, the gravest shelf first, by mark: 1 query."""
        query = self._sought(sought).order_by(None)
        if cursor is not None and cursor.is_before:
            query = query.where(self._before(cursor))
            query = query.order_by(self._shelf.desc(), KitItem.mark.desc())
            found = rows_of(session, query.limit(most + 1), self._today, self._types)
            return Stretch(found[:most][::-1], more_before=len(found) > most, more_after=True)
        if cursor is not None:
            query = query.where(self._after(cursor))
        query = query.order_by(self._shelf, KitItem.mark)
        found = rows_of(session, query.limit(most + 1), self._today, self._types)
        return Stretch(found[:most], more_before=cursor is not None, more_after=len(found) > most)

    def all(self, session: Session, sought: Sought) -> tuple[ItemRow, ...]:
        """Return every item looked for, by mark: 1 query."""
        return rows_of(session, self._sought(sought), self._today, self._types)

    def _sought(self, sought: Sought) -> ItemQuery:
        query = items_query(self._school_id).where(self._has_all(sought.words))
        if sought.kind is not None:
            query = query.where(KitType.kind == sought.kind)
        if sought.place is not None:
            query = query.where(KitItem.place == sought.place)
        return query.where(*self._stands(STANDS[sought.stands])) if sought.stands else query

    def _stands(self, stand: Stand) -> Iterator[ColumnElement[bool]]:
        yield self._shelf.in_([RANKS[shelf] for shelf in stand.shelves])
        if stand.status is not None:
            yield KitItem.status == stand.status.value
        if stand.is_due is not None:
            yield self._is_due if stand.is_due else ~self._is_due

    def _after(self, cursor: Cursor) -> ColumnElement[bool]:
        rank = RANKS[cursor.shelf]
        return or_(self._shelf > rank, and_(self._shelf == rank, KitItem.mark > cursor.mark))

    def _before(self, cursor: Cursor) -> ColumnElement[bool]:
        rank = RANKS[cursor.shelf]
        return or_(self._shelf < rank, and_(self._shelf == rank, KitItem.mark < cursor.mark))

    def _has_all(self, words: Sequence[Word]) -> ColumnElement[bool]:
        return and_(true(), *map(self._has, words))

    def _has(self, word: Word) -> ColumnElement[bool]:
        """Whether a word stands on the item, or in the name of its type or kind."""
        text = word.text.lower()
        on_item = KitItem.mark + " " + KitItem.serial + " " + KitItem.batch + " " + KitItem.place
        types = [
            one.id for one in self._types if text in one.name.lower() or one.kind in word.kinds
        ]
        return or_(func.lower(on_item).contains(text, autoescape=True), KitItem.type_id.in_(types))

    def _is_barred(self) -> ColumnElement[bool]:
        """Whether something else than what is due keeps an item in the store."""
        return or_(
            KitItem.status == Status.QUARANTINED.value,
            ~KitItem.is_labelled,
            KitItem.made.is_(None),
            KitItem.type_id.in_([one.id for one in self._types if not one.is_rated]),
        )

    def _rules(self) -> Iterator[tuple[Policy, list[int]]]:
        """Yield each rule with the types that live by it: many types share one."""
        rules: dict[Policy, list[int]] = {}
        for one in self._types:
            rules.setdefault(one.policy, []).append(one.id)
        yield from rules.items()

    def _near(self) -> Iterator[ColumnElement[bool]]:
        for rule, ids in self._rules():
            yield _due_by(near_edges(rule, self._today), ids)
            if rule.look_over_each_day:
                yield and_(KitItem.type_id.in_(ids), *map(self._is_not_today, _LOOKS))

    def _is_not_today(self, day: InstrumentedAttribute[date | None]) -> ColumnElement[bool]:
        return or_(day.is_(None), day != self._today)


def _any(conditions: Iterable[ColumnElement[bool]]) -> ColumnElement[bool]:
    return or_(false(), *conditions)


def _due_by(edge: Edges, type_ids: Sequence[int]) -> ColumnElement[bool]:
    """Whether an item of some types has come to an edge of their rule."""
    reached = list[ColumnElement[bool]]()
    if edge.use is not None:
        reached.append(KitCount.use >= edge.use)
    if edge.made is not None:
        reached.append(KitItem.made <= edge.made)
    if edge.first_used is not None:
        reached.append(KitCount.first_used <= edge.first_used)
    if edge.inspected is not None:
        reached += [KitCount.last_inspected.is_(None), KitCount.last_inspected <= edge.inspected]
    return and_(KitItem.type_id.in_(type_ids), _any(reached))
