"""What was recorded can't be changed, and a change made behind our back shows."""

import pytest
from sqlalchemy import Engine, text

from coursekit.services.accounting import verify
from coursekit.store.triggers import APPEND_ONLY
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.shell.store.refusals import assert_refuses, assert_refuses_change


@pytest.mark.parametrize("table", APPEND_ONLY)
def test_a_recorded_row_is_neither_updated_nor_deleted(engine: Engine, table: str) -> None:
    assert_refuses_change(engine, table)


@pytest.mark.parametrize("table", APPEND_ONLY)
def test_a_recorded_row_is_not_replaced(engine: Engine, table: str) -> None:
    if engine.dialect.name == "sqlite":
        statement = f"INSERT OR REPLACE INTO {table} SELECT * FROM {table}"
    else:
        statement = (
            f"INSERT INTO {table} SELECT * FROM {table} "
            f"ON CONFLICT (id) DO UPDATE SET school_id = EXCLUDED.school_id"
        )

    assert_refuses(engine, statement, f"{table} is append-only")


def test_a_whole_table_is_not_emptied(engine: Engine) -> None:
    if engine.dialect.name == "postgresql":
        assert_refuses(engine, "TRUNCATE ledger_entries CASCADE", "ledger_entries is append-only")
    else:
        assert_refuses(engine, "DELETE FROM ledger_entries", "ledger_entries is append-only")


@pytest.mark.parametrize(
    "forgery",
    [
        "UPDATE ledger_entries SET load_n = 1.0 WHERE seq = 22",
        "UPDATE ledger_entries SET day = '2020-01-01' WHERE seq = 22",
        "UPDATE ledger_entries SET person_id = 3 WHERE seq = 22",
        "DELETE FROM ledger_entries WHERE seq = 22",
        "UPDATE ledger_entries SET hash = prev_hash WHERE seq = 22",
    ],
)
def test_a_change_behind_our_back_breaks_the_chain_where_it_was_made(
    engine: Engine, cast: Cast, forgery: str
) -> None:
    storekeeper = cast.storekeeper.actor
    before = verify(Unit(engine), storekeeper)
    assert before.holds
    assert before.entries > 22

    _force(engine, forgery)

    assert verify(Unit(engine), storekeeper).first_broken == 22


def test_each_school_has_a_chain_of_its_own(engine: Engine, cast: Cast) -> None:
    _force(engine, "UPDATE ledger_entries SET reason = 'x' WHERE seq = 1")

    assert verify(Unit(engine), cast.outsider.actor).holds


def _force(engine: Engine, forgery: str) -> None:
    """Change a row as somebody would who has the database file in hand."""
    if engine.dialect.name == "postgresql":
        drop = ["DROP TRIGGER ledger_entries_no_change ON ledger_entries"]
    else:
        drop = [f"DROP TRIGGER ledger_entries_no_{verb}" for verb in ("UPDATE", "DELETE")]
    with engine.execution_options(begin="IMMEDIATE").begin() as connection:
        for statement in (*drop, forgery):
            connection.execute(text(statement))
