"""Engines of the test's own, to look behind the services."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import URL, Engine

from coursekit.assessment.school_policy import SchoolPolicy
from coursekit.assessment.validity import Act
from coursekit.services import (
    amending,
    kit,
    kit_files,
    planning,
    policies,
    recording,
    records,
    teaching,
)
from coursekit.services.actor import Actor
from coursekit.services.amending import ItemChange
from coursekit.services.kit_files import FileKind, NewFile, Removal
from coursekit.services.planning import NewPlan
from coursekit.services.policies import PolicyChange
from coursekit.services.recording import Circumstances
from coursekit.services.register import NewItem
from coursekit.store.columns import Base
from coursekit.store.engine import migrate, open_engine
from coursekit.store.filing import Filing
from coursekit.store.tables import FollowUpReply, YardMark, YardSheet
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.databases import Databases, opened
from tests.shell.classroom import COMPETENT, appealed_and_answered, handed_in, pulled
from tests.shell.files.pictures import PDF
from tests.shell.panel import pass_mark_of_a_panel

OWN_POLICY = PolicyChange(SchoolPolicy(warn_days=30), "A month is enough", seen=0)


@pytest.fixture(scope="session")
def full_world(
    databases: Databases,
    school_world: tuple[URL, Cast],
    tmp_path_factory: pytest.TempPathFactory,
) -> Iterator[URL]:
    """A database with a row in every table that is written to, to be copied."""
    world, cast = school_world
    url = databases.copy(world)
    with opened(databases, url) as unit:
        attempt_id = handed_in(unit, cast, NOW, **COMPETENT)
        appealed_and_answered(unit, cast, attempt_id)
        pulled(unit, cast, NOW)
        new = NewPlan(cast.class_id, {cast.version_id: 3}, seen=0)
        planning.plan_pulls(unit, cast.instructor.actor, new, NOW)
        with unit.write() as session:
            session.add(_reply(cast.instructor.actor.school_id))
        policies.change_policy(unit, cast.instructor.actor, OWN_POLICY, NOW)
        pass_mark_of_a_panel(unit, cast, NOW)
        _record(unit, cast)
        with unit.write() as session:
            session.add_all(_yard(cast.instructor.actor))
        _file_of_an_item(unit, cast, tmp_path_factory.mktemp("files"))
        _change_of_an_item(unit, cast)
        unit.close()
        yield url


@pytest.fixture
def engine(databases: Databases, full_world: URL) -> Iterator[Engine]:
    """An engine on a copy of that database."""
    yield from _opened(databases, databases.copy(full_world))


def _yard(mara: Actor) -> Iterator[Base]:
    """Yield a note and a list of the yard."""
    place = {"school_id": mara.school_id, "enrolment_id": 1, "class_scenario_id": 1}
    place |= {"assessor_id": mara.person_id}
    yield YardMark(**place, criterion="a.b", level=2, note="", key="yard-key-1", at=NOW)
    yield YardSheet(
        **place,
        kind="own",
        levels={"a.b": 2},
        notes={},
        reason="",
        pass_share=0.75,
        handed_in_at=NOW,
    )


def _file_of_an_item(unit: Unit, cast: Cast, folder: Path) -> None:
    """Add a certificate to an item, and remove it."""
    tobin, filing = cast.storekeeper.actor, Filing(folder)
    new = NewFile(cast.items["Bow 1"], FileKind.CERTIFICATE, "proof.pdf", PDF)
    file_id = kit_files.add_file(unit, filing, tobin, new, NOW)
    kit_files.remove_file(unit, filing, tobin, Removal(file_id, "of another item"), NOW)


def _change_of_an_item(unit: Unit, cast: Cast) -> None:
    """Put an item in another place."""
    tobin, item_id = cast.storekeeper.actor, cast.items["Hook 1"]
    hook = kit.item_life(unit, tobin, item_id, NOW.date()).item
    new = NewItem(hook.type.id, hook.mark, hook.serial, made=hook.made, place="North shed")
    change = ItemChange(item_id, hook.version, new, "", "place-of-hook")
    amending.change_item(unit, tobin, change, NOW)


def _record(unit: Unit, cast: Cast) -> None:
    """Close the class, issue its records, and suspend the student's certificate."""
    mara = cast.instructor.actor
    teaching.close_class(unit, mara, cast.class_id, NOW)
    recording.issue(unit, mara, cast.class_id, Circumstances("North yard", "", ""), NOW)
    (listed,) = records.records_of_class(unit, mara, cast.class_id, NOW)
    certificate = listed.line.certificate
    assert certificate is not None
    recording.judge(unit, mara, certificate.id, Act.SUSPENDED, "To be looked at", NOW)


def _reply(school_id: int) -> FollowUpReply:
    return FollowUpReply(
        school_id=school_id,
        attempt_id=1,
        task_id="total",
        slips=["grade-left-out"],
        numbers={},
        typed="no-way",
        outcome="neither",
        said={"template": "", "values": {}},
        replied_at=NOW,
    )


@pytest.fixture
def sqlite_engine(tmp_path: Path) -> Iterator[Engine]:
    """An engine on a migrated SQLite file, whatever the rest runs on."""
    engine = open_engine(f"sqlite:///{tmp_path / 'own.sqlite3'}")
    migrate(engine)
    yield engine
    engine.dispose()


@pytest.fixture
def bare_engine(databases: Databases) -> Iterator[Engine]:
    """An engine on a database without a single table."""
    yield from _opened(databases, databases.new())


def _opened(databases: Databases, url: URL) -> Iterator[Engine]:
    engine = open_engine(url)
    yield engine
    engine.dispose()
    databases.drop(url)
