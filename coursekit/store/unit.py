"""Units of work: a read that sees one moment, a write that is all or nothing."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from sqlite3 import OperationalError

from sqlalchemy import Engine
from sqlalchemy.orm import Session, sessionmaker

from coursekit.store.engine import database_url, migrate, open_engine


class Unit:
    """Where services get their sessions from; one database, any number of threads."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._reads = sessionmaker(_reading(engine), autoflush=False)
        self._writes = sessionmaker(_writing(engine), expire_on_commit=False)

    @contextmanager
    def read(self) -> Iterator[Session]:
        """Give a session that sees one moment and keeps nothing."""
        with self._reads() as session:
            yield session

    @contextmanager
    def write(self) -> Iterator[Session]:
        """Give a session that commits at the end, or nothing at all on an error."""
        with self._writes.begin() as session:
            yield session

    def sweep(self) -> bool:
        """Take what was deleted out of the file itself; False where others keep it busy.

        PostgreSQL sweeps by itself.
        """
        if self._engine.dialect.name != "sqlite":
            return True
        connection = self._engine.raw_connection()
        try:
            for statement in ("VACUUM", "PRAGMA wal_checkpoint(TRUNCATE)"):
                connection.cursor().execute(statement)
        except OperationalError:
            return False
        finally:
            connection.close()
        return True

    def close(self) -> None:
        """Give all connections back."""
        self._engine.dispose()


class Whole(Unit):
    """A unit inside one write that is under way: all that it does stands or falls together."""

    def __init__(self, session: Session) -> None:
        self._session = session

    @contextmanager
    def read(self) -> Iterator[Session]:
        """Give the session of the write, which sees what it has written."""
        yield self._session

    @contextmanager
    def write(self) -> Iterator[Session]:
        """Give the session of the write, and send what was written to the database."""
        yield self._session
        self._session.flush()

    def sweep(self) -> bool:
        """Leave it to the unit that the write belongs to: it has not ended yet."""
        return False

    def close(self) -> None:
        """Leave the connections to the unit that the write belongs to."""


def open_unit(configured: str | None, instance: Path) -> Unit:
    """Return the unit of the configured or embedded database, migrated."""
    instance.mkdir(parents=True, exist_ok=True)
    engine = open_engine(database_url(configured, instance))
    migrate(engine)
    return Unit(engine)


def _reading(engine: Engine) -> Engine:
    if engine.dialect.name == "sqlite":
        return engine
    return engine.execution_options(isolation_level="REPEATABLE READ", postgresql_readonly=True)


def _writing(engine: Engine) -> Engine:
    return engine.execution_options(begin="IMMEDIATE")
