"""The register as a table: tried, taken in whole or not at all, and given out."""

import csv
from datetime import date
from io import BytesIO, StringIO

import pytest
from openpyxl import load_workbook
from werkzeug.datastructures import FileStorage

from coursekit.files.kit_table import table_bytes
from coursekit.services import kit, register
from coursekit.services.register import NewItem
from coursekit.store.unit import Unit
from tests.cast import KIT, NOW, TODAY, Cast
from tests.web.visitor import Visitor, multipart

GOOD = "mark,type,kind,wll,made,cost\nB 1,Bow 4.75 t,bow-shackle,4.75 t,2025-04-01,19.80\n"


def sent(who: Visitor, data: bytes, name: str = "kit.csv", press: str = "try_it") -> Visitor:
    token = who.open("/kit/import").value("csrf_token") or ""
    form = {"csrf_token": token, press: "1", "file": FileStorage(BytesIO(data), name)}
    who.response = who.client.post("/kit/import", **multipart(form))
    return who


def marks(unit: Unit, cast: Cast) -> list[str]:
    return [row.mark for row in kit.list_items(unit, cast.storekeeper.actor, TODAY)]


def test_a_try_tells_what_would_be_added_and_writes_nothing(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    sent(storekeeper, GOOD.encode())

    assert "It would add 1 item and 1 new type." in storekeeper.notices[0]
    assert "B 1" not in marks(unit, cast)


def test_a_good_table_is_taken_in(storekeeper: Visitor, unit: Unit, cast: Cast) -> None:
    sent(storekeeper, GOOD.encode(), press="take_in")

    assert storekeeper.status == 303
    assert "1 item and 1 new type taken in." in storekeeper.open("/kit").html
    row = next(r for r in kit.list_items(unit, cast.storekeeper.actor, TODAY) if r.mark == "B 1")
    assert (row.made, row.cost_cents) == (date(2025, 4, 1), 1980)


@pytest.mark.parametrize("press", ["try_it", "take_in"])
def test_every_bad_row_is_told_by_line_and_column_and_nothing_is_written(
    storekeeper: Visitor, unit: Unit, cast: Cast, press: str
) -> None:
    bow = "Bow 4.75 t,bow-shackle,4.75 t"
    bad = f"{GOOD}B 2,{bow},2031-01-01,\nB 1,{bow},,x\n"
    sent(storekeeper, bad.encode(), press=press)

    assert storekeeper.status == 422
    assert "kit.csv:3: made: It lies in the future." in storekeeper.html
    assert "kit.csv:4: mark: B 1 stands on line 2 already." in storekeeper.html
    assert "kit.csv:4: cost:" in storekeeper.html
    assert "B 2" not in marks(unit, cast)


@pytest.mark.parametrize(
    ("data", "name"),
    [
        (b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 40, "photo.csv"),
        (b"PK\x03\x04 not really", "kit.xlsx"),
        (b"", "kit.csv"),
        (b"a,b\n1,2\n", "../../etc/kit.csv"),
    ],
    ids=["image", "broken sheet", "empty", "other columns"],
)
def test_what_is_no_table_is_told(storekeeper: Visitor, data: bytes, name: str) -> None:
    sent(storekeeper, data, name)

    assert storekeeper.status == 422
    assert "nothing was written" in storekeeper.html


def test_a_file_that_is_too_large_is_refused(storekeeper: Visitor) -> None:
    sent(storekeeper, b"mark,type,kind\n" + b"x" * 9_000_000)

    assert storekeeper.status == 422
    assert storekeeper.errors == [
        ("▲ The file is too large. Up to 8 MB and 20000 rows. All rows are taken in, or none.")
    ]


def test_the_table_of_a_large_store_is_taken(storekeeper: Visitor) -> None:
    place = "the long shed by the gate; third bay; upper shelf; the box behind the winch lines"
    rows = (f"T {n:05},Tow strap,tow-strap,{place}" for n in range(10_000))
    table = "\n".join(["mark,type,kind,place", *rows]).encode()
    assert len(table) > 1024 * 1024

    sent(storekeeper, table)
    assert storekeeper.notices[0].startswith("It would add 10000 items and 1 new type.")


def test_no_file_is_told_beside_its_field(storekeeper: Visitor) -> None:
    storekeeper.open("/kit/import").send()

    assert storekeeper.errors == ["▲ Choose a file first."]


def test_the_register_goes_out_and_comes_in_again(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    response = storekeeper.client.get("/kit/register.csv")
    rows = list(csv.DictReader(StringIO(response.get_data().decode("utf-8-sig"))))

    assert response.headers["Content-Disposition"] == 'attachment; filename="kit-register.csv"'
    assert sorted(row["mark"] for row in rows) == sorted(mark for mark, *_ in KIT)
    again = [{**row, "mark": f"New {row['mark']}", "serial": ""} for row in rows]
    sent(storekeeper, table_bytes("kit.xlsx", again), "kit.xlsx")
    assert f"It would add {len(KIT)} items." in storekeeper.notices[0]


def test_a_formula_goes_out_as_text(storekeeper: Visitor, unit: Unit, cast: Cast) -> None:
    actor = cast.storekeeper.actor
    type_id = kit.item_life(unit, actor, cast.items["Bow 1"], TODAY).item.type.id
    new = NewItem(type_id, "=1+1", made=date(2026, 1, 15))
    register.register_item(unit, actor, new, NOW)
    data = storekeeper.client.get("/kit/register.xlsx").get_data()
    sheet = load_workbook(BytesIO(data)).active

    assert sheet is not None
    cells = [row[0].value for row in sheet.iter_rows()]
    assert "'=1+1" in cells
    assert "=1+1" not in cells
