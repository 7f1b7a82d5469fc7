"""Counts: the same in any order, from any number of writers, and rebuilt from the ledger."""

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from datetime import timedelta

import pytest
from sqlalchemy import URL, delete, select, update

from coursekit.services import accounting, kit, pulls
from coursekit.services.pull_desk import DeclaredPull, RigPull
from coursekit.store.chain import FIRST_HASH
from coursekit.store.queries.ledger import all_rows
from coursekit.store.tables import KitCount, KitItem, LedgerEntry
from coursekit.store.unit import Unit
from coursekit.wear.counting import Counts
from tests.cast import NOW, Cast
from tests.databases import Databases, opened
from tests.shell.classroom import rig_pull

WRITERS = 8
EACH = 6


def send(unit: Unit, cast: Cast, sent: RigPull | DeclaredPull) -> None:
    if isinstance(sent, RigPull):
        pulls.record_rig_pull(unit, cast.instructor.actor, sent, NOW)
    else:
        pulls.record_declared_pull(unit, cast.instructor.actor, sent, NOW)


def queue(cast: Cast) -> list[RigPull | DeclaredPull]:
    """Return a morning's pulls: a rig, and a rope that is pulled light and heavy."""
    rope = cast.items["Rope 1"]
    found: list[RigPull | DeclaredPull] = []
    for number in range(8):
        at = NOW - timedelta(minutes=20 * number)
        key = f"pull-{number:04}"
        size = "light" if number % 3 else "heavy"
        declared = DeclaredPull(cast.class_id, rope, "kinetic", size, "came-free", key, at)
        of_rig = replace(rig_pull(cast, key), at=at)
        found.append(of_rig if number % 2 else declared)
    return found


def counts(unit: Unit, cast: Cast) -> dict[str, Counts]:
    rows = kit.list_items(unit, cast.storekeeper.actor, NOW.date())
    return {row.mark: row.counts for row in rows}


def test_replayed_twice_and_shuffled_the_totals_are_the_same(unit: Unit, cast: Cast) -> None:
    for sent in queue(cast):
        send(unit, cast, sent)
    before = counts(unit, cast)
    for sent in [*queue(cast)[::-1], *queue(cast)[1::2], *queue(cast)[::2]]:
        send(unit, cast, sent)

    assert counts(unit, cast) == before
    assert before["Rope 1"].pulls == 4


@pytest.mark.parametrize("shift", [1, 3, 5])
def test_any_order_of_arrival_gives_the_same_counts(
    unit: Unit, cast: Cast, databases: Databases, school_world: tuple[URL, Cast], shift: int
) -> None:
    in_order, turned = queue(cast), [queue(cast)[(shift * n) % 8] for n in range(8)]
    for sent in in_order:
        send(unit, cast, sent)

    with opened(databases, databases.copy(school_world[0])) as other:
        for sent in turned:
            send(other, cast, sent)
        assert counts(other, cast) == counts(unit, cast)


def test_many_writers_at_once_lose_nothing(unit: Unit, cast: Cast) -> None:
    rope = cast.items["Rope 1"]

    def write(writer: int) -> None:
        for number in range(EACH):
            key = f"writer-{writer}-{number:04}"
            pull = DeclaredPull(cast.class_id, rope, "kinetic", "light", "came-free", key)
            send(unit, cast, pull)
            send(unit, cast, rig_pull(cast, f"rig-{writer}-{number:04}"))

    with ThreadPoolExecutor(WRITERS) as writers:
        list(writers.map(write, range(WRITERS)))

    found = counts(unit, cast)
    assert found["Rope 1"].light == WRITERS * EACH
    assert found["Line 1"].pulls == found["Bow 1"].pulls == WRITERS * EACH
    checked = accounting.verify(unit, cast.storekeeper.actor)
    assert checked.holds
    with unit.read() as session:
        numbers = session.scalars(select(LedgerEntry.seq).order_by(LedgerEntry.seq)).all()
    assert numbers == list(range(1, checked.entries + 1))


def test_of_many_phones_that_send_the_same_pull_one_counts(unit: Unit, cast: Cast) -> None:
    with ThreadPoolExecutor(WRITERS) as phones:
        same = [rig_pull(cast)] * WRITERS
        list(phones.map(lambda sent: send(unit, cast, sent), same))

    assert counts(unit, cast)["Line 1"].pulls == 1


def test_rebuilt_counts_are_the_kept_ones(unit: Unit, cast: Cast) -> None:
    for sent in queue(cast):
        send(unit, cast, sent)
    before = counts(unit, cast)
    with unit.write() as session:
        session.execute(update(KitCount).values(light=99, use=99.0, first_used=None))
        session.execute(update(KitItem).values(status="lost"))
    tampered = accounting.verify(unit, cast.storekeeper.actor)
    accounting.rebuild(unit, cast.storekeeper.actor)

    assert not tampered.holds
    assert set(tampered.wrong_counts) == set(tampered.wrong_statuses) == set(cast.items)
    assert counts(unit, cast) == before
    assert accounting.verify(unit, cast.storekeeper.actor).holds


def test_a_count_that_is_missing_is_told_and_rebuilt(unit: Unit, cast: Cast) -> None:
    with unit.write() as session:
        session.execute(delete(KitCount))
    tampered = accounting.verify(unit, cast.storekeeper.actor)
    accounting.rebuild(unit, cast.storekeeper.actor)

    assert set(tampered.wrong_counts) == set(cast.items)
    assert accounting.verify(unit, cast.storekeeper.actor).holds


def test_the_chain_begins_and_goes_on_without_a_gap(unit: Unit, cast: Cast) -> None:
    with unit.read() as session:
        rows = list(all_rows(session, cast.storekeeper.actor.school_id))

    assert rows[0].prev_hash == FIRST_HASH
    assert [row.prev_hash for row in rows[1:]] == [row.hash for row in rows[:-1]]
    assert len({row.hash for row in rows}) == len(rows)
