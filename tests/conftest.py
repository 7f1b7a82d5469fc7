"""Fixtures of every test that needs a database: the unit, the cast and the time."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from datetime import datetime

import pytest
from hypothesis import settings
from sqlalchemy import URL

from coursekit.store.unit import Unit
from tests.cast import NOW, Cast, fill
from tests.databases import Databases, databases_in, migrated, opened

# Tests assert what is computed, never how fast: a busy machine fails none of them.
settings.register_profile("no-clock", deadline=None)
settings.load_profile("no-clock")


def pytest_xdist_auto_num_workers(config: pytest.Config) -> int | None:
    """One process where somebody named the tests: it starts faster and can be debugged."""
    return 0 if config.args_source is pytest.Config.ArgsSource.ARGS else None


@pytest.fixture(scope="session")
def databases(tmp_path_factory: pytest.TempPathFactory) -> Databases:
    """Where the databases of this run come from."""
    return databases_in(tmp_path_factory.mktemp("databases"))


@pytest.fixture(scope="session")
def migrated_url(databases: Databases) -> Iterator[URL]:
    """A database with all tables and no row, to be copied."""
    url = databases.new()
    migrated(url)
    yield url
    databases.drop(url)


@pytest.fixture(scope="session")
def school_world(
    databases: Databases, migrated_url: URL, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[URL, Cast]]:
    """A database with the cast in it, to be copied."""
    url = databases.copy(migrated_url)
    with opened(databases, url) as unit:
        cast = fill(unit, tmp_path_factory.mktemp("scenarios"))
        unit.close()
        yield url, cast


@pytest.fixture
def empty_unit(databases: Databases, migrated_url: URL) -> Iterator[Unit]:
    """A database of the test's own, as a first visit finds it."""
    with opened(databases, databases.copy(migrated_url)) as unit:
        yield unit


@pytest.fixture
def unit(databases: Databases, school_world: tuple[URL, Cast]) -> Iterator[Unit]:
    """A database of the test's own with the cast in it."""
    with opened(databases, databases.copy(school_world[0])) as unit:
        yield unit


@pytest.fixture
def cast(school_world: tuple[URL, Cast]) -> Cast:
    """Who acts: instructor, storekeeper, student, and the outsider who must see nothing."""
    return school_world[1]


@pytest.fixture
def now() -> datetime:
    """The moment that the tests take place: a Saturday morning in June."""
    return NOW


def pytest_collection_finish() -> None:
    """Let the collector of garbage pass over what lives as long as the run."""
    gc.collect()
    gc.freeze()
