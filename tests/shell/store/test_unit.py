"""Units of work: all or nothing, one moment, and connections that keep the rules."""

import threading
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import pytest
from sqlalchemy import Engine, select, text
from sqlalchemy.exc import StatementError

from coursekit.store.tables import Course, School
from coursekit.store.unit import Unit, open_unit
from tests.cast import NOW, Cast


def titles(unit: Unit) -> list[str]:
    with unit.read() as session:
        return list(session.scalars(select(Course.title)))


def course(cast: Cast, title: str, at: datetime = NOW) -> Course:
    return Course(school_id=cast.instructor.actor.school_id, title=title, created_at=at)


def test_a_write_that_fails_keeps_nothing(unit: Unit, cast: Cast) -> None:
    def fail() -> None:
        with unit.write() as session:
            session.add(course(cast, "half done"))
            session.flush()
            raise RuntimeError("in the middle")

    before = titles(unit)
    with pytest.raises(RuntimeError, match="in the middle"):
        fail()

    assert titles(unit) == before


def test_a_read_keeps_nothing(unit: Unit, cast: Cast) -> None:
    before = titles(unit)
    with unit.read() as session:
        session.add(course(cast, "by mistake"))

    assert titles(unit) == before


def test_a_read_sees_one_moment(unit: Unit, cast: Cast) -> None:
    with unit.read() as session:
        before = list(session.scalars(select(Course.title)))
        with unit.write() as writing:
            writing.add(course(cast, "meanwhile"))

        assert list(session.scalars(select(Course.title))) == before
    assert "meanwhile" in titles(unit)


def test_a_write_that_reads_first_waits_for_its_turn(unit: Unit, cast: Cast) -> None:
    def add(number: int) -> None:
        with unit.write() as session:
            session.scalars(select(Course.title)).all()
            session.add(course(cast, f"course {number}"))

    threads = [threading.Thread(target=add, args=(number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert {f"course {number}" for number in range(8)} <= set(titles(unit))


def test_an_instant_comes_back_aware_and_in_utc(unit: Unit, cast: Cast) -> None:
    summer = datetime(2026, 7, 1, 12, tzinfo=timezone(timedelta(hours=2)))
    with unit.write() as session:
        session.add(course(cast, "in summer", summer))

    with unit.read() as session:
        found = session.scalar(select(Course.created_at).where(Course.title == "in summer"))
    assert found == summer
    assert found is not None
    assert found.tzinfo is UTC


def test_an_instant_without_a_zone_is_refused(unit: Unit, cast: Cast) -> None:
    naive = NOW.replace(tzinfo=None)
    with pytest.raises(StatementError, match="without a time zone"), unit.write() as session:
        session.add(course(cast, "when?", naive))


@pytest.mark.parametrize(
    ("pragma", "value"),
    [
        ("journal_mode", "wal"),
        ("synchronous", 2),
        ("foreign_keys", 1),
        ("recursive_triggers", 1),
        ("busy_timeout", 10_000),
        ("trusted_schema", 0),
    ],
)
def test_every_connection_to_sqlite_keeps_the_rules(
    sqlite_engine: Engine, pragma: str, value: object
) -> None:
    with sqlite_engine.connect() as connection:
        assert connection.exec_driver_sql(f"PRAGMA {pragma}").scalar() == value


def test_the_embedded_database_stands_in_the_instance_folder(tmp_path: Path) -> None:
    instance = tmp_path / "not" / "there" / "yet"
    unit = open_unit(None, instance)
    with unit.read() as session:
        assert session.scalars(select(School)).all() == []
    unit.close()

    assert (instance / "coursekit.sqlite3").is_file()


def test_a_configured_database_goes_before_the_embedded_one(tmp_path: Path) -> None:
    unit = open_unit(f"sqlite:///{tmp_path / 'elsewhere.db'}", tmp_path)
    with unit.read() as session:
        assert session.scalar(text("SELECT count(*) FROM schools")) == 0
    unit.close()

    assert [path.name for path in tmp_path.iterdir()] == ["elsewhere.db"]
