"""Pulls made on the day: the load that marks a student is the load that wears the item."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from coursekit.rigging.solver import Solution, solve
from coursekit.services import kit, preparing, pulls, register
from coursekit.services.accounting import verify
from coursekit.services.errors import Conflict
from coursekit.services.kit import Correction
from coursekit.services.register import NewItem, NewType
from coursekit.store.unit import Unit
from coursekit.wear.ledger import Origin
from tests.cast import Cast
from tests.kit_acts import hold
from tests.shell.classroom import GIVEN_ITEMS, OWN_RIG, rig_pull
from tests.shell.pulled import by_mark, declared, entries, record


def solution(unit: Unit, cast: Cast, rig: str = "given") -> Solution:
    version = preparing.scenario_version(unit, cast.instructor.actor, cast.version_id)
    return solve(version.scenario.situation, version.scenario.rigs[rig])


def test_one_pull_writes_one_entry_for_every_item_of_the_rig(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    before = entries(unit)
    report = record(unit, cast, now, rig_pull(cast))

    assert {line.mark for line in report.lines} == set(GIVEN_ITEMS.values())
    assert entries(unit) == before + 3


def test_each_item_bears_the_load_that_the_solver_gives(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    solved = solution(unit, cast)
    lines = by_mark(record(unit, cast, now, rig_pull(cast)))

    for gear, mark in (("winch-line", "Line 1"), ("bow-1", "Bow 1")):
        assert lines[mark].load == pytest.approx(solved.values[f"item.{gear}.load"])
        assert lines[mark].limit == pytest.approx(solved.values[f"item.{gear}.limit"])
        assert lines[mark].origin is Origin.SOLVED
    assert lines["Damper 1"].load == 0.0


def test_the_share_is_of_the_limit_of_the_schools_own_item(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    tobin = cast.storekeeper.actor
    new = NewType("Small bow", "bow-shackle", wll="1 t", mbs="6 t")
    type_id = register.register_type(unit, tobin, new, now)
    small = register.register_item(unit, tobin, NewItem(type_id, "Bow 9"), now)
    pull = rig_pull(cast)
    line = by_mark(record(unit, cast, now, replace(pull, items={**pull.items, "bow-1": small})))

    # A tonne weighs 9806.65 N under standard gravity (CGPM 1901).
    assert line["Bow 9"].limit == pytest.approx(9_806.65)


def test_a_rig_that_was_really_used_is_solved_as_it_was(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    items = {
        "winch-line": cast.items["Line 1"],
        "soft-1": cast.items["Soft 1"],
        "damper-1": None,
    }
    pull = replace(rig_pull(cast), rig=OWN_RIG, items=items)
    report = record(unit, cast, now, pull)

    assert {line.mark for line in report.lines} == {"Line 1", "Soft 1"}


def test_counts_go_up_by_the_share_of_the_limit(unit: Unit, cast: Cast, now: datetime) -> None:
    items: dict[str, int | None] = {
        "winch-line": cast.items["Line 1"],
        "soft-1": cast.items["Soft 1"],
        "damper-1": None,
    }
    pull = replace(rig_pull(cast), rig=OWN_RIG, items=items)
    for number in range(3):
        at = now + timedelta(minutes=number)
        report = record(unit, cast, at, replace(pull, key=f"pull-{number:04}"))
    soft = by_mark(report)["Soft 1"]

    assert soft.share is not None
    weight = 1.0 if soft.share < 0.25 else 3.0
    assert (soft.use, soft.use_limit) == (3 * weight, 60.0)
    life = kit.item_life(unit, cast.storekeeper.actor, cast.items["Soft 1"], now.date())
    assert life.item.counts.pulls == 3
    assert [line.counted.total for line in life.lines if line.counted] == [
        weight,
        2 * weight,
        3 * weight,
    ]
    assert life.item.counts.first_used == now.date()


def test_a_pull_sent_twice_counts_once(unit: Unit, cast: Cast, now: datetime) -> None:
    first = record(unit, cast, now, rig_pull(cast))
    before = entries(unit)
    again = record(unit, cast, now + timedelta(minutes=5), rig_pull(cast))

    assert (first.was_there, again.was_there) == (False, True)
    assert replace(again, was_there=False) == first
    assert entries(unit) == before


def test_the_same_key_for_another_pull_is_a_conflict(unit: Unit, cast: Cast, now: datetime) -> None:
    record(unit, cast, now, rig_pull(cast))

    with pytest.raises(Conflict, match="other content"):
        record(unit, cast, now, rig_pull(cast, ended="stuck"))
    with pytest.raises(Conflict, match="other content"):
        record(unit, cast, now, declared(cast))


@pytest.mark.parametrize("ended", ["parted", "jerked", "stalled"])
def test_a_bad_end_takes_the_whole_load_path_out_of_use(
    unit: Unit, cast: Cast, now: datetime, ended: str
) -> None:
    report = record(unit, cast, now, rig_pull(cast, ended=ended))

    assert {line.consequence for line in report.lines} <= {"quarantined", "retired"}
    rows = {row.mark: row for row in kit.list_items(unit, cast.storekeeper.actor, now.date())}
    for mark in GIVEN_ITEMS.values():
        assert not rows[mark].due.may_go_out
    assert rows["Bow 2"].due.may_go_out


def test_a_stalled_winch_is_entered_at_what_it_gave(unit: Unit, cast: Cast, now: datetime) -> None:
    solved = solution(unit, cast)
    line = by_mark(record(unit, cast, now, rig_pull(cast, ended="stalled")))["Line 1"]

    assert line.load == pytest.approx(solved.values["pull.stall"])
    assert solved.values["pull.stall"] > solved.values["pull"]


def test_an_item_without_a_legible_rating_is_held_back_with_its_load_path(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    tobin = cast.storekeeper.actor
    new = NewType("Bow, plain", "bow-shackle", wll="3.25 t")
    type_id = register.register_type(unit, tobin, new, now)
    bare = register.register_item(unit, tobin, NewItem(type_id, "Bow 9", is_labelled=False), now)
    pull = rig_pull(cast)
    report = record(unit, cast, now, replace(pull, items={**pull.items, "bow-1": bare}))

    assert {line.consequence for line in report.lines} == {"quarantined"}
    assert by_mark(report)["Bow 9"].size == "unknown"


def test_textile_over_its_limit_retires_and_is_counted(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    tobin = cast.storekeeper.actor
    new = NewType("Thin line", "winch-line", "synthetic", mbs="9 kN")
    type_id = register.register_type(unit, tobin, new, now)
    thin = register.register_item(unit, tobin, NewItem(type_id, "Line 9"), now)
    pull = rig_pull(cast)
    report = record(unit, cast, now, replace(pull, items={**pull.items, "winch-line": thin}))
    lines = by_mark(report)

    assert lines["Line 9"].size == "overload"
    assert lines["Line 9"].consequence == "retired"
    assert lines["Bow 1"].consequence == "quarantined"
    count = kit.retirement_count(unit, tobin)
    assert [(row.kind, row.count) for row in count] == [("winch-line", 1)]


def test_an_item_that_its_pull_retired_is_still_destroyed_by_hand(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    tobin = cast.storekeeper.actor
    type_id = register.register_type(
        unit, tobin, NewType("Thin line", "winch-line", "synthetic", mbs="9 kN"), now
    )
    thin = register.register_item(unit, tobin, NewItem(type_id, "Line 9"), now)
    pull = rig_pull(cast)
    record(unit, cast, now, replace(pull, items={**pull.items, "winch-line": thin}))
    seen = kit.item_life(unit, tobin, thin, now.date()).item.version
    mara = cast.instructor.actor.person_id
    form = kit.Retirement(thin, seen, "overloaded", "cut in three", mara, "retire-1")
    kit.retire(unit, tobin, form, now)

    life = kit.item_life(unit, tobin, thin, now.date())
    assert life.lines[-1].detail == {"destroyed": "cut in three", "witness_id": mara}
    assert life.item.retired_for == "the load was above this item's limit"


def test_correcting_a_pull_that_was_another_items_takes_back_what_it_brought(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    record(unit, cast, now, rig_pull(cast, ended="parted"))
    item_id = cast.items["Bow 1"]
    wrong = next(
        line
        for line in kit.item_life(unit, cast.storekeeper.actor, item_id, now.date()).lines
        if line.kind == "pull"
    )
    correction = Correction(wrong.entry_id, "it was Bow 2", "correct-1")
    kit.correct(unit, cast.storekeeper.actor, correction, now)
    found = kit.item_life(unit, cast.storekeeper.actor, item_id, now.date()).item

    assert (found.status, found.counts.pulls) == ("in-store", 0)
    assert verify(unit, cast.storekeeper.actor).holds


@pytest.mark.parametrize(("size", "use"), [("light", 1.0), ("heavy", 3.0)])
def test_a_pull_is_declared_light_or_heavy(
    unit: Unit, cast: Cast, now: datetime, size: str, use: float
) -> None:
    line = record(unit, cast, now, declared(cast, size=size)).lines[0]

    assert (line.size, line.use, line.load) == (size, use, None)
    assert (line.origin, line.consequence) == (Origin.DECLARED, None)


def test_a_rope_rests_after_its_pull_and_a_shackle_does_not(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    rope = record(unit, cast, now, declared(cast)).lines[0]
    bow = record(unit, cast, now, replace(declared(cast, "Bow 1"), key="pull-0002")).lines[0]

    assert rope.rest_until == now + timedelta(minutes=10)
    assert bow.rest_until is None


def test_a_pull_of_unknown_size_holds_the_item_back(unit: Unit, cast: Cast, now: datetime) -> None:
    line = record(unit, cast, now, declared(cast, size="unknown")).lines[0]

    assert (line.use, line.consequence) == (3.0, "quarantined")


def test_the_last_pull_of_its_life_makes_a_rope_due(unit: Unit, cast: Cast, now: datetime) -> None:
    for number in range(10):
        pull = replace(declared(cast), key=f"pull-{number:04}")
        record(unit, cast, now + timedelta(minutes=15 * number), pull)
    row = kit.item_life(unit, cast.storekeeper.actor, cast.items["Rope 1"], now.date()).item

    assert (row.use, row.use_limit) == (30.0, 30.0)
    assert row.due.is_to_retire
    assert dict(row.due.left.pulls) == {"light": 0, "heavy": 0}


def test_what_was_recorded_can_be_looked_at_again(unit: Unit, cast: Cast, now: datetime) -> None:
    report = record(unit, cast, now, rig_pull(cast))

    assert pulls.pull_report(unit, cast.instructor.actor, report.pull_id) == report


def test_the_form_offers_what_may_go_out_first(unit: Unit, cast: Cast, now: datetime) -> None:
    hold(unit, cast, "Bow 1")
    found = pulls.rig_items(unit, cast.instructor.actor, cast.version_id, "given", now.date())

    assert [(item.gear_id, item.kind) for item in found] == [
        ("winch-line", "winch-line"),
        ("bow-1", "bow-shackle"),
        ("damper-1", "line-damper"),
    ]
    assert [row.mark for row in found[1].candidates] == ["Bow 2", "Bow 1"]
