"""Issue and return: what goes out with a class, and in what condition it comes back.

All items of one form go out or none does.  What is due, quarantined, undated or
unlabelled stays; so does what has less left than the pulls that are planned for it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from enum import StrEnum

from sqlalchemy.orm import Session

from coursekit.problems import Problem, Problems, Where
from coursekit.rigging.rig import RIG_METHODS
from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.services.counter import at_the_counter, enough_for, meant_plan
from coursekit.services.errors import Conflict, NotFound, Refused
from coursekit.services.pull_desk import DECLARED_SIZES, DeclaredPull, PullDesk
from coursekit.services.replacing import replacements
from coursekit.store import queries, tables
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Ending, Kind, Size
from coursekit.wear.planning import Enough

__all__ = [
    "Condition",
    "Counted",
    "GiveBack",
    "Issue",
    "give_back",
    "issue",
    "item_desk",
    "logged_with",
    "open_classes",
]

# Nobody pulls an item oftener on a day: a slip of the keys. Common practice, no source.
MOST_COUNTED = 50


class Condition(StrEnum):
    """How an item came back."""

    CLEAN = "clean"
    WET = "wet"
    MUD = "mud"
    DAMAGE = "damage"


@dataclass(frozen=True)
class Issue:
    """Items that go out with a class; the key counts once.

    `looked` names the checks of the counter that were ticked for them.
    """

    class_id: int
    item_ids: tuple[int, ...]
    key: str
    looked: tuple[str, ...] = ()


@dataclass(frozen=True)
class Counted:
    """Pulls that an item bore and nobody logged, by how hard they were on it."""

    method: str = RIG_METHODS[0]
    light: int = 0
    heavy: int = 0
    unknown: int = 0

    @property
    def sizes(self) -> dict[str, int]:
        """How many there were of each size that there were any of."""
        told = {size.value: getattr(self, size.value) for size in DECLARED_SIZES}
        return {size: number for size, number in told.items() if number}


@dataclass(frozen=True)
class GiveBack:
    """Items that come back from a class, each with its condition.

    `damages` tells by item what is damaged, `pulls` what it bore beside what was logged.
    """

    class_id: int
    conditions: Mapping[int, str]
    damages: Mapping[int, str]
    key: str
    pulls: Mapping[int, Counted] = field(default_factory=dict)


@dataclass(frozen=True)
class ItemDesk:
    """One item at the counter: where it may go, where it is, and what could replace it.

    `enough` tells what the class that was asked of plans for it, None where the item has
    to stay or no such class is open.
    """

    item: ItemRow
    classes: tuple[tuple[int, str], ...]
    enough: Enough | None
    out_with: tuple[int, str] | None
    instead: tuple[ItemRow, ...]


def open_classes(unit: Unit, actor: Actor) -> tuple[tuple[int, str], ...]:
    """Return the classes that kit may go out with, by id and title."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        return queries.issues.open_classes(session, actor.school_id)


def item_desk(
    unit: Unit, actor: Actor, item_id: int, class_id: int | None, today: date
) -> ItemDesk:
    """Return one item as it stands at the counter, for one of the classes that are open."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    school_id = actor.school_id
    with unit.read() as session:
        item = queries.kit.item(session, school_id, item_id, today)
        if item is None:
            raise NotFound("item")
        alike = queries.kit.items_of_kinds(session, school_id, [item.kind], today)
        classes = queries.issues.open_classes(session, school_id)
        enough = None
        if class_id is not None and class_id in dict(classes) and item.due.may_go_out:
            enough = enough_for(session, school_id, class_id, [item_id], today)[item_id]
        return ItemDesk(
            item,
            classes,
            enough,
            queries.issues.classes_with(session, school_id, [item_id]).get(item_id),
            replacements(item, alike),
        )


def logged_with(
    unit: Unit, actor: Actor, class_id: int, item_ids: Collection[int]
) -> Mapping[int, Mapping[Size, int]]:
    """Return how many pulls of each size a class logged with some items, by item."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        return queries.pulls.sizes_of_items(session, actor.school_id, class_id, item_ids)


