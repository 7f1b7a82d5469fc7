"""Triggers that refuse to change what was recorded, on both databases."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from sqlalchemy import Connection, inspect

APPEND_ONLY = (
    "answers",
    "assessment_records",
    "attempt_results",
    "certificate_acts",
    "certificates",
    "follow_up_replies",
    "kit_changes",
    "kit_file_removals",
    "kit_files",
    "ledger_entries",
    "pass_marks",
    "pull_plans",
    "pulls",
    "review_answers",
    "review_requests",
    "scenario_versions",
    "school_policies",
    "standard_ratings",
    "task_marks",
    "yard_marks",
    "yard_sheets",
)

_SQLITE = (
    "DROP TRIGGER IF EXISTS {table}_no_{verb}",
    (
        "CREATE TRIGGER {table}_no_{verb} BEFORE {verb} ON {table} "
        "BEGIN SELECT RAISE(ABORT, '{table} is append-only'); END"
    ),
)
_POSTGRES_FUNCTION = (
    "CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$ "
    "BEGIN RAISE EXCEPTION USING MESSAGE = TG_TABLE_NAME || ' is append-only'; END $$"
)
_POSTGRES_NO_FUNCTION = "DROP FUNCTION IF EXISTS refuse_change()"
_POSTGRES = (
    "DROP TRIGGER IF EXISTS {table}_no_change ON {table}",
    (
        "CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
        "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change()"
    ),
)


def restore_triggers(connection: Connection) -> None:
    """Put back the triggers of every append-only table that exists.

    Migrations end with this, because one that rebuilds a table drops them.
    """
    tables = set(inspect(connection).get_table_names()) & set(APPEND_ONLY)
    for statement in _statements(connection.dialect.name, sorted(tables)):
        connection.exec_driver_sql(statement)


@contextmanager
def changeable(connection: Connection, tables: Sequence[str]) -> Iterator[None]:
    """Open append-only tables inside a transaction, for a person's own words to be taken out.

    An error leaves it to the rollback to put the triggers back.
    """
    for table in tables:
        if connection.dialect.name == "sqlite":
            for verb in ("UPDATE", "DELETE"):
                connection.exec_driver_sql(_SQLITE[0].format(table=table, verb=verb))
        else:
            connection.exec_driver_sql(_POSTGRES[0].format(table=table))
    yield
    restore_triggers(connection)


def _statements(dialect: str, tables: list[str]) -> Iterator[str]:
    if dialect == "sqlite":
        for table in tables:
            for verb in ("UPDATE", "DELETE"):
                yield from (text.format(table=table, verb=verb) for text in _SQLITE)
        return
    yield _POSTGRES_FUNCTION if tables else _POSTGRES_NO_FUNCTION
    for table in tables:
        yield from (text.format(table=table) for text in _POSTGRES)
