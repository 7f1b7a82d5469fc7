"""`coursekit kit`: the register from the shell, on the database that the app uses."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

import click

from coursekit.cli.kit_report import (
    due_document,
    due_text,
    history_document,
    history_text,
)
from coursekit.cli.numbers import JSON
from coursekit.cli.outcome import DOES_NOT_HOLD, Commands, say_json, say_problems
from coursekit.files.kit_table import COLUMNS, FOLLOWS, read_table, write_table
from coursekit.files.plain_table import csv_text
from coursekit.files.resources import instance_folder
from coursekit.problems import Problem, Problems, Where

if TYPE_CHECKING:
    from coursekit.services.keeping import ItemRow, Keeper
    from coursekit.store.unit import Unit

_NOON = 12

SCHOOL = click.option("--school", help="The school, where the database has several.")
ON = click.option(
    "--on",
    "day",
    type=click.DateTime(["%Y-%m-%d"]),
    help="The day that is asked about, in place of today where the school is.",
)


@click.group(cls=Commands)
def kit() -> None:
    """Keep the kit register: import, due, history, export, rebuild.

    Counts are a prompt, never proof that an item is sound: inspection decides, and
    the maker's rating and a competent person always win.
    """


@kit.command("import")
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--dry-run", is_flag=True, help="Tell what would be added, and add nothing.")
@ON
@SCHOOL
@JSON
def import_(
    file: Path, *, dry_run: bool, day: datetime | None, school: str | None, as_json: bool
) -> None:
    """Register the items of a table, CSV or XLSX: all of them or none.

    The first row names the columns: mark, type and kind, and where they are known
    material, size, wll, mbs, choker, basket, length, coldest, hottest, rule,
    instructions, serial, batch, made, first_used, used_before (such as 10 light
    4 heavy), label (yes or no), place and cost. Everything wrong with it is told at
    once, by line and column. They are received today, or on the day of --on.
    """
    from coursekit.services.importing import import_kit, try_import

    rows = read_table(file)
    with _store(school) as store:
        if store is None:
            raise _no_school_yet()
        now, at = _now(), _received(day, store)
        if dry_run:
            found = try_import(store.unit, store.keeper.actor, str(file), rows, at or now)
        else:
            found = import_kit(store.unit, store.keeper.actor, str(file), rows, now, at)
    if as_json:
        say_json([{"mark": mark} for mark in found.items])
        return
    would = "would be registered" if dry_run else "registered, to be examined before they go out"
    click.echo(f"{len(found.items)} items {would}; {len(found.types)} new types.")
    if found.unclear:
        names = ", ".join(found.unclear)
        click.echo(f"Material not known, so what is stricter holds: {names}.", err=True)


@kit.command()
@ON
@SCHOOL
@JSON
def due(*, day: datetime | None, school: str | None, as_json: bool) -> None:
    """List what is due and why, the earliest first: use, age, calendar, inspection.

    For a day that is past the ledger is folded up to it. For one to come the counts are
    those of now: what is pulled until then adds to them.
    """
    with _store(school) as store:
        on = _day(day, store)
        items = _items(store, on)
    if as_json:
        say_json(due_document(items))
    else:
        click.echo(due_text(items, on))


@kit.command()
@click.argument("marks", nargs=-1, metavar="[MARK]...")
@ON
@SCHOOL
@JSON
def history(
    marks: tuple[str, ...], *, day: datetime | None, school: str | None, as_json: bool
) -> None:
    """Tell what happened to items, entry by entry: to those marked MARK, or to all."""
    from coursekit.services.keeping import histories

    with _store(school) as store:
        on = _day(day, store)
        today = _day(None, store)
        found = histories(store.unit, store.keeper.actor, marks, on, today) if store else iter(())
        if as_json:
            say_json(history_document(found, on))
        else:
            for text in history_text(found, on):
                click.echo(text)


@kit.command()
@click.argument("file", type=click.Path(path_type=Path), required=False)
@ON
@SCHOOL
@JSON
def export(file: Path | None, *, day: datetime | None, school: str | None, as_json: bool) -> None:
    """Write the register to FILE, CSV or XLSX, or as CSV to standard output.

    The table can be imported again; status, use, limit and due follow from the
    ledger and are passed over then. For a day that is past it is folded up to that day.
    """
    from coursekit.services.exporting import export_rows

    with _store(school) as store:
        items = _items(store, _day(day, store))
    rows = export_rows(items)
    if as_json:
        say_json(rows)
    elif file is None:
        header = (*COLUMNS, *FOLLOWS)
        click.echo(csv_text([header, *([row[name] for name in header] for row in rows)]), nl=False)
    else:
        _written(file, rows)
        click.echo(f"{len(rows)} items written to {file}.")


@kit.command()
@ON
@SCHOOL
@JSON
def rebuild(*, day: datetime | None, school: str | None, as_json: bool) -> None:
    """Fold the whole ledger again into counts, and report every difference.

    With --on it goes over what was recorded by the end of that day, and over the counts
    of the items of which nothing was recorded later.

    The exit code is 1 where a count, a status or the ledger's own chain did not
    agree; counts and statuses are then put right from the ledger.
    """
    from coursekit.services import accounting

    with _store(school) as store, _progress() as progress:
        if store is None:
            found = accounting.Verification(0, None, (), ())
        else:
            until = _end_of(day, store)
            found = accounting.verify(store.unit, store.keeper.actor, progress, until)
            if found.wrong_counts or found.wrong_statuses:
                accounting.rebuild(store.unit, store.keeper.actor, progress, until)
    differences = [{"mark": mark, "what": "count"} for mark in found.wrong_counts]
    differences += [{"mark": mark, "what": "status"} for mark in found.wrong_statuses]
    if as_json:
        say_json(differences)
    else:
        click.echo(f"{found.entries} entries gone over; {len(differences)} differences.")
        for difference in differences:
            click.echo(f"  {difference['mark']}: its {difference['what']} was put right")
    if found.first_broken is not None:
        say_problems([_broken(found.first_broken)])
    if not found.holds:
        sys.exit(DOES_NOT_HOLD)


class _Store:
    """An open database and who acts for the store of one of its schools."""

    def __init__(self, unit: Unit, keeper: Keeper) -> None:
        self.unit = unit
        self.keeper = keeper


@contextmanager
def _store(school: str | None) -> Iterator[_Store | None]:
    from coursekit.services.keeping import keeper
    from coursekit.store.unit import open_unit

    unit = open_unit(os.environ.get("COURSEKIT_DATABASE_URL"), instance_folder())
    try:
        found = keeper(unit, school)
        yield None if found is None else _Store(unit, found)
    finally:
        unit.close()


def _now() -> datetime:
    return datetime.now(ZoneInfo("UTC"))  # noqa: TID251 - the one reading of the clock here


def _day(asked: datetime | None, store: _Store | None) -> date:
    if asked is not None:
        return asked.date()
    zone = store.keeper.school.timezone if store else "UTC"
    return _now().astimezone(ZoneInfo(zone)).date()


def _items(store: _Store | None, on: date) -> tuple[ItemRow, ...]:
    from coursekit.services.past import items_on

    return items_on(store.unit, store.keeper.actor, on, _day(None, store)) if store else ()


def _received(asked: datetime | None, store: _Store) -> datetime | None:
    """Return when items of a day came in, None for today; a day to come is a problem."""
    if asked is None or asked.date() == (today := _day(None, store)):
        return None
    if asked.date() > today:
        what = f"{asked.date()} lies in the future"
        raise Problems([Problem(Where("--on"), what, "Name the day on which they came in")])
    return asked.replace(hour=_NOON, tzinfo=ZoneInfo(store.keeper.school.timezone))


def _end_of(asked: datetime | None, store: _Store) -> datetime | None:
    if asked is None:
        return None
    return (asked + timedelta(days=1)).replace(tzinfo=ZoneInfo(store.keeper.school.timezone))


@contextmanager
def _progress() -> Iterator[Callable[[int, int], None] | None]:
    """Give what tells progress on a terminal, and nothing where nobody watches."""
    if not sys.stderr.isatty():
        yield None
        return

    def tell(done: int, of: int) -> None:
        click.echo(f"\r{done} of {of} items", err=True, nl=done == of)

    yield tell


def _written(file: Path, rows: list[dict[str, Any]]) -> None:
    try:
        write_table(file, rows)
    except OSError as error:
        what = f"It can't be written: {error.strerror}"
        raise Problems([Problem(Where("FILE", file=str(file)), what, "Name another")]) from None


def _no_school_yet() -> Problems:
    what = "No school is set up yet"
    return Problems([Problem(Where("--school"), what, "Start the app once and set one up")])


def _broken(seq: int) -> Problem:
    return Problem(
        Where(f"ledger entry {seq}"),
        "It was changed behind the register's back, or one before it was taken out",
        "Compare with a backup; what follows it can't be trusted",
    )
