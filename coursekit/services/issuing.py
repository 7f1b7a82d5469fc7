"""Issue and return: what goes out with a class, and in what condition it comes back.

All items of one form go out or none does.  What is due, quarantined, undated or
unlabelled stays; so does what has less left than the pulls that are planned for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from enum import StrEnum
from zoneinfo import ZoneInfo

from sqlalchemy.orm import Session

from coursekit.problems import Problem, Problems, Where
from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.services.counter import at_the_counter, enough_for, meant_plan
from coursekit.services.errors import Conflict, NotFound, Refused
from coursekit.services.replacing import replacements
from coursekit.store import queries, tables
from coursekit.store.queries.kit import ItemRow
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind
from coursekit.wear.planning import Enough

__all__ = ["Condition", "GiveBack", "Issue", "give_back", "issue", "item_desk", "open_classes"]


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
class GiveBack:
    """Items that come back from a class, each with its condition; damage is told."""

    class_id: int
    conditions: Mapping[int, str]
    damage: str
    key: str


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


def issue(unit: Unit, actor: Actor, new: Issue, now: datetime) -> None:
    """Let items go out with a class, all of them or none."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    _check(new.key, new.item_ids)
    entries = [
        NewEntry(f"{new.key}/{item_id}", item_id, Kind.ISSUED, class_id=new.class_id)
        for item_id in dict.fromkeys(new.item_ids)
    ]
    with unit.read() as session:
        school = queries.schools.one_school(session, actor.school_id)
        today = now.astimezone(ZoneInfo(school.timezone)).date()
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
    """Take items back, all of them or none: wet and mud are noted, damage is held."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    _check(back.key, tuple(back.conditions))
    damage = _damage(back)
    entries = [
        entry
        for item_id, condition in back.conditions.items()
        for entry in _back(back, item_id, Condition(condition), damage)
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
        book.write(entries)


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


def _damage(back: GiveBack) -> str:
    checks = Checks()
    for item_id, condition in back.conditions.items():
        checks.choice(f"items.{item_id}", condition, tuple(Condition))
    is_damaged = Condition.DAMAGE in back.conditions.values()
    damage = checks.text("damage", back.damage, needed=is_damaged)
    checks.done()
    return damage


def _back(back: GiveBack, item_id: int, condition: Condition, damage: str) -> Iterator[NewEntry]:
    key, class_id = f"{back.key}/{item_id}", back.class_id
    detail = {"condition": condition.value}
    yield NewEntry(key, item_id, Kind.RETURNED, class_id=class_id, detail=detail)
    if condition in (Condition.WET, Condition.MUD):
        yield NewEntry(f"{key}/to", item_id, Kind.EXPOSURE, class_id=class_id, detail=detail)
    if condition is Condition.DAMAGE:
        yield NewEntry(f"{key}/held", item_id, Kind.QUARANTINED, class_id=class_id, reason=damage)


def _require_open(session: Session, actor: Actor, class_id: int) -> None:
    group = session.get(tables.ClassSession, class_id)
    if group is None or group.school_id != actor.school_id:
        raise NotFound("class")
    if group.status != "open":
        raise Refused("The class is not open", "Open it before kit goes out with it")
