"""`coursekit kit --on`: the register on a day, by its ledger up to that day."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from click.testing import Result
from sqlalchemy import URL, text

from coursekit.services import kit as items
from coursekit.services import pulls
from coursekit.services.kit import Change, Retirement
from coursekit.services.pulls import DeclaredPull
from coursekit.store.engine import open_engine
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.databases import Databases, opened

Kit = Callable[..., Result]
# The kit came in on 6 June; a rope is pulled twice, a bow held and a hook retired on the 13th.
BEFORE, THERE, DAY = "2026-06-05", "2026-06-12", "2026-06-13"


@pytest.fixture
def url(databases: Databases, school_world: tuple[URL, Cast]) -> Iterator[URL]:
    copied = databases.copy(school_world[0])
    with opened(databases, copied) as unit:
        _act(unit, school_world[1])
        unit.close()
        yield copied


def _act(unit: Unit, cast: Cast) -> None:
    mara, tobin = cast.instructor.actor, cast.storekeeper.actor
    rope = cast.items["Rope 1"]
    for number, size in enumerate(("light", "heavy")):
        key = f"pull-{number:04}"
        sent = DeclaredPull(cast.class_id, rope, "kinetic", size, "came-free", key)
        pulls.record_declared_pull(unit, mara, sent, NOW)
    items.quarantine(unit, tobin, Change(cast.items["Bow 1"], 2, "bent", "hold-0001"), NOW)
    end = Retirement(cast.items["Hook 1"], 2, "bent", "sawn", mara.person_id, "retire-01")
    items.retire(unit, tobin, end, NOW)


def rows(result: Result) -> dict[str, dict[str, str]]:
    assert result.exit_code == 0, result.output
    return {row["mark"]: row for row in json.loads(result.stdout)}


def told(result: Result, mark: str) -> tuple[str, str]:
    row = rows(result)[mark]
    return row["status"], row["use"]


def test_an_export_of_a_past_day_has_the_counts_and_statuses_of_that_day(kit: Kit) -> None:
    on = {day: kit("export", "--json", "--on", day) for day in (BEFORE, THERE, DAY)}

    assert rows(on[BEFORE]) == {}
    for mark in ("Rope 1", "Bow 1", "Hook 1"):
        assert told(on[THERE], mark) == ("in-store", "0")
    # Common practice, no source: light counts 1, heavy 3.
    assert told(on[DAY], "Rope 1") == ("in-store", "4")
    assert told(on[DAY], "Bow 1") == ("quarantined", "0")
    assert told(on[DAY], "Hook 1") == ("retired", "0")


def test_what_was_due_on_a_past_day_goes_by_that_day(kit: Kit) -> None:
    assert kit("due", "--on", BEFORE).stdout == f"Nothing is due on {BEFORE}.\n"
    # Six months between examinations of accessories: LOLER 1998, reg. 9(3)(a).
    assert "Bow 2" in kit("due", "--on", "2099-01-01").stdout


def test_a_history_tells_the_use_of_that_day(kit: Kit) -> None:
    assert "use 0 of 30" in kit("history", "Rope 1", "--on", THERE).stdout
    assert "use 4 of 30" in kit("history", "Rope 1", "--on", DAY).stdout


def test_items_are_received_on_the_day_that_is_named(kit: Kit, tmp_path: Path) -> None:
    file = tmp_path / "kit.csv"
    file.write_text("mark,type,kind,made\nBow 9,Bow,bow-shackle,2026-03-01\n")
    table = str(file)
    early = kit("import", table, "--on", "2026-02-01")
    assert early.exit_code == 1
    assert "made" in early.stderr
    later = kit("import", table, "--on", "2099-01-01")
    assert "--on: 2099-01-01 lies in the future" in later.stderr
    assert kit("import", table, "--dry-run", "--on", "2026-04-01").exit_code == 0
    assert kit("import", table, "--on", "2026-04-01").exit_code == 0

    (line,) = json.loads(kit("history", "Bow 9", "--json").stdout)
    assert (line["kind"], line["day"], line["late"]) == ("received", "2026-04-01", True)


def test_a_rebuild_up_to_a_day_goes_over_what_was_recorded_by_then(kit: Kit) -> None:
    assert kit("rebuild", "--on", BEFORE).stdout == "0 entries gone over; 0 differences.\n"
    assert kit("rebuild", "--on", THERE).stdout == "20 entries gone over; 0 differences.\n"
    whole = kit("rebuild").stdout
    assert kit("rebuild", "--on", DAY).stdout == whole == "24 entries gone over; 0 differences.\n"


def test_a_wrong_count_is_put_right_unless_something_happened_later(kit: Kit, url: URL) -> None:
    engine = open_engine(url)
    with engine.begin() as connection:
        connection.execute(text("UPDATE kit_counts SET use = 9 WHERE item_id IN (9, 5)"))
    engine.dispose()
    found = json.loads(kit("rebuild", "--on", THERE, "--json").stdout)
    assert [row["mark"] for row in found] == ["Bow 2"]

    assert [row["mark"] for row in json.loads(kit("rebuild", "--json").stdout)] == ["Rope 1"]
