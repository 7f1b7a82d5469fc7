"""A store of ten thousand items: its due list, its ledger rebuilt, a table taken in.

`BENCH_ENTRIES=1000000` measures with a ledger of a million entries.
"""

from __future__ import annotations

import os
import resource
import time
from collections.abc import Callable, Iterator
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import Engine, event, insert

from coursekit.files.kit_table import TableRow
from coursekit.services import accounting, forecasting, importing, kit, register, schools, shelf
from coursekit.services.actor import Actor, Role
from coursekit.services.register import NewType
from coursekit.services.schools import NewSchool
from coursekit.services.shelf import Cursor, Sought, Word
from coursekit.store.chain import FIRST_HASH, hash_of
from coursekit.store.tables import KitItem, LedgerEntry
from coursekit.store.unit import Unit, open_unit
from coursekit.wear.shelf import Shelf
from tests.benchmarks.conftest import Report

pytestmark = pytest.mark.benchmark

ITEMS = 10_000
ENTRIES = int(os.environ.get("BENCH_ENTRIES", "50000"))
FEW_ENTRIES = 1_000
NOW = datetime(2026, 6, 13, 8, 30, tzinfo=UTC)
TODAY = NOW.date()
AT_ONCE = 10_000


class Store:
    """A school with ten thousand ropes, and a ledger of some length."""

    def __init__(self, folder: Path, entries: int) -> None:
        self.unit: Unit = open_unit(None, folder)
        new = NewSchool("Bench", "UTC", "en", "Iva Rook", "iva rook", "lantern gravel orchard")
        mara = schools.add_school(self.unit, new, NOW)
        self.actor = Actor(mara.person_id, mara.school_id, frozenset(Role))
        rope = NewType("Rope", "kinetic-rope", "nylon", mbs="125 kN")
        self.type_id = register.register_type(self.unit, self.actor, rope, NOW)
        self._fill(entries)
        accounting.rebuild(self.unit, self.actor)

    def _fill(self, entries: int) -> None:
        with self.unit.write() as session:
            items = [self._item(number) for number in range(1, ITEMS + 1)]
            session.execute(insert(KitItem), items)
            rows = list[dict[str, Any]]()
            for row in self._chained(entries):
                rows.append(row)
                if len(rows) == AT_ONCE:
                    session.execute(insert(LedgerEntry), rows)
                    rows.clear()
            if rows:
                session.execute(insert(LedgerEntry), rows)

    def _item(self, number: int) -> dict[str, Any]:
        return {
            "id": number,
            "school_id": self.actor.school_id,
            "type_id": self.type_id,
            "mark": f"R {number:05}",
            "serial": "",
            "batch": f"B {number % 40}",
            "made": date(2020, 7, 1) + timedelta(days=number % 2_000),
            "is_labelled": True,
            "place": f"bay {number % 30}",
            "cost_cents": 18_950,
            "status": "in-store",
            "version": 1,
            "created_at": NOW - timedelta(days=300),
        }

    def _chained(self, entries: int) -> Iterator[dict[str, Any]]:
        before = FIRST_HASH
        for seq in range(1, entries + 1):
            row = self._entry(seq)
            row["prev_hash"] = before
            before = row["hash"] = hash_of(LedgerEntry(**row))
            yield row

    def _entry(self, seq: int) -> dict[str, Any]:
        first = seq <= ITEMS
        is_pull = not first and seq % 5 != 0
        kind = "received" if first else ("pull" if is_pull else "inspected")
        at = NOW - timedelta(days=290) + timedelta(seconds=20 * seq)
        return {
            "school_id": self.actor.school_id,
            "seq": seq,
            "key": f"entry-{seq}",
            "item_id": (seq - 1) % ITEMS + 1,
            "kind": kind,
            "at": at,
            "day": at.date(),
            "timezone": "UTC",
            "person_id": self.actor.person_id,
            "class_session_id": None,
            "pull_id": None,
            "method": "kinetic" if is_pull else None,
            "ended": "came-free" if is_pull else None,
            "origin": "solved" if is_pull else None,
            "load_n": 9_000.0 + seq % 997 if is_pull else None,
            "limit_n": 62_500.0 if is_pull else None,
            "declared": None,
            "passed": True if kind == "inspected" else None,
            "reverses_key": None,
            "reason": "",
            "detail": {},
            "recorded_at": at,
        }


