"""A table of kit taken into the register: every bad row told first, then all of it or nothing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from coursekit.files.kit_table import TableRow
from coursekit.problems import Problem, Problems, Where
from coursekit.rigging.gear import is_unclear
from coursekit.services.actor import Actor, Role
from coursekit.services.book import Book
from coursekit.services.checks import Checks
from coursekit.services.kit_rules import RULE_FIELDS, read_rule, rule_text
from coursekit.services.register import (
    NewItem,
    NewType,
    folded,
    item_row,
    received,
    type_row,
)
from coursekit.services.used import Used
from coursekit.store import tables
from coursekit.store.policies import policy_of
from coursekit.store.queries.schools import one_school
from coursekit.store.unit import Unit

# What a person may write where the label can be read, and where it can't.
_LABELLED = {"": True, "yes": True, "no": False}
_OF_TYPE = (
    "kind",
    "material",
    "size",
    "wll",
    "mbs",
    "instructions",
    "length",
    "choker",
    "basket",
    "coldest",
    "hottest",
    "rule",
)
_DAYS = ("made", "first_used")
_YEAR_AND_MONTH = len("2024-05")


@dataclass(frozen=True)
class Imported:
    """What a table adds: marks of items, and names of types that were not there.

    `unclear` are those of the types whose material nobody has said, though rules go by it.
    """

    items: tuple[str, ...]
    types: tuple[str, ...]
    unclear: tuple[str, ...] = ()


@dataclass(frozen=True)
class _Known:
    """What the register holds before a table is taken in; marks and serials as compared."""

    types: dict[str, tables.KitType]
    marks: frozenset[str]
    serials: frozenset[tuple[str, str]]


@dataclass(frozen=True)
class _Drafts:
    """Rows that would be written, each item with the name of its type."""

    types: dict[str, tables.KitType]
    items: list[tuple[tables.KitItem, str, Used]]


def import_kit(
    unit: Unit,
    actor: Actor,
    file: str,
    rows: Sequence[TableRow],
    now: datetime,
    at: datetime | None = None,
) -> Imported:
    """Register every item of a table, with the types that are not there yet.

    Each is received at a moment, now if none is named, and examined before it goes out.

    Raises
    ------
    Problems
        If anything is wrong with any row; then nothing is written.
    """
    actor.require(Role.STOREKEEPER)
    with unit.write() as session:
        book = Book(session, actor, now)
        drafts = _drafted(session, actor, file, rows, at or now)
        session.add_all(drafts.types.values())
        session.flush()
        types = {**_known(session, actor).types, **drafts.types}
        for item, type_name, _ in drafts.items:
            item.type_id = types[type_name].id
        session.add_all(item for item, *_ in drafts.items)
        session.flush()
        there = received(session, actor, [(item, used) for item, _, used in drafts.items])
        book.write([replace(entry, at=at) for entry in there])
        return _imported(drafts)


def try_import(
    unit: Unit, actor: Actor, file: str, rows: Sequence[TableRow], now: datetime
) -> Imported:
    """Return what an import would add, and write nothing; it raises as the import does."""
    actor.require(Role.STOREKEEPER)
    with unit.read() as session:
        return _imported(_drafted(session, actor, file, rows, now))


def _imported(drafts: _Drafts) -> Imported:
    unclear = (n for n, row in drafts.types.items() if is_unclear(row.kind, row.material))
    marks = tuple(item.mark for item, *_ in drafts.items)
    return Imported(marks, tuple(drafts.types), tuple(unclear))


def _known(session: Session, actor: Actor) -> _Known:
    types = session.scalars(
        select(tables.KitType).where(tables.KitType.school_id == actor.school_id)
    ).all()
    names = {row.id: row.name for row in types}
    items = session.execute(
        select(tables.KitItem.mark, tables.KitItem.type_id, tables.KitItem.serial).where(
            tables.KitItem.school_id == actor.school_id
        )
    ).all()
    return _Known(
        {row.name: row for row in types},
        frozenset(folded(mark) for mark, _, _ in items),
        frozenset((names[type_id], folded(serial)) for _, type_id, serial in items if serial),
    )


def _drafted(
    session: Session, actor: Actor, file: str, rows: Sequence[TableRow], now: datetime
) -> _Drafts:
    known, drafts, problems = _known(session, actor), _Drafts({}, []), list[Problem]()
    today = one_school(session, actor.school_id).day_of(now)
    described: dict[str, TableRow] = {}
    for row in rows:
        found: list[Problem] = []
        name = " ".join(row.text("type").split())
        first = described.setdefault(name, row)
        if first is row and name not in known.types:
            found += _into(drafts.types, name, actor, row, now)
        else:
            found += _other_type(row, first, known.types.get(name))
        found += _item(drafts.items, name, actor, row, now, today)
        problems += (problem.in_file(file, row.line) for problem in found)
    problems += (p.in_file(file) for p in _taken(rows, known))
    if problems:
        raise Problems(sorted(problems, key=lambda problem: problem.where.line or 0))
    return drafts


def _into(
    types: dict[str, tables.KitType], name: str, actor: Actor, row: TableRow, now: datetime
) -> Iterable[Problem]:
    checks = Checks()
    rule = read_rule(checks, "rule", row.text("rule"), row.text("kind"))
    new = NewType(
        name=row.text("type"),
        kind=row.text("kind"),
        material=row.text("material"),
        size=row.text("size"),
        wll=row.text("wll"),
        mbs=row.text("mbs"),
        instructions=row.text("instructions"),
        length=row.text("length"),
        choker=row.text("choker"),
        basket=row.text("basket"),
        coldest=row.text("coldest"),
        hottest=row.text("hottest"),
        policy=rule,
    )
    try:
        checks.done()
        types[name] = type_row(actor, new, now)
    except Problems as error:
        columns = {"name": "type", **dict.fromkeys(RULE_FIELDS, "rule")}
        return [_in_column(problem, columns) for problem in error.items]
    return []


def _item(
    items: list[tuple[tables.KitItem, str, Used]],
    name: str,
    actor: Actor,
    row: TableRow,
    now: datetime,
    today: date,
) -> Iterator[Problem]:
    days = {column: _day(row.text(column)) for column in _DAYS}
    for column, day in days.items():
        if day is None and (text := row.text(column)):
            mend = "Write for example 2024-05-31, or 2024-05"
            yield Problem(Where(column), f"{text[:40]} is no date", mend)
    label = row.text("label").lower()
    if label not in _LABELLED:
        yield Problem(Where("label"), f"{label[:40]} is not known", "Write yes or no")
    new = NewItem(
        type_id=0,
        mark=row.text("mark"),
        serial=row.text("serial"),
        batch=row.text("batch"),
        made=days["made"],
        is_labelled=_LABELLED.get(label, False),
        place=row.text("place"),
        cost=row.text("cost"),
        used=Used(days["first_used"], row.text("used_before")),
    )
    try:
        items.append((item_row(actor, new, now, today), name, new.used))
    except Problems as error:
        yield from error.items


def _day(text: str) -> date | None:
    """Return a date of make; of a month its first day, which is the safe side."""
    try:
        return date.fromisoformat(f"{text}-01" if len(text) == _YEAR_AND_MONTH else text)
    except ValueError:
        return None


def _in_column(problem: Problem, columns: dict[str, str]) -> Problem:
    field = columns.get(problem.where.field, problem.where.field)
    return Problem(Where(field), problem.what, problem.mend)


def _other_type(row: TableRow, first: TableRow, known: tables.KitType | None) -> Iterator[Problem]:
    """Yield where a row states its type otherwise than the register or the row before it."""
    for column in _OF_TYPE:
        text = _said(row, column)
        before = _said(first, column) if known is None else _registered(known, column)
        # An empty cell of a type that is there says nothing new of it.
        if text != before and (text or known is None):
            where = f"line {first.line}" if known is None else "the register"
            yield Problem(
                Where(column),
                f"{row.text('type')} has another {column} than in {where}",
                f"Write {before or 'nothing'}, or give the type another name",
            )


def _said(row: TableRow, column: str) -> str:
    """Return what a row says of its type; a rule in the way that the register writes it."""
    text = row.text(column)
    if column != "rule":
        return text
    rule = read_rule(Checks(), column, text, row.text("kind"))
    return text if rule is None else rule_text(rule)


def _registered(known: tables.KitType, column: str) -> str:
    texts = {
        "kind": known.kind,
        "material": known.material,
        "size": known.size,
        "wll": known.wll_marked,
        "mbs": known.mbs_marked,
        "instructions": " ".join(known.instructions.split()),
        "length": known.length_marked,
        "choker": known.choker_marked,
        "basket": known.basket_marked,
        "coldest": known.coldest,
        "hottest": known.hottest,
        "rule": rule_text(policy_of(known.policy)),
    }
    return texts[column] or ""


def _taken(rows: Sequence[TableRow], known: _Known) -> Iterator[Problem]:
    """Yield marks, and serials within a type, that another item has already."""
    marks: dict[str, int] = {}
    serials: dict[tuple[str, str], int] = {}
    for row in rows:
        mark, serial = folded(row.text("mark")), (row.text("type"), folded(row.text("serial")))
        if mark in known.marks:
            yield _twice("mark", row, "in the register", "Leave the row out, or mark it anew")
        elif mark and mark in marks:
            yield _twice("mark", row, f"on line {marks[mark]}", "Give each its own mark")
        if serial[1] and serial in known.serials:
            yield _twice("serial", row, "in the register", "Look at both labels again")
        elif serial[1] and serial in serials:
            yield _twice("serial", row, f"on line {serials[serial]}", "Look at both labels again")
        marks.setdefault(mark, row.line)
        serials.setdefault(serial, row.line)


def _twice(column: str, row: TableRow, where: str, mend: str) -> Problem:
    return Problem(Where(column, row.line), f"{row.text(column)} stands {where} already", mend)
