"""A table taken into the register: all of it or nothing, every bad row told by line and column."""

from collections.abc import Mapping
from datetime import datetime

import pytest
from sqlalchemy import func, select

from coursekit.files.kit_table import TableRow
from coursekit.problems import Problems
from coursekit.services import accounting, kit
from coursekit.services.errors import RoleNeeded
from coursekit.services.importing import import_kit, try_import
from coursekit.store import tables
from coursekit.store.unit import Unit
from tests.cast import TODAY, Cast

BOW = {"type": "Bow 4.75 t", "kind": "bow-shackle", "wll": "4.75 t", "mbs": "28.5 t"}


def rows(*cells: Mapping[str, str]) -> list[TableRow]:
    return [TableRow(number, {**BOW, **one}) for number, one in enumerate(cells, start=2)]


def told(unit: Unit, cast: Cast, now: datetime, *cells: Mapping[str, str]) -> str:
    with pytest.raises(Problems) as raised:
        import_kit(unit, cast.storekeeper.actor, "kit.csv", rows(*cells), now)
    return str(raised.value)


def count(unit: Unit, table: type) -> int:
    with unit.read() as session:
        return session.scalar(select(func.count()).select_from(table)) or 0


def test_items_of_a_new_type_are_received_and_wait_for_their_examination(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    table = rows({"mark": "B 1", "serial": "7"}, {"mark": "B 2", "made": "2024-05"})

    found = import_kit(unit, cast.storekeeper.actor, "kit.csv", table, now)

    assert (found.items, found.types) == (("B 1", "B 2"), ("Bow 4.75 t",))
    items = {row.mark: row for row in kit.list_items(unit, cast.storekeeper.actor, TODAY)}
    assert items["B 2"].made is not None
    assert items["B 2"].made.isoformat() == "2024-05-01"
    assert not items["B 1"].due.may_go_out
    assert items["B 1"].type.rating("wll") == pytest.approx(4750 * 9.80665)
    assert accounting.verify(unit, cast.storekeeper.actor).holds


def test_a_dry_run_tells_the_same_and_writes_nothing(unit: Unit, cast: Cast, now: datetime) -> None:
    before = count(unit, tables.KitItem)
    found = try_import(unit, cast.storekeeper.actor, "kit.csv", rows({"mark": "B 1"}), now)
    assert found.items == ("B 1",)
    assert count(unit, tables.KitItem) == before
    assert count(unit, tables.KitType) == len(kit_types(unit))


def kit_types(unit: Unit) -> list[str]:
    with unit.read() as session:
        return list(session.scalars(select(tables.KitType.name)))


def test_one_bad_row_leaves_all_of_them_out(unit: Unit, cast: Cast, now: datetime) -> None:
    before = count(unit, tables.KitItem)
    said = told(unit, cast, now, {"mark": "B 1"}, {"mark": "B 2", "made": "2031-01-01"})
    assert said == "kit.csv:3: made: It lies in the future. Look at the label again."
    assert count(unit, tables.KitItem) == before


@pytest.mark.parametrize(
    ("cells", "said"),
    [
        ({"mark": ""}, "kit.csv:2: mark: It is empty"),
        ({"mark": "Bow 1"}, "kit.csv:2: mark: Bow 1 stands in the register already"),
        ({"mark": "B 1", "kind": "rope"}, "kit.csv:2: kind: 'rope' is not known"),
        ({"mark": "B 1", "wll": "4 ton"}, "kit.csv:2: wll: "),
        ({"mark": "B 1", "wll": "30 t"}, "kit.csv:2: wll: It is above the breaking strength"),
        ({"mark": "B 1", "mbs": "max 28 t"}, "kit.csv:2: mbs: Is 28 t the least"),
        ({"mark": "B 1", "made": "31.05.2024"}, "kit.csv:2: made: 31.05.2024 is no date"),
        ({"mark": "B 1", "label": "maybe"}, "kit.csv:2: label: maybe is not known"),
        ({"mark": "B 1", "type": ""}, "kit.csv:2: type: It is empty"),
    ],
)
def test_a_bad_cell_is_told_by_line_and_column(
    unit: Unit, cast: Cast, now: datetime, cells: dict[str, str], said: str
) -> None:
    assert told(unit, cast, now, cells).startswith(said)


def test_a_mark_or_a_serial_that_stands_twice_names_the_other_line(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    said = told(
        unit,
        cast,
        now,
        {"mark": "B 1", "serial": "7"},
        {"mark": "B 1", "serial": "8"},
        {"mark": "B 3", "serial": "7"},
    )
    assert "kit.csv:3: mark: B 1 stands on line 2 already" in said
    assert "kit.csv:4: serial: 7 stands on line 2 already" in said


def test_a_type_is_described_in_one_way(unit: Unit, cast: Cast, now: datetime) -> None:
    said = told(unit, cast, now, {"mark": "B 1"}, {"mark": "B 2", "wll": "6.5 t"})
    assert "kit.csv:3: wll: Bow 4.75 t has another wll than in line 2. Write 4.75 t" in said

    import_kit(unit, cast.storekeeper.actor, "kit.csv", rows({"mark": "B 1"}), now)
    said = told(unit, cast, now, {"mark": "B 2", "mbs": "30 t"})
    assert "mbs: Bow 4.75 t has another mbs than in the register. Write 28.5 t" in said
    short = [TableRow(2, {"mark": "B 2", "type": "Bow 4.75 t", "kind": "bow-shackle"})]
    assert import_kit(unit, cast.storekeeper.actor, "kit.csv", short, now).types == ()


def test_a_student_imports_nothing(unit: Unit, cast: Cast, now: datetime) -> None:
    for act in (import_kit, try_import):
        with pytest.raises(RoleNeeded):
            act(unit, cast.student.actor, "kit.csv", rows({"mark": "B 1"}), now)
