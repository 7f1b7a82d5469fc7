"""`coursekit kit` on the database of a school: due, history, export, import, rebuild."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import cast

import pytest
from click.testing import CliRunner, Result
from sqlalchemy import URL, text

from coursekit.cli.main import main
from coursekit.store.engine import open_engine

Kit = Callable[..., Result]


def documents(result: Result) -> list[dict[str, object]]:
    assert result.exit_code == 0, result.output
    found: list[dict[str, object]] = json.loads(result.stdout)
    return found


@pytest.mark.parametrize("command", ["due", "history", "export", "rebuild"])
def test_an_empty_register_is_an_empty_list(
    command: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("COURSEKIT_INSTANCE", str(tmp_path))
    monkeypatch.delenv("COURSEKIT_DATABASE_URL", raising=False)
    assert documents(CliRunner().invoke(main, ["kit", command, "--json"])) == []


def test_where_there_are_several_schools_one_is_named(kit: Kit) -> None:
    result = CliRunner().invoke(main, ["kit", "due"])
    assert result.exit_code == 1
    assert "--school: There are several schools. Name one of: Fernbank" in result.stderr


def test_what_is_due_is_told_for_any_day(kit: Kit) -> None:
    soon = documents(kit("due", "--json", "--on", "2026-06-13"))
    later = documents(kit("due", "--json", "--on", "2027-01-01"))

    assert [row["mark"] for row in soon] == []
    # Six months between examinations of accessories: LOLER 1998, reg. 9(3)(a).
    assert {"Bow 1", "Sling 1", "Hook 1"} <= {str(row["mark"]) for row in later}
    assert kit("due", "--on", "2026-06-13").stdout == "Nothing is due on 2026-06-13.\n"
    assert "examine  inspection since" in kit("due", "--on", "2027-01-01").stdout


def test_the_history_of_an_item_is_its_ledger(kit: Kit) -> None:
    lines = documents(kit("history", "Bow 1", "--json"))
    assert [line["kind"] for line in lines] == ["received", "inspected"]
    assert {line["mark"] for line in lines} == {"Bow 1"}
    assert "inspected     by Tobin Hale" in kit("history", "Bow 1").stdout


def test_the_history_tells_what_an_examination_looked_at(kit: Kit) -> None:
    received, inspected = documents(kit("history", "Bow 1", "--json"))
    look = cast("dict[str, object]", inspected["inspection"])

    assert received["inspection"] is None
    assert (look["list"], look["occasion"], look["event"]) == ("bow-shackle", "periodic", None)
    assert {"line": "threads", "seen": "fine", "sizes": None} in cast("list[object]", look["lines"])
    assert "passed  11 of 11 lines looked at" in kit("history", "Bow 1").stdout


def test_a_mark_that_is_not_there_is_told(kit: Kit) -> None:
    result = kit("history", "Bow 99")
    assert result.exit_code == 1
    assert result.stderr.startswith("MARK: No item is marked Bow 99. Write the mark")


@pytest.mark.parametrize("suffix", ["csv", "xlsx"])
def test_what_is_exported_from_one_school_goes_into_another(
    kit: Kit, tmp_path: Path, suffix: str
) -> None:
    file = str(tmp_path / f"kit.{suffix}")
    assert kit("export", file).stdout == f"10 items written to {file}.\n"

    other = ["kit", "import", file, "--school", "Northway Recovery School"]
    tried = CliRunner().invoke(main, [*other, "--dry-run"])
    assert tried.stdout == "10 items would be registered; 10 new types.\n"
    taken = CliRunner().invoke(main, other)
    assert taken.exit_code == 0, taken.output
    export = ["kit", "export", "--json", "--school", "Northway Recovery School"]
    theirs = documents(CliRunner().invoke(main, export))
    ours = documents(kit("export", "--json"))
    what = ("mark", "type", "kind", "material", "wll", "mbs", "serial", "batch", "made", "label")
    assert [[row[name] for name in what] for row in theirs] == [
        [row[name] for name in what] for row in ours
    ]


def test_an_import_that_is_not_whole_leaves_no_trace(kit: Kit, tmp_path: Path) -> None:
    file = tmp_path / "kit.csv"
    file.write_text("mark,type,kind\nBow 1,Bow,bow-shackle\n,Bow,bow-shackle\n")
    result = kit("import", str(file))
    assert result.exit_code == 1
    assert [line.split(": ")[0] for line in result.stderr.splitlines()] == [
        f"{file}:2",
        f"{file}:3",
    ]


def test_a_count_that_was_changed_behind_the_ledger_is_put_right(kit: Kit, url: URL) -> None:
    engine = open_engine(url)
    with engine.begin() as connection:
        connection.execute(text("UPDATE kit_counts SET heavy = 7 WHERE item_id = 2"))
    engine.dispose()

    first = kit("rebuild", "--json")
    assert first.exit_code == 1
    assert json.loads(first.stdout) == [{"mark": "Line 2", "what": "count"}]
    assert documents(kit("rebuild", "--json")) == []


def test_the_table_goes_to_standard_output_where_no_file_is_named(kit: Kit) -> None:
    lines = kit("export").stdout.splitlines()
    assert lines[0].startswith("mark,type,kind,material,size,wll,mbs,serial,batch,made,label")
    assert len(lines) == 11
