"""The kit register: types of kit with their ratings and policies, and items."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.problems import Problem, Problems, Where
from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book, NewEntry
from coursekit.services.checks import Checks
from coursekit.services.errors import NotFound
from coursekit.services.kit_rules import check_rule
from coursekit.services.marked import (
    hitches_marked,
    length_marked,
    ratings_marked,
    temperatures_marked,
)
from coursekit.services.pull_desk import kit_in_rig
from coursekit.services.recalling import held_by_recall
from coursekit.services.used import Used
from coursekit.store import queries, tables
from coursekit.store.policies import policy_json
from coursekit.store.queries.kit import TypeRow
from coursekit.store.queries.schools import locked_school
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Kind
from coursekit.wear.lists import REGISTER_KINDS
from coursekit.wear.policy import Policy, default_policy

__all__ = [
    "NewItem",
    "NewType",
    "SerialTaken",
    "TypeRow",
    "folded",
    "is_long_ago",
    "item_row",
    "kit_types",
    "received",
    "refuse_taken_mark",
    "refuse_taken_name",
    "refuse_taken_serial",
    "register_item",
    "register_type",
    "require_type",
    "type_row",
]

TAKEN = "Another has it already"
# What is dated before was made when none of this gear was: common practice, no source.
LONG_AGO = date(1950, 1, 1)


@dataclass(frozen=True)
class NewType:
    """A type of kit; ratings are typed as marked, and may be missing.

    `means` says for the field of a rating that is marked as a maximum which rating it
    states.  Without a policy it takes the default of its kind: common practice, no source.
    The WLL of a sling is for a straight pull; `choker` and `basket` are its other ratings.
    """

    name: str
    kind: str
    material: str = ""
    size: str = ""
    wll: str = ""
    mbs: str = ""
    instructions: str = ""
    policy: Policy | None = None
    means: Mapping[str, str] = field(default_factory=dict)
    length: str = ""
    choker: str = ""
    basket: str = ""
    coldest: str = ""
    hottest: str = ""


@dataclass(frozen=True)
class NewItem:
    """One item; one without a legible label or a date of make is kept, never issued.

    `is_so_old` says that a date of make long ago stands on the label, `used` what it had
    been through before.
    """

    type_id: int
    mark: str
    serial: str = ""
    batch: str = ""
    made: date | None = None
    is_labelled: bool = True
    place: str = ""
    cost: str = ""
    is_so_old: bool = False
    used: Used = field(default_factory=Used)


class SerialTaken(Problems):
    """Another item of the same type has the serial: `item_id` is the one that has it."""

    def __init__(self, item_id: int, mark: str) -> None:
        self.item_id = item_id
        what = f"{mark} is of the same type and has this serial"
        super().__init__([Problem(Where("serial"), what, "Look at both labels again")])


def kit_types(unit: Unit, actor: Actor) -> tuple[TypeRow, ...]:
    """Return the school's types of kit."""
    actor.require(Role.STOREKEEPER, Role.INSTRUCTOR)
    with unit.read() as session:
        return queries.kit.types(session, actor.school_id)


def register_type(unit: Unit, actor: Actor, new: NewType, now: datetime) -> int:
    """Add a type of kit and return its id."""
    actor.require(Role.STOREKEEPER)
    row = type_row(actor, new, now)
    with unit.write() as session:
        locked_school(session, actor.school_id)
        refuse_taken_name(session, row)
        session.add(row)
        session.flush()
        return row.id


def register_item(unit: Unit, actor: Actor, new: NewItem, now: datetime) -> int:
    """Add an item, received today, and return its id; it is examined before it goes out."""
    actor.require(Role.STOREKEEPER)
    with unit.write() as session:
        book = Book(session, actor, now)
        row = item_row(actor, new, now, book.today)
        require_type(session, actor, new.type_id)
        refuse_taken_mark(session, row)
        refuse_taken_serial(session, row)
        session.add(row)
        session.flush()
        book.write(received(session, actor, [(row, new.used)]))
        return row.id


def received(
    session: Session, actor: Actor, items: Sequence[tuple[tables.KitItem, Used]]
) -> list[NewEntry]:
    """Return the first entries of new items; what is of a recalled batch is held at once.

    The entry keeps what an item had been through, held against its own limit.
    """
    types = {row.id: row for row in queries.kit.types(session, actor.school_id)}
    there = [
        NewEntry(
            f"received/{row.id}",
            row.id,
            Kind.RECEIVED,
            detail=used.detail(kit_in_rig(row, types[row.type_id]).limit) if used.read() else {},
        )
        for row, used in items
    ]
    return there + held_by_recall(session, actor.school_id, [row for row, _ in items])


