"""Pulls that can't be, and pulls told late: each refusal names the item and the field."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from sqlalchemy import func, select

from coursekit.problems import Problems
from coursekit.services import kit, pulls, teaching
from coursekit.services.errors import NotFound, Refused, RoleNeeded
from coursekit.services.pull_desk import RigPull
from coursekit.services.teaching import NewClass
from coursekit.store.tables import PullRecord
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.classroom import GIVEN_ITEMS, OWN_RIG, rig_pull
from tests.shell.pulled import declared, entries, record


@pytest.mark.parametrize(
    ("items", "field"),
    [
        ({"bow-1": "missing"}, "items.bow-1"),
        ({"sling-1": "Sling 1"}, "items.sling-1"),
        ({"bow-1": "Soft 1"}, "items.bow-1"),
    ],
)
def test_what_is_wrong_with_the_items_stands_beside_each(
    unit: Unit, cast: Cast, now: datetime, items: dict[str, str], field: str
) -> None:
    pull = rig_pull(cast)
    chosen = {**pull.items, **{gear: cast.items.get(mark) for gear, mark in items.items()}}
    if items.get("bow-1") == "missing":
        del chosen["bow-1"]
    before = entries(unit)
    with pytest.raises(Problems) as problems:
        record(unit, cast, now, replace(pull, items=chosen))

    assert [problem.where.field for problem in problems.value.items] == [field]
    assert entries(unit) == before


def test_a_pull_of_a_retired_item_names_it_and_its_field(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    tobin, before = cast.storekeeper.actor, entries(unit)
    for mark in ("Bow 1", "Line 1"):
        seen = kit.item_life(unit, tobin, cast.items[mark], now.date()).item
        mara, key = cast.instructor.actor.person_id, f"end-{mark[0]}xyz-1"
        end = kit.Retirement(seen.id, seen.version, "bent", "sawn", mara, key)
        kit.retire(unit, tobin, end, now)
    later = now + timedelta(minutes=1)
    with pytest.raises(Problems) as of_rig:
        record(unit, cast, later, rig_pull(cast))
    with pytest.raises(Problems, match="item_id: Bow 1: The item is retired"):
        record(unit, cast, later, declared(cast, "Bow 1"))

    told = {problem.where.field: problem.what for problem in of_rig.value.items}
    assert told == {
        "items.winch-line": "Line 1: The item is retired, and retired is final",
        "items.bow-1": "Bow 1: The item is retired, and retired is final",
    }
    assert entries(unit) == before + 2


@pytest.mark.parametrize("behind", [timedelta(days=8), timedelta(days=56 * 365)])
def test_a_pull_before_the_item_was_there_is_refused_with_its_name(
    unit: Unit, cast: Cast, now: datetime, behind: timedelta
) -> None:
    """As from a phone whose clock stands far behind."""
    before = entries(unit)
    with pytest.raises(Problems, match="Rope 1: The item is not in the register yet") as alone:
        record(unit, cast, now, replace(declared(cast), at=now - behind))
    with pytest.raises(Problems, match="not in the register yet") as of_rig:
        record(unit, cast, now, replace(rig_pull(cast), at=now - behind))

    assert [problem.where.field for problem in alone.value.items] == ["item_id"]
    assert {problem.where.field for problem in of_rig.value.items} == {
        f"items.{gear}" for gear in GIVEN_ITEMS
    }
    assert "clock of the device" in str(alone.value)
    assert entries(unit) == before


def test_a_pull_from_before_its_item_retired_still_counts(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    tobin, rope = cast.storekeeper.actor, cast.items["Rope 1"]
    seen = kit.item_life(unit, tobin, rope, now.date()).item
    mara = cast.instructor.actor.person_id
    end = kit.Retirement(rope, seen.version, "a cut", "cut in three", mara, "retire-01")
    kit.retire(unit, tobin, end, now)
    record(unit, cast, now, replace(declared(cast), at=now - timedelta(hours=1)))
    found = kit.item_life(unit, tobin, rope, now.date()).item

    assert (found.status, found.counts.pulls) == ("retired", 1)


def test_an_item_stands_in_a_rig_once(unit: Unit, cast: Cast, now: datetime) -> None:
    turned = replace(rig_pull(cast), rig="turned")
    items: dict[str, int | None] = {
        "winch-line": cast.items["Line 1"],
        "soft-1": cast.items["Soft 1"],
        "line-2": cast.items["Line 2"],
        "ring-1": cast.items["Ring 1"],
        "sling-1": cast.items["Sling 1"],
        "bow-1": cast.items["Bow 1"],
        "hook-1": cast.items["Bow 1"],
    }
    with pytest.raises(Problems, match=r"items\.hook-1: Bow 1 is a bow-shackle"):
        record(unit, cast, now, replace(turned, items=items))
    whole = replace(turned, items={**items, "hook-1": cast.items["Hook 1"]})
    assert len(record(unit, cast, now, whole).lines) == 7


@pytest.mark.parametrize(
    ("bend", "field"),
    [
        (lambda pull: replace(pull, rig="no-such-rig"), "rig"),
        (lambda pull: replace(pull, ended="exploded"), "ended"),
        (lambda pull: replace(pull, key="x"), "key"),
        (lambda pull: replace(pull, at=NOW + timedelta(minutes=30)), "at"),
    ],
)
def test_what_is_wrong_with_a_pull_is_told(
    unit: Unit, cast: Cast, now: datetime, bend: Callable[[RigPull], RigPull], field: str
) -> None:
    with pytest.raises(Problems) as problems:
        record(unit, cast, now, bend(rig_pull(cast)))

    assert [problem.where.field for problem in problems.value.items] == [field]


def test_a_rig_that_can_not_be_solved_is_told_where(unit: Unit, cast: Cast, now: datetime) -> None:
    nowhere = {**OWN_RIG["lines"][0], "to": {"at": "moon", "with": ["soft-1"]}}
    pull = replace(rig_pull(cast), rig={**OWN_RIG, "lines": [nowhere]})
    with pytest.raises(Problems, match=r"rig\.lines\.0\.to\.at"):
        record(unit, cast, now, pull)


def test_a_pull_belongs_to_a_class_that_has_begun(unit: Unit, cast: Cast, now: datetime) -> None:
    mara = cast.instructor.actor
    draft = teaching.create_class(unit, mara, NewClass(cast.course_id, "x", now.date()), now)
    with pytest.raises(Refused, match="not begun"):
        record(unit, cast, now, replace(rig_pull(cast), class_id=draft))
    with pytest.raises(NotFound):
        record(unit, cast, now, replace(rig_pull(cast), class_id=999))


def test_a_pull_is_logged_after_the_close_too(unit: Unit, cast: Cast, now: datetime) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)

    assert len(record(unit, cast, now, rig_pull(cast)).lines) == 3


def test_a_late_entry_is_flagged_and_counts_on_its_day(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    two_days_ago = now - timedelta(days=2)
    record(unit, cast, now, replace(declared(cast), at=two_days_ago))
    life = kit.item_life(unit, cast.storekeeper.actor, cast.items["Rope 1"], now.date())

    assert life.lines[-1].is_late
    assert life.item.counts.first_used == two_days_ago.date()


def test_only_an_instructor_logs_a_rig_and_a_storekeeper_what_is_declared(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    for member in (cast.storekeeper, cast.student):
        with pytest.raises(RoleNeeded):
            pulls.record_rig_pull(unit, member.actor, rig_pull(cast), now)
    with pytest.raises(RoleNeeded):
        pulls.record_declared_pull(unit, cast.student.actor, declared(cast), now)
    pulls.record_declared_pull(unit, cast.storekeeper.actor, declared(cast), now)
    with unit.read() as session:
        assert session.scalar(select(func.count()).select_from(PullRecord)) == 1
