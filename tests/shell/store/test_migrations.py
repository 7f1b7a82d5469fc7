"""Migrations: up, down, and the same as the tables of the code."""

import shutil
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, inspect, text

from coursekit.store.engine import (
    MIGRATIONS,
    BrokenReferences,
    migrate,
    migrate_down,
    migration_settings,
)
from coursekit.store.migrations.draft import draft
from coursekit.store.tables import Base
from coursekit.store.triggers import APPEND_ONLY
from tests.shell.store.refusals import assert_refuses_change

# Every append-only table is made anew: on PostgreSQL only its triggers go.
REBUILD = """
import sqlalchemy as sa
from alembic import op

revision, down_revision = "r9999", "{down}"


def upgrade() -> None:
    for table in {tables}:
        if op.get_bind().dialect.name == "sqlite":
            with op.batch_alter_table(table, recreate="always"):
                pass
        else:
            op.execute(sa.text("DROP TRIGGER " + table + "_no_change ON " + table))
"""


def table_names(engine: Engine) -> set[str]:
    return set(inspect(engine).get_table_names()) - {"alembic_version"}


def column_names(engine: Engine) -> set[tuple[str, str]]:
    looked_at = inspect(engine)
    return {
        (table, column["name"])
        for table in table_names(engine)
        for column in looked_at.get_columns(table)
    }


def revisions() -> list[str]:
    found = ScriptDirectory(str(MIGRATIONS)).walk_revisions()
    return [script.revision for script in found][::-1]


def test_an_empty_database_gets_every_table_of_the_code(bare_engine: Engine) -> None:
    migrate(bare_engine)

    assert table_names(bare_engine) == set(Base.metadata.tables)


def test_a_migrated_database_is_what_the_code_says(bare_engine: Engine) -> None:
    migrate(bare_engine)

    with bare_engine.connect() as connection:
        context = MigrationContext.configure(connection)
        assert compare_metadata(context, Base.metadata) == []


def test_down_to_nothing_and_up_again(bare_engine: Engine) -> None:
    migrate(bare_engine)
    migrate_down(bare_engine, "base")
    assert table_names(bare_engine) == set()

    migrate(bare_engine)

    assert table_names(bare_engine) == set(Base.metadata.tables)


def test_each_step_goes_down_and_up(bare_engine: Engine) -> None:
    for revision in revisions():
        migrate(bare_engine, revision)
        before = column_names(bare_engine)
        migrate_down(bare_engine, "-1")
        assert column_names(bare_engine) < before
        migrate(bare_engine, revision)

        assert column_names(bare_engine) == before


def test_migrating_twice_changes_nothing(engine: Engine) -> None:
    with engine.connect() as connection:
        before = connection.scalar(text("SELECT count(*) FROM ledger_entries"))
    migrate(engine)

    with engine.connect() as connection:
        assert connection.scalar(text("SELECT count(*) FROM ledger_entries")) == before


def test_migration_settings_name_the_scripts_of_the_package(engine: Engine) -> None:
    with engine.connect() as connection:
        scripts = ScriptDirectory.from_config(migration_settings(connection))

    assert scripts.get_current_head() == revisions()[-1]


def test_a_migration_that_rebuilds_tables_puts_their_triggers_back(
    engine: Engine, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    scripts = tmp_path / "migrations"
    shutil.copytree(MIGRATIONS, scripts)
    (scripts / "versions" / "r9999_rebuild.py").write_text(
        REBUILD.format(down=revisions()[-1], tables=APPEND_ONLY), encoding="utf-8"
    )
    monkeypatch.setattr("coursekit.store.engine.MIGRATIONS", scripts)

    migrate(engine)

    for table in APPEND_ONLY:
        assert_refuses_change(engine, table)


def test_rows_that_point_at_nothing_stop_a_migration(sqlite_engine: Engine) -> None:
    connection = sqlite_engine.raw_connection()
    connection.cursor().execute("PRAGMA foreign_keys = OFF")
    connection.cursor().execute(
        "INSERT INTO courses (school_id, title, created_at) VALUES (99, 'x', '2026-01-01')"
    )
    connection.close()

    with pytest.raises(BrokenReferences, match="courses"):
        migrate(sqlite_engine)


def test_a_draft_of_nothing_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    scripts = tmp_path / "migrations"
    shutil.copytree(MIGRATIONS, scripts)
    monkeypatch.setattr("coursekit.store.engine.MIGRATIONS", scripts)
    path = draft("Change nothing")

    assert path.parent == scripts / "versions"
    newest = int(revisions()[-1].removeprefix("r"))
    assert path.name == f"r{newest + 1:04}_change_nothing.py"
    text = path.read_text("utf-8")
    assert f"down_revision = '{revisions()[-1]}'" in text
    assert text.count("    pass\n") == 2
