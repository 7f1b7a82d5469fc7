"""Pulls that a load cell measured: every item bears its share of what was really pulled."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from sqlalchemy import select

from coursekit.problems import Problems
from coursekit.rigging.solver import solve
from coursekit.services import kit, measuring, preparing, pulls, teaching
from coursekit.services.accounting import verify
from coursekit.services.errors import Conflict, NotFound, Refused, RoleNeeded
from coursekit.services.kit import Correction
from coursekit.services.measuring import MeasuredPull
from coursekit.services.teaching import NewClass, ScenarioChoice
from coursekit.store import queries
from coursekit.store.engine import migrate, migrate_down, open_engine
from coursekit.store.tables import LedgerEntry
from coursekit.store.unit import Unit
from coursekit.wear.consequences import UNKNOWN_LOAD
from coursekit.wear.ledger import Origin
from coursekit.wear.measured import CellReading
from tests.cast import Cast
from tests.shell.classroom import rig_pull
from tests.shell.statements import counted

READING = CellReading(
    sha256="5e" * 32,
    peak=9_000.0,
    peak_time=1.25,
    interval=0.01,
    samples=400,
    rate=100.0,
    unit="kN",
)


def measured(cast: Cast, key: str = "cell-0001", peak: float = 9_000.0) -> MeasuredPull:
    pull = rig_pull(cast, key)
    return MeasuredPull(**vars(pull), reading=replace(READING, peak=peak), place="bow-1")


def entries(unit: Unit) -> list[LedgerEntry]:
    with unit.read() as session:
        return list(session.scalars(select(LedgerEntry).order_by(LedgerEntry.seq)))


def test_the_item_beside_the_cell_bears_what_was_measured_the_others_their_share(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    version = preparing.scenario_version(unit, cast.instructor.actor, cast.version_id)
    solved = solve(version.scenario.situation, version.scenario.rigs["given"]).values
    report = measuring.record_measured_pull(unit, cast.instructor.actor, measured(cast), now)
    lines = {line.mark: line for line in report.lines}

    assert lines["Bow 1"].load == pytest.approx(9_000.0)
    share = 9_000.0 / solved["item.bow-1.load"]
    assert lines["Line 1"].load == pytest.approx(solved["item.winch-line.load"] * share)
    assert lines["Damper 1"].load == 0.0
    assert {line.origin for line in report.lines} == {Origin.MEASURED}


def test_the_dry_run_tells_the_same_loads_and_writes_nothing(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    before = len(entries(unit))
    tried = measuring.try_measured_pull(unit, cast.instructor.actor, measured(cast), now)
    assert len(entries(unit)) == before
    report = measuring.record_measured_pull(unit, cast.instructor.actor, measured(cast), now)

    assert {felt.kit.mark: felt.pull.load for felt in tried.felt} == {
        line.mark: line.load for line in report.lines
    }


def test_every_entry_keeps_what_proves_the_pull_and_the_chain_holds(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    report = measuring.record_measured_pull(unit, cast.instructor.actor, measured(cast), now)
    with unit.read() as session:
        details = session.scalars(
            select(LedgerEntry.detail).where(LedgerEntry.pull_id == report.pull_id)
        ).all()

    assert len(details) == 3
    for detail in details:
        assert detail["cell"]["reading"]["sha256"] == READING.sha256
        assert detail["cell"]["reading"]["peak"] == 9_000.0
        assert detail["cell"]["place"] == "bow-1"
    assert verify(unit, cast.storekeeper.actor).holds
    assert report.lines[0].cell is not None
    assert report.lines[0].cell.reading == READING


def test_sent_five_times_it_counts_once(unit: Unit, cast: Cast, now: datetime) -> None:
    reports = [
        measuring.record_measured_pull(
            unit, cast.instructor.actor, measured(cast), now + timedelta(minutes=number)
        )
        for number in range(5)
    ]

    assert [report.was_there for report in reports] == [False, True, True, True, True]
    assert len({report.pull_id for report in reports}) == 1
    assert len(pulls.pulls_of_class(unit, cast.instructor.actor, cast.class_id)) == 1


def test_the_same_key_with_another_peak_is_a_conflict(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    measuring.record_measured_pull(unit, cast.instructor.actor, measured(cast), now)

    with pytest.raises(Conflict):
        measuring.record_measured_pull(
            unit, cast.instructor.actor, measured(cast, peak=8_000.0), now
        )


def test_the_file_of_a_pull_that_stands_is_refused_until_its_entries_are_reversed(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara = cast.instructor.actor
    measuring.record_measured_pull(unit, mara, measured(cast), now)
    again = measured(cast, key="cell-0002")
    for act in (measuring.try_measured_pull, measuring.record_measured_pull):
        with pytest.raises(Refused, match="logged already"):
            act(unit, mara, again, now)
    for row in entries(unit):
        if row.kind == "pull":
            kit.correct(unit, mara, Correction(row.id, "wrong rig", f"undo-{row.id:04}"), now)

    assert not measuring.record_measured_pull(unit, mara, again, now).was_there


def test_one_file_is_one_pull_in_whatever_class(unit: Unit, cast: Cast, now: datetime) -> None:
    mara = cast.instructor.actor
    measuring.record_measured_pull(unit, mara, measured(cast), now)
    class_id = teaching.create_class(
        unit, mara, NewClass(cast.course_id, "Sunday group", now.date()), now
    )
    teaching.choose_scenarios(unit, mara, ScenarioChoice(class_id, (cast.version_id,), seen=1))
    teaching.open_class(unit, mara, class_id, now)
    elsewhere = replace(measured(cast, key="cell-0002"), class_id=class_id)

    with pytest.raises(Refused, match="logged already"):
        measuring.record_measured_pull(unit, mara, elsewhere, now)


def test_a_file_is_looked_for_among_its_own_pulls_alone(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    measuring.record_measured_pull(unit, cast.instructor.actor, measured(cast), now)
    with unit.read() as session, counted() as statements:
        there = queries.pulls.has_file(session, cast.instructor.actor.school_id, READING.sha256)
        elsewhere = queries.pulls.has_file(session, cast.outsider.actor.school_id, READING.sha256)

    assert (there, elsewhere) == (True, False)
    # What was measured stands in `detail`: no entry's is read, however many there are.
    assert len(statements) == 2
    assert not any("detail" in statement for statement in statements)


def test_the_file_of_a_pull_of_before_the_column_is_known_too(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    measuring.record_measured_pull(unit, cast.instructor.actor, measured(cast), now)
    with unit.read() as session:
        engine = open_engine(session.get_bind().engine.url)
    migrate_down(engine, "r0024")
    migrate(engine)
    engine.dispose()

    with pytest.raises(Refused, match="logged already"):
        measuring.try_measured_pull(
            unit, cast.instructor.actor, measured(cast, key="cell-0002"), now
        )
    assert verify(unit, cast.storekeeper.actor).holds


def test_where_one_item_may_not_be_pulled_nothing_is_written(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    keeper, bow = cast.storekeeper.actor, cast.items["Bow 1"]
    seen = kit.item_life(unit, keeper, bow, now.date()).item.version
    saw = cast.instructor.actor.person_id
    end = kit.Retirement(bow, seen, "bent", "sawn in two", saw, "retire-01")
    kit.retire(unit, keeper, end, now)
    before = len(entries(unit))

    with pytest.raises(Problems, match="retired"):
        measuring.record_measured_pull(unit, cast.instructor.actor, measured(cast), now)
    assert len(entries(unit)) == before
    assert pulls.pulls_of_class(unit, cast.instructor.actor, cast.class_id) == ()


def test_a_load_over_the_limit_takes_the_path_out_of_use(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    report = measuring.record_measured_pull(
        unit, cast.instructor.actor, measured(cast, peak=40_000.0), now
    )
    lines = {line.mark: line for line in report.lines}

    # The bow shackle's WLL of 3.25 t is 31.9 kN.
    assert lines["Bow 1"].size == "overload"
    assert lines["Bow 1"].consequence == "quarantined"


def test_a_pull_that_cut_the_cell_off_is_a_load_that_nobody_knows(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    """The cell stopped at 9 kN: nobody knows how much more the kit bore."""
    pull = measured(cast)
    cut = replace(pull, reading=replace(pull.reading, most=9_050.0))
    report = measuring.record_measured_pull(unit, cast.instructor.actor, cut, now)
    lines = {line.mark: line for line in report.lines}

    assert {lines[mark].load for mark in ("Bow 1", "Line 1")} == {None}
    assert {line.consequence for line in report.lines} == {"quarantined"}
    assert {line.reason for line in report.lines} == {UNKNOWN_LOAD}
    assert all(line.cell is not None and line.cell.is_cut for line in report.lines)


def test_what_is_over_its_limit_even_where_the_cell_was_cut_off_is_overloaded(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    pull = measured(cast, peak=40_000.0)
    cut = replace(pull, reading=replace(pull.reading, most=40_000.0))
    report = measuring.record_measured_pull(unit, cast.instructor.actor, cut, now)
    lines = {line.mark: line for line in report.lines}

    # The bow shackle's WLL of 3.25 t is 31.9 kN; the line's MBS of 88 kN over 2 is 44 kN.
    assert lines["Bow 1"].load == pytest.approx(40_000.0)
    assert lines["Bow 1"].size == "overload"
    assert lines["Line 1"].load is None
    assert {line.consequence for line in report.lines} == {"quarantined"}


@pytest.mark.parametrize("most", [0.0, -5_000.0, float("nan")])
def test_a_cell_without_a_range_is_refused(
    unit: Unit, cast: Cast, now: datetime, most: float
) -> None:
    pull = measured(cast)
    none = replace(pull, reading=replace(pull.reading, most=most))

    with pytest.raises(Problems, match="range of a cell"):
        measuring.record_measured_pull(unit, cast.instructor.actor, none, now)


@pytest.mark.parametrize("place", ["damper-1", "nothing-such"])
def test_a_cell_beside_an_item_without_load_is_refused(
    unit: Unit, cast: Cast, now: datetime, place: str
) -> None:
    pull = replace(measured(cast), place=place)

    with pytest.raises(Problems, match="no load there"):
        measuring.record_measured_pull(unit, cast.instructor.actor, pull, now)


def test_items_of_another_school_are_not_found(unit: Unit, cast: Cast, now: datetime) -> None:
    pull = measured(cast)
    pull = replace(pull, items={**pull.items, "bow-1": 99_999})

    for act in (measuring.try_measured_pull, measuring.record_measured_pull):
        with pytest.raises(NotFound):
            act(unit, cast.instructor.actor, pull, now)


def test_only_an_instructor_logs_it(unit: Unit, cast: Cast, now: datetime) -> None:
    for act in (measuring.try_measured_pull, measuring.record_measured_pull):
        with pytest.raises(RoleNeeded):
            act(unit, cast.storekeeper.actor, measured(cast), now)


@pytest.mark.parametrize("speed", [0.0, -1.0, 40.0, float("nan")])
def test_a_speed_that_nobody_drives_is_refused(
    unit: Unit, cast: Cast, now: datetime, speed: float
) -> None:
    with pytest.raises(Problems, match="closing speed"):
        measuring.record_measured_pull(
            unit, cast.instructor.actor, replace(measured(cast), speed=speed), now
        )
