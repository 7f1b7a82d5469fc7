"""A process that is killed loses nothing that it acknowledged, and leaves nothing half done."""

import subprocess
import sys
from pathlib import Path

import pytest
from sqlalchemy import URL, func, select

from coursekit.services.accounting import verify
from coursekit.store.tables import LedgerEntry, PullRecord
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.databases import Databases, opened

ITEMS_OF_A_PULL = 3
ROOT = Path(__file__).resolve().parents[3]
# Logs pulls without end, and prints each one's key once it is committed.
WRITER = """
import itertools, sys
from coursekit.services import pulls
from coursekit.services.actor import Actor, Role
from coursekit.services.pull_desk import RigPull
from coursekit.store.engine import open_engine
from coursekit.store.unit import Unit
from tests.cast import NOW

url, class_id, version_id, line, bow, damper = sys.argv[1], *map(int, sys.argv[2:])
unit, mara = Unit(open_engine(url)), Actor(1, 1, frozenset({Role.INSTRUCTOR}))
items = {"winch-line": line, "bow-1": bow, "damper-1": damper}
for number in itertools.count():
    key = f"pull-{number:06}"
    pull = RigPull(class_id, version_id, "given", items, "came-free", key)
    pulls.record_rig_pull(unit, mara, pull, NOW)
    print(key, flush=True)
"""


@pytest.mark.parametrize("acknowledged", [1, 4, 9])
def test_what_was_acknowledged_before_a_kill_is_there_whole(
    databases: Databases, school_world: tuple[URL, Cast], acknowledged: int
) -> None:
    url, cast = school_world
    with opened(databases, databases.copy(url)) as unit:
        before = counted(unit)
        keys = killed_after(unit, cast, acknowledged)
        pulls, entries = counted(unit)

        assert set(keys) <= set(stored_keys(unit))
        assert entries - before[1] == ITEMS_OF_A_PULL * (pulls - before[0])
        assert pulls - before[0] <= acknowledged + 1
        assert verify(unit, cast.storekeeper.actor).holds


def killed_after(unit: Unit, cast: Cast, acknowledged: int) -> list[str]:
    """Start a writer, kill it while it writes on, and return what it acknowledged."""
    items = [cast.items[mark] for mark in ("Line 1", "Bow 1", "Damper 1")]
    arguments = map(str, (cast.class_id, cast.version_id, *items))
    command = [sys.executable, "-c", WRITER, url_of(unit), *arguments]
    writer = subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=ROOT)
    assert writer.stdout is not None
    keys = [writer.stdout.readline().strip() for _ in range(acknowledged)]
    writer.kill()
    writer.wait()
    writer.stdout.close()
    return keys


def url_of(unit: Unit) -> str:
    with unit.read() as session:
        return session.connection().engine.url.render_as_string(hide_password=False)


def counted(unit: Unit) -> tuple[int, int]:
    with unit.read() as session:
        pulls = session.scalar(select(func.count()).select_from(PullRecord)) or 0
        entries = session.scalar(select(func.count()).select_from(LedgerEntry)) or 0
        return pulls, entries


def stored_keys(unit: Unit) -> list[str]:
    with unit.read() as session:
        return list(session.scalars(select(PullRecord.key)))