def type_row(actor: Actor, new: NewType, now: datetime) -> tables.KitType:
    """Return the row of a type, checked by itself; all problems at once."""
    checks = Checks()
    ratings = ratings_marked(checks, {"wll": new.wll, "mbs": new.mbs}, new.means)
    wll, mbs = ratings.get("wll"), ratings.get("mbs")
    hitches = hitches_marked(checks, {"choker": new.choker, "basket": new.basket}, wll)
    choker, basket = hitches.get("choker"), hitches.get("basket")
    length_text, metres = length_marked(checks, "length", new.length) or (None, None)
    coldest, hottest = temperatures_marked(checks, new.coldest, new.hottest)
    if new.policy is not None:
        check_rule(checks, new.policy)
    row = tables.KitType(
        school_id=actor.school_id,
        name=checks.line("name", new.name),
        kind=checks.choice("kind", new.kind, REGISTER_KINDS),
        material=checks.line("material", new.material, needed=False) or None,
        size=checks.line("size", new.size, needed=False),
        wll_marked=wll and wll.text,
        wll_n=wll and wll.newtons,
        mbs_marked=mbs and mbs.text,
        mbs_n=mbs and mbs.newtons,
        choker_marked=choker and choker.text,
        choker_n=choker and choker.newtons,
        basket_marked=basket and basket.text,
        basket_n=basket and basket.newtons,
        length_marked=length_text,
        length_m=metres,
        coldest=coldest or None,
        hottest=hottest or None,
        instructions=checks.text("instructions", new.instructions, needed=False),
        policy=policy_json(new.policy or default_policy(new.kind)),
        created_at=now,
    )
    checks.done()
    return row


def item_row(actor: Actor, new: NewItem, now: datetime, today: date) -> tables.KitItem:
    """Return the row of an item, checked by itself; all problems at once.

    `today` is the date that the school's calendar shows, `now` when it is registered.
    """
    checks = Checks()
    if is_long_ago(new.made) and not new.is_so_old:
        what = f"Was it really made in {new.made:%Y}?"
        checks.add(
            "made", what, "Look at the label again; where it says so, confirm it in the form"
        )
    new.used.check(checks, new.made, today)
    row = tables.KitItem(
        school_id=actor.school_id,
        type_id=new.type_id,
        mark=checks.line("mark", new.mark),
        serial=checks.line("serial", new.serial, needed=False),
        batch=checks.line("batch", new.batch, needed=False),
        made=checks.past("made", new.made, today),
        is_labelled=new.is_labelled,
        place=checks.line("place", new.place, needed=False),
        cost_cents=checks.money("cost", new.cost),
        status="in-store",
        version=0,
        created_at=now,
    )
    checks.done()
    return row


def is_long_ago(made: date | None) -> bool:
    """Whether it has to be asked if an item was really made then."""
    return made is not None and made < LONG_AGO


def refuse_taken_name(session: Session, row: tables.KitType, beside: int = 0) -> None:
    """Raise where another type of the school than `beside` has the name."""
    taken = session.scalar(
        select(tables.KitType.id).where(
            tables.KitType.school_id == row.school_id,
            tables.KitType.name == row.name,
            tables.KitType.id != beside,
        )
    )
    if taken is not None:
        _refuse("name", TAKEN)


def refuse_taken_mark(session: Session, row: tables.KitItem, beside: int = 0) -> None:
    """Raise where another item than `beside` has the mark, in capitals or not."""
    others = session.scalars(
        select(tables.KitItem.mark).where(
            tables.KitItem.school_id == row.school_id, tables.KitItem.id != beside
        )
    )
    # Databases fold letters in different ways, so the marks are compared here.
    twins = [mark for mark in others if folded(mark) == folded(row.mark)]
    if twins:
        is_same = row.mark in twins
        _refuse("mark", TAKEN if is_same else f"{twins[0]} differs from it in capitals alone")


def refuse_taken_serial(session: Session, row: tables.KitItem, beside: int = 0) -> None:
    """Raise where another item of the type than `beside` has the serial."""
    if not row.serial:
        return
    others = session.execute(
        select(tables.KitItem.id, tables.KitItem.mark, tables.KitItem.serial).where(
            tables.KitItem.school_id == row.school_id,
            tables.KitItem.type_id == row.type_id,
            tables.KitItem.id != beside,
        )
    )
    for item_id, mark, serial in others:
        if folded(serial) == folded(row.serial):
            raise SerialTaken(item_id, mark)


def folded(text: str) -> str:
    """Return a mark or a serial as it is compared: people read capitals as the same letters.

    >>> folded("BOW 1") == folded("bow 1")
    True
    """
    return text.casefold()


def require_type(session: Session, actor: Actor, type_id: int) -> tables.KitType:
    """Return a type of the school."""
    found = session.get(tables.KitType, type_id)
    if found is None or found.school_id != actor.school_id:
        raise NotFound("type of kit")
    return found


def _refuse(field: str, what: str) -> None:
    checks = Checks()
    checks.add(field, what, "Choose another")
    checks.done()
