"""Pulls written up after the day: they count when they were made, and are marked as late."""

from datetime import datetime, timedelta
from io import BytesIO
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from flask import Flask
from freezegun.api import FrozenDateTimeFactory

from coursekit.services import kit
from coursekit.store.unit import Unit
from tests.cast import NOW, Cast
from tests.shell.cell_files import swing, written
from tests.web.conftest import signed_in
from tests.web.visitor import Visitor

# The cast's school keeps British Summer Time, an hour ahead of UTC: it is 09:30 there.
DECLARED = {"method": "kinetic", "size": "heavy", "ended": "came-free"}


@pytest.fixture
def item(cast: Cast) -> str:
    return f"/classes/{cast.class_id}/pulls/item"


@pytest.fixture
def log(cast: Cast) -> str:
    return f"/classes/{cast.class_id}/pulls/rig?scenario={cast.class_scenario_id}&rig=given"


def life_of(unit: Unit, cast: Cast, mark: str, now: datetime) -> kit.ItemLife:
    return kit.item_life(unit, cast.storekeeper.actor, cast.items[mark], now.date())


def test_yesterdays_pull_counts_yesterday_by_the_schools_clock(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, item: str
) -> None:
    """Both would count today if the form had no time, and none would be marked."""
    rope = str(cast.items["Rope 1"])
    instructor.open(item).send(item_id=rope, at="2026-06-11T00:30", **DECLARED)
    line = life_of(unit, cast, "Rope 1", now).lines[-1]

    # Half past midnight in London in June is the day before in UTC.
    assert line.at == datetime(2026, 6, 10, 23, 30, tzinfo=ZoneInfo("UTC"))
    assert str(line.day) == "2026-06-11"
    assert "11 Jun 2026 00:30" in instructor.html
    assert "entered late" in instructor.html
    assert "entered late" in instructor.open(f"/kit/items/{rope}").html
    assert "entered late" in instructor.open(f"/classes/{cast.class_id}").html


def test_a_pull_of_a_rig_takes_its_own_time_and_none_is_now(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, log: str
) -> None:
    instructor.open(log).send(ended="came-free", at="2026-06-13T08:05")
    assert "entered late" not in instructor.html
    instructor.open(log).send(ended="came-free")
    pulls = [line for line in life_of(unit, cast, "Line 1", now).lines if line.kind == "pull"]

    assert [line.at for line in pulls] == [now.replace(hour=7, minute=5), now]


def test_a_pull_of_a_load_cell_takes_its_own_time(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, log: str
) -> None:
    file: Any = [(BytesIO(written(swing(9.0))), "pull-7.csv")]
    instructor.open(log.replace("/rig?", "/measured?"))
    told = {"ended": "came-free", "place": "bow-1", "at": "2026-06-12T15:00"}
    instructor.send(file=file, try_it="1", **told)
    instructor.send(log_it="1")
    line = life_of(unit, cast, "Line 1", now).lines[-1]

    assert line.at == datetime(2026, 6, 12, 14, 0, tzinfo=ZoneInfo("UTC"))


@pytest.mark.parametrize(
    ("at", "told"),
    [
        ("2026-06-13T09:33", "It lies in the future"),
        ("9999-12-31T23:59", "It lies in the future"),
        ("0001-01-01T00:00", "The item is not in the register yet"),
        ("yesterday", "Write a date and a time of day"),
        ("2026-03-29T01:30", "The clocks go forward over this time"),
        ("2026-06-01T09:00", "The item is not in the register yet"),
    ],
)
def test_a_time_that_can_not_be_is_told_beside_its_control_and_kept(
    instructor: Visitor, unit: Unit, cast: Cast, item: str, at: str, told: str
) -> None:
    """British Summer Time began on 29 March 2026 at 01:00 UTC (Summer Time Act 1972)."""
    before = len(life_of(unit, cast, "Rope 1", NOW).lines)
    instructor.open(item).send(item_id=str(cast.items["Rope 1"]), at=at, **DECLARED)

    assert instructor.status == 422
    assert told in " ".join(instructor.errors)
    assert instructor.value("at") == at
    assert len(life_of(unit, cast, "Rope 1", NOW).lines) == before


def test_what_a_late_pull_puts_in_doubt_is_held_though_it_was_let_out_since(
    app: Flask, clock: FrozenDateTimeFactory, unit: Unit, cast: Cast, now: datetime, item: str
) -> None:
    """Held as of yesterday it would be released by what was found for another reason."""
    rope, mara, tobin = cast.items["Rope 1"], cast.instructor.actor, cast.storekeeper.actor
    yesterday = now - timedelta(hours=20)
    seen = life_of(unit, cast, "Rope 1", now).item.version
    doubt = kit.Change(rope, seen, "mud in the eye", "held-for-mud")
    kit.quarantine(unit, mara, doubt, yesterday + timedelta(hours=1))
    clean = kit.Change(rope, seen + 1, "washed and seen", "let-out-again")
    kit.release(unit, tobin, clean, yesterday + timedelta(hours=2))
    instructor = signed_in(app, cast.instructor.sign_in_name, cast).open(item)
    typed = yesterday.astimezone(ZoneInfo("Europe/London")).strftime("%Y-%m-%dT%H:%M")
    instructor.send(item_id=str(rope), at=typed, **{**DECLARED, "size": "unknown"})

    assert life_of(unit, cast, "Rope 1", now).item.status == "quarantined"
