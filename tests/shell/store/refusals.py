"""How a database refuses to change what was recorded."""

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import DBAPIError


def assert_refuses(engine: Engine, statement: str, reason: str) -> None:
    with engine.connect() as connection, pytest.raises(DBAPIError, match=reason):
        connection.execute(text(statement))


def assert_refuses_change(engine: Engine, table: str) -> None:
    """Neither an update nor a delete of a row that is there may pass."""
    reason = f"{table} is append-only"
    assert rows_of(engine, table) > 0
    assert_refuses(engine, f"UPDATE {table} SET school_id = school_id", reason)
    assert_refuses(engine, f"DELETE FROM {table}", reason)


def rows_of(engine: Engine, table: str) -> int:
    with engine.connect() as connection:
        return int(connection.scalar(text(f"SELECT count(*) FROM {table}")) or 0)
