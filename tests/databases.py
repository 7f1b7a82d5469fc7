"""Databases for tests: one is filled once, and each test gets a copy of its own.

SQLite by default; PostgreSQL where COURSEKIT_TEST_DATABASE_URL names a server
on which databases may be made.
"""

from __future__ import annotations

import os
import shutil
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Protocol

from sqlalchemy import URL, Dialect, Engine, NullPool, create_engine, event, make_url

from coursekit.store.engine import migrate, open_engine
from coursekit.store.unit import Unit

SERVER = os.environ.get("COURSEKIT_TEST_DATABASE_URL")


class Databases(Protocol):
    """Where databases come from and go to."""

    def new(self) -> URL: ...
    def copy(self, of: URL) -> URL: ...
    def drop(self, url: URL) -> None: ...


class SqliteDatabases:
    """Files of a folder."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder

    def new(self) -> URL:
        return URL.create("sqlite", database=str(self._folder / f"{uuid.uuid4().hex}.sqlite3"))

    def copy(self, of: URL) -> URL:
        url = self.new()
        # The last connection that closed has written the log into the file.
        shutil.copy(str(of.database), str(url.database))
        return url

    def drop(self, url: URL) -> None:
        for path in self._folder.glob(f"{Path(str(url.database)).name}*"):
            path.unlink()


class PostgresDatabases:
    """Databases of one server, each with a name that no other run takes."""

    def __init__(self, server: str) -> None:
        self._server = make_url(server)

    def new(self) -> URL:
        return self._create("")

    def copy(self, of: URL) -> URL:
        return self._create(f' TEMPLATE "{of.database}"')

    def drop(self, url: URL) -> None:
        self._run(f'DROP DATABASE IF EXISTS "{url.database}" WITH (FORCE)')

    def _create(self, template: str) -> URL:
        url = self._server.set(database=f"coursekit_{uuid.uuid4().hex}")
        self._run(f'CREATE DATABASE "{url.database}"{template}')
        return url

    def _run(self, statement: str) -> None:
        engine = create_engine(self._server, isolation_level="AUTOCOMMIT", poolclass=NullPool)
        with engine.connect() as connection:
            connection.exec_driver_sql(statement)


def databases_in(folder: Path) -> Databases:
    """Return the databases of this run."""
    return PostgresDatabases(SERVER) if SERVER else SqliteDatabases(folder)


def moving_engine(url: URL) -> Engine:
    """Return an engine that connects to wherever its address points by then.

    A new engine compiles every statement anew, which takes longer than most tests: one
    whose tests are done with a database is turned to the next.
    """
    engine = open_engine(url)

    @event.listens_for(engine, "do_connect")
    def _connect(dialect: Dialect, *_given: object) -> object:
        arguments, options = dialect.create_connect_args(engine.url)
        return dialect.connect(*arguments, **options)

    return engine


_idle: list[Engine] = []


@contextmanager
def opened(databases: Databases, url: URL) -> Iterator[Unit]:
    """Give the unit of a migrated database, and drop it at the end."""
    engine = _idle.pop() if _idle else moving_engine(url)
    engine.url = url
    unit = Unit(engine)
    try:
        yield unit
    finally:
        unit.close()
        databases.drop(url)
        _idle.append(engine)


def migrated(url: URL) -> None:
    """Bring an empty database up to date."""
    engine = open_engine(url)
    migrate(engine)
    engine.dispose()