@pytest.fixture(scope="module")
def full(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    store = Store(tmp_path_factory.mktemp("full"), ENTRIES)
    yield store
    store.unit.close()


@pytest.fixture(scope="module")
def young(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    store = Store(tmp_path_factory.mktemp("young"), FEW_ENTRIES)
    yield store
    store.unit.close()


def _measured(read: Callable[[], object]) -> tuple[float, int]:
    """Return the best of five times of a reading, and its queries."""
    statements = 0

    def counted(_connection: object, _cursor: object, statement: str, *_: object) -> None:
        nonlocal statements
        statements += statement.startswith("SELECT")

    event.listen(Engine, "before_cursor_execute", counted)
    times = []
    for _ in range(5):
        start = time.perf_counter()
        read()
        times.append(time.perf_counter() - start)
    event.remove(Engine, "before_cursor_execute", counted)
    return min(times), statements // 5


def _due_list(store: Store) -> tuple[float, int]:
    def read() -> None:
        assert len(kit.list_items(store.unit, store.actor, TODAY)) == ITEMS

    return _measured(read)


@pytest.mark.parametrize(
    ("name", "sought", "cursor"),
    [
        ("first page", Sought(), None),
        ("a page in the middle", Sought(), Cursor(Shelf.HELD, "R 05000")),
        ("what is due", Sought(stands="due"), None),
        ("a search", Sought((Word("r"), Word("b"), Word("99"))), None),
        ("one place", Sought(stands="ready", place="bay 7"), None),
    ],
)
def test_a_page_of_the_store(
    full: Store, young: Store, report: Report, name: str, sought: Sought, cursor: Cursor | None
) -> None:
    def look(store: Store) -> Callable[[], object]:
        return lambda: shelf.look_through(store.unit, store.actor, sought, cursor, TODAY)

    (slow, queries), (quick, before) = _measured(look(full)), _measured(look(young))

    assert queries == before == 3
    report(
        f"the store of {ITEMS} items, {name}: {1000 * slow:.0f} ms with {ENTRIES} entries, "
        f"{1000 * quick:.0f} ms with {FEW_ENTRIES}, {queries} queries each"
    )


def test_the_due_list_is_as_fast_with_a_long_ledger(
    full: Store, young: Store, report: Report
) -> None:
    (slow, queries), (quick, before) = _due_list(full), _due_list(young)

    assert queries == before
    report(
        f"due list of {ITEMS} items: {slow:.2f} s with {ENTRIES} entries, {quick:.2f} s with "
        f"{FEW_ENTRIES} (ratio {slow / quick:.2f}), {queries} queries each"
    )


def test_what_will_be_due(full: Store, report: Report) -> None:
    start = time.perf_counter()
    store = forecasting.ahead(full.unit, full.actor, TODAY)

    assert len(store.items) == ITEMS
    report(f"forecast of {ITEMS} items: {time.perf_counter() - start:.2f} s")


def test_the_whole_ledger_is_gone_over_in_bounded_memory(full: Store, report: Report) -> None:
    told: list[tuple[int, int]] = []
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    start = time.perf_counter()
    found = accounting.verify(full.unit, full.actor, lambda *done: told.append(done))
    verified = time.perf_counter() - start
    accounting.rebuild(full.unit, full.actor)
    rebuilt = time.perf_counter() - start - verified
    more = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024

    assert found.holds
    assert found.entries == ENTRIES
    assert told[-1] == (ITEMS, ITEMS)
    report(
        f"{ENTRIES} entries: gone over with their chain in {verified:.1f} s, folded anew in "
        f"{rebuilt:.1f} s, {more:.0f} MiB more at most, told {len(told)} times how far"
    )


def test_a_table_of_ten_thousand_rows(young: Store, report: Report) -> None:
    cells = {"type": "Rope 2", "kind": "kinetic-rope", "mbs": "125 kN", "made": "2025-01"}
    rows = [TableRow(line, {**cells, "mark": f"T {line}"}) for line in range(2, ITEMS + 2)]
    start = time.perf_counter()
    added = importing.import_kit(young.unit, young.actor, "kit.csv", rows, NOW)

    assert len(added.items) == ITEMS
    report(f"a table of {ITEMS} rows taken in: {time.perf_counter() - start:.1f} s")
