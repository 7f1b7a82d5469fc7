"""The engine: SQLite by default, PostgreSQL by URL, and the migrations of both."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from alembic import command
from alembic.config import Config
from sqlalchemy import URL, Connection, Engine, NullPool, create_engine, event, make_url

from coursekit.problems import CoursekitError

FILE_NAME = "coursekit.sqlite3"
MIGRATIONS = Path(__file__).parent / "migrations"
_PRAGMAS = (
    "journal_mode = WAL",
    "synchronous = FULL",
    "busy_timeout = 10000",
    # Without it INSERT OR REPLACE walks through the append-only triggers.
    "recursive_triggers = ON",
    "trusted_schema = OFF",
)
# Any 63-bit number that no other program takes as its own lock.
_MIGRATION_LOCK = 7_205_751_203_441


class BrokenReferences(CoursekitError):
    """A migration left rows that point at nothing."""


def database_url(configured: str | None, instance: Path) -> URL:
    """Return the configured database, else the embedded one in the instance folder."""
    if configured:
        return make_url(configured)
    return URL.create("sqlite", database=str(instance / FILE_NAME))


def open_engine(url: URL | str) -> Engine:
    """Return an engine whose connections keep foreign keys and append-only rows."""
    return _engine(make_url(url), foreign_keys=True, pool_size=20)


def migrate(engine: Engine, revision: str = "head") -> None:
    """Bring the database up to a revision, in one transaction."""
    with _migrating(engine) as config:
        command.upgrade(config, revision)


def migrate_down(engine: Engine, revision: str) -> None:
    """Take the database back to an earlier revision, `base` for an empty one."""
    with _migrating(engine) as config:
        command.downgrade(config, revision)


@contextmanager
def _migrating(engine: Engine) -> Iterator[Config]:
    """Give Alembic's settings on one locked transaction.

    SQLite rebuilds a table by dropping the old one, so keys are off while it
    migrates, and every reference is checked before it commits.
    """
    migrating = _engine(engine.url, foreign_keys=False, poolclass=NullPool)
    with migrating.execution_options(begin="IMMEDIATE").begin() as connection:
        _lock(connection)
        yield migration_settings(connection)
        _check_references(connection)


def migration_settings(connection: Connection) -> Config:
    """Return Alembic's settings for one connection; there is no settings file."""
    config = Config()
    config.set_main_option("script_location", str(MIGRATIONS))
    config.set_main_option("file_template", "%%(rev)s_%%(slug)s")
    config.attributes["connection"] = connection
    return config


def _engine(url: URL, *, foreign_keys: bool, **options: Any) -> Engine:
    engine = create_engine(url, **options)
    if engine.dialect.name == "sqlite":
        _listen(engine, foreign_keys=foreign_keys)
    return engine


def _listen(engine: Engine, *, foreign_keys: bool) -> None:
    pragmas = (*_PRAGMAS, f"foreign_keys = {'ON' if foreign_keys else 'OFF'}")

    @event.listens_for(engine, "connect")
    def _prepare(connection: Any, _record: Any) -> None:
        # The driver's own BEGIN is deferred: one that reads before it writes is
        # told "locked" at once, whatever the timeout.
        connection.isolation_level = None
        for pragma in pragmas:
            connection.execute(f"PRAGMA {pragma}")
        # SQLite's own knows the letters of ASCII alone.
        connection.create_function("lower", 1, _lower, deterministic=True)

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        mode = connection.get_execution_options().get("begin", "DEFERRED")
        connection.exec_driver_sql(f"BEGIN {mode}")


def _lower(text: str | None) -> str | None:
    return None if text is None else text.lower()


def _lock(connection: Connection) -> None:
    """Let one process migrate at a time; SQLite's BEGIN IMMEDIATE has done so already."""
    if connection.dialect.name == "postgresql":
        connection.exec_driver_sql(f"SELECT pg_advisory_xact_lock({_MIGRATION_LOCK})")


def _check_references(connection: Connection) -> None:
    if connection.dialect.name != "sqlite":
        return
    broken = connection.exec_driver_sql("PRAGMA foreign_key_check").all()
    if broken:
        raise BrokenReferences(f"rows that point at nothing: {sorted({row[0] for row in broken})}")