def issue(unit: Unit, actor: Actor, new: Issue, now: datetime) -> None:
    """Let items go out with a class, all of them or none."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    _check(new.key, new.item_ids)
    entries = [
        NewEntry(f"{new.key}/{item_id}", item_id, Kind.ISSUED, class_id=new.class_id)
        for item_id in dict.fromkeys(new.item_ids)
    ]
    with unit.read() as session:
        today = queries.schools.one_school(session, actor.school_id).day_of(now)
        meant = meant_plan(session, actor.school_id, new.class_id, today)
    with unit.write() as session:
        book = Book(session, actor, now)
        if _was_sent(book, entries):
            return
        _require_open(session, actor, new.class_id)
        book.items(new.item_ids)
        counter = at_the_counter(session, actor.school_id, new.class_id, new.item_ids, today, meant)
        counter.refuse_unfit()
        looked = {"looked": list(new.looked)} if new.looked else {}
        book.write(
            [replace(one, detail={**counter.told(one.item_id), **looked}) for one in entries]
        )


def give_back(unit: Unit, actor: Actor, back: GiveBack, now: datetime) -> None:
    """Take items back, all of them or none: wet and mud are noted, damage is held.

    The pulls that are told with them are written first, in the same transaction.
    """
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    _check(back.key, tuple(back.conditions))
    _check_told(back)
    entries = [
        entry
        for item_id, condition in back.conditions.items()
        for entry in _back(back, item_id, Condition(condition))
    ]
    with unit.write() as session:
        book = Book(session, actor, now)
        if _was_sent(book, entries):
            return
        items = book.items(back.conditions)
        out = queries.issues.out_with(session, actor.school_id, back.class_id)
        problems = [_not_out(item) for item_id, item in items.items() if item_id not in out]
        if problems:
            raise Problems(problems)
        desk = PullDesk(session, actor, now)
        book.write([*desk.declare(list(_counted(back))), *entries])


def _counted(back: GiveBack) -> Iterator[DeclaredPull]:
    """Yield each pull that is told with the items, as one that came free."""
    for item_id, counted in back.pulls.items():
        for size, number in counted.sizes.items():
            for nth in range(number):
                key = f"{back.key}/{item_id}/{size}/{nth}"
                yield DeclaredPull(
                    back.class_id, item_id, counted.method, size, Ending.CAME_FREE, key
                )


def _not_out(item: tables.KitItem) -> Problem:
    what = f"{item.mark} is not out with this class"
    return Problem(
        Where(f"items.{item.id}"), what, "Set it to still out: its page tells where it is"
    )


def _was_sent(book: Book, entries: Sequence[NewEntry]) -> bool:
    """Whether the form came before, whole; a part of it is a conflict."""
    known = [entry for entry in entries if book.has(entry)]
    if known and len(known) < len(entries):
        raise Conflict("This was sent before with other items", "Open the form again")
    return bool(known)


def _check(key: str, item_ids: Sequence[int]) -> None:
    checks = Checks()
    checks.key("key", key)
    if not item_ids:
        checks.add("items", "Nothing is chosen", "Choose at least one item")
    checks.done()


def _check_told(back: GiveBack) -> None:
    """Raise what is wrong with what is told of the items."""
    checks = Checks()
    for item_id, condition in back.conditions.items():
        checks.choice(f"items.{item_id}", condition, tuple(Condition))
        checks.text(
            f"damages.{item_id}",
            back.damages.get(item_id, ""),
            needed=condition == Condition.DAMAGE,
        )
    for item_id, damage in back.damages.items():
        if damage.strip() and back.conditions.get(item_id) != Condition.DAMAGE:
            what = "It tells of damage, and the item is not set to damaged"
            checks.add(f"damages.{item_id}", what, "Set it so, or leave this empty")
    for item_id, counted in back.pulls.items():
        checks.choice(f"pulls.{item_id}.method", counted.method, RIG_METHODS)
        _check_counted(checks, item_id, counted, is_back=item_id in back.conditions)
    checks.done()


def _check_counted(checks: Checks, item_id: int, counted: Counted, *, is_back: bool) -> None:
    for size, number in counted.sizes.items():
        where = f"pulls.{item_id}.{size}"
        if not 0 < number <= MOST_COUNTED:
            checks.add(where, f"Up to {MOST_COUNTED} pulls are taken", "Look at the number")
        elif not is_back:
            what = "The item is still out, so its pulls are not taken"
            checks.add(where, what, "Take it back as well, or leave this empty")


def _back(back: GiveBack, item_id: int, condition: Condition) -> Iterator[NewEntry]:
    key, class_id = f"{back.key}/{item_id}", back.class_id
    seen = {"condition": condition.value}
    counted = back.pulls.get(item_id, Counted()).sizes
    # Kept beside it, so that the same form with other pulls is known for another.
    detail = {**seen, "pulls": counted} if counted else seen
    yield NewEntry(key, item_id, Kind.RETURNED, class_id=class_id, detail=detail)
    if condition in (Condition.WET, Condition.MUD):
        yield NewEntry(f"{key}/to", item_id, Kind.EXPOSURE, class_id=class_id, detail=seen)
    if condition is Condition.DAMAGE:
        reason = back.damages[item_id].strip()
        yield NewEntry(f"{key}/held", item_id, Kind.QUARANTINED, class_id=class_id, reason=reason)


def _require_open(session: Session, actor: Actor, class_id: int) -> None:
    group = session.get(tables.ClassSession, class_id)
    if group is None or group.school_id != actor.school_id:
        raise NotFound("class")
    if group.status != "open":
        raise Refused("The class is not open", "Open it before kit goes out with it")
