"""A rope's stiffness by its measured pulls, from the peaks of the files to the fit."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from sqlalchemy import select

from coursekit.services import kit, measuring, stiffness
from coursekit.services.errors import RoleNeeded
from coursekit.services.kit import Correction
from coursekit.store.tables import LedgerEntry
from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.reference.sources import independent
from tests.shell.snatches import STATED, recorded, snatched


@independent("equations of motion integrated by scipy's solve_ivp, events located")
@pytest.mark.parametrize("factor", [0.8, 1.4])
def test_the_factor_of_the_measured_peaks_is_found(
    unit: Unit, cast: Cast, now: datetime, factor: float
) -> None:
    recorded(unit, cast, now, factor, 1.5, 2.0, 2.5)
    rope = stiffness.rope_stiffness(unit, cast.storekeeper.actor, cast.items["Rope 1"], now.date())

    assert rope is not None
    assert rope.fit is not None
    assert rope.stated == pytest.approx(STATED)
    assert rope.fit.factor == pytest.approx(factor, rel=1e-3)
    assert [peak.speed for peak in rope.peaks] == [1.5, 2.0, 2.5]
    for peak in rope.peaks:
        assert peak.fitted == pytest.approx(peak.measured, rel=1e-3)
        assert (peak.stated > peak.measured) == (factor < 1.0)


@independent("equations of motion integrated by scipy's solve_ivp, events located")
@pytest.mark.parametrize("interval", [0.05, 0.1, 0.15])
def test_what_two_readings_may_miss_makes_no_rope_stiffer(
    unit: Unit, cast: Cast, now: datetime, interval: float
) -> None:
    """The safe side of a load, up to a fifth on it here, is no measure of the rope."""
    for number, speed in enumerate((1.5, 2.0, 2.5)):
        pull = snatched(cast, speed, 1.0, number)
        seldom = replace(pull, reading=replace(pull.reading, interval=interval))
        measuring.record_measured_pull(unit, cast.instructor.actor, seldom, now)
    rope = stiffness.rope_stiffness(unit, cast.instructor.actor, cast.items["Rope 1"], now.date())

    assert rope is not None
    assert rope.fit is not None
    assert rope.fit.factor == pytest.approx(1.0, rel=1e-3)


@pytest.mark.parametrize("peak", [20_000.0, 45_000.0])
def test_a_pull_that_cut_the_cell_off_says_nothing_of_the_rope(
    unit: Unit, cast: Cast, now: datetime, peak: float
) -> None:
    """Its load is not known; above the rope's limit of 41.7 kN it is known to be an overload."""
    recorded(unit, cast, now, 1.4, 1.5)
    pull, mara = snatched(cast, 2.5, 1.4, 7), cast.instructor.actor
    flat = replace(pull.reading, peak=peak, flat=0.3)
    report = measuring.record_measured_pull(unit, mara, replace(pull, reading=flat), now)
    rope = stiffness.rope_stiffness(unit, mara, cast.items["Rope 1"], now.date())

    assert all(line.cell is not None and line.cell.is_cut for line in report.lines)
    assert rope is not None
    assert [one.speed for one in rope.peaks] == [1.5]
    assert rope.fit is not None
    assert rope.fit.factor == pytest.approx(1.4, rel=1e-3)


def test_a_pull_that_was_reversed_is_left_out(unit: Unit, cast: Cast, now: datetime) -> None:
    recorded(unit, cast, now, 1.4, 1.5, 2.0)
    rope_id, mara = cast.items["Rope 1"], cast.instructor.actor
    with unit.read() as session:
        of_rope = LedgerEntry.item_id == rope_id, LedgerEntry.kind == "pull"
        first, second = session.scalars(
            select(LedgerEntry.id).where(*of_rope).order_by(LedgerEntry.seq)
        )
    kit.correct(unit, mara, Correction(first, "the cell had slipped", "undo-0001"), now)
    rope = stiffness.rope_stiffness(unit, mara, rope_id, now.date())
    assert rope is not None
    assert [peak.speed for peak in rope.peaks] == [2.0]

    kit.correct(unit, mara, Correction(second, "the cell had slipped", "undo-0002"), now)
    assert stiffness.rope_stiffness(unit, mara, rope_id, now.date()) is None


def test_only_what_stretches_has_a_stiffness(unit: Unit, cast: Cast, now: datetime) -> None:
    recorded(unit, cast, now, 1.4, 2.0)

    for mark in ("Bow 1", "Line 1"):
        actor, item_id = cast.instructor.actor, cast.items[mark]
        assert stiffness.rope_stiffness(unit, actor, item_id, now.date()) is None


def test_another_school_and_students_learn_nothing(unit: Unit, cast: Cast, now: datetime) -> None:
    recorded(unit, cast, now, 1.4, 2.0)
    rope_id = cast.items["Rope 1"]

    assert stiffness.rope_stiffness(unit, cast.outsider.actor, rope_id, now.date()) is None
    with pytest.raises(RoleNeeded):
        stiffness.rope_stiffness(unit, cast.student.actor, rope_id, now.date())


def test_the_speed_of_the_rig_is_taken_where_none_was_measured(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    pull = replace(snatched(cast, 2.0, 1.0, 1), speed=None)
    measuring.record_measured_pull(unit, cast.instructor.actor, pull, now)
    rope = stiffness.rope_stiffness(unit, cast.instructor.actor, cast.items["Rope 1"], now.date())

    assert rope is not None
    assert rope.peaks[0].speed == pytest.approx(2.0)
    assert rope.peaks[0].measured == pytest.approx(rope.peaks[0].stated, rel=1e-3)
