"""An examination that is written up after it was done keeps its own time."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from coursekit.services import inspecting, kit
from coursekit.services.errors import Conflict
from coursekit.store.unit import Unit
from coursekit.wear.lists import list_for
from tests.cast import TODAY, Cast
from tests.looks import examined
from tests.web.visitor import Visitor

FINE = {f"seen-{each.key}": "fine" for each in list_for("bow-shackle").criteria}


@pytest.fixture
def bow(cast: Cast) -> str:
    return f"/kit/items/{cast.items['Bow 1']}"


def life_of(unit: Unit, cast: Cast) -> kit.ItemLife:
    return kit.item_life(unit, cast.storekeeper.actor, cast.items["Bow 1"], TODAY)


def test_the_next_examination_is_due_from_the_day_it_was_done(
    storekeeper: Visitor, unit: Unit, cast: Cast, bow: str
) -> None:
    """By the time it is written up it would be due two days too late."""
    storekeeper.open(f"{bow}/inspect").send(at="2026-06-11T16:00", **FINE)
    line = life_of(unit, cast).lines[-1]

    assert line.at == datetime(2026, 6, 11, 15, 0, tzinfo=UTC)
    assert line.is_late
    assert "entered late" in storekeeper.html
    # LOLER 1998 reg. 9(3)(a): lifting accessories at least every six months.
    assert str(life_of(unit, cast).item.due.reasons[0].on) == "2026-12-11"


@pytest.mark.parametrize(
    ("at", "told"),
    [
        ("2026-06-13T09:40", "It lies in the future"),
        ("2026-06-01T09:00", "The item is not in the register yet"),
    ],
)
def test_a_time_that_can_not_be_is_told_beside_it_and_nothing_is_lost(
    storekeeper: Visitor, unit: Unit, cast: Cast, bow: str, at: str, told: str
) -> None:
    storekeeper.open(f"{bow}/inspect").send(at=at, **FINE)

    assert storekeeper.status == 422
    assert told in " ".join(storekeeper.errors)
    assert storekeeper.value("at") == at
    assert storekeeper.value("seen-threads") == "fine"
    assert len(life_of(unit, cast).lines) == 2


def test_what_failed_then_is_held_from_now_on_whatever_was_let_out_since(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    mara, tobin, bow = cast.instructor.actor, cast.storekeeper.actor, cast.items["Bow 1"]
    kit.quarantine(unit, mara, kit.Change(bow, 2, "mud", "held-for-mud"), now - timedelta(hours=9))
    kit.release(unit, tobin, kit.Change(bow, 3, "clean", "let-out-1"), now - timedelta(hours=8))
    failed = examined("bow-shackle", bow, 4, "look-late", found="doubt")
    late = replace(failed, findings="bent", at=now - timedelta(hours=10))
    inspecting.inspect(unit, tobin, late, now)

    assert life_of(unit, cast).item.status == "quarantined"
    # Sent again it is known; with another time it is another examination.
    inspecting.inspect(unit, tobin, late, now)
    with pytest.raises(Conflict):
        inspecting.inspect(unit, tobin, replace(late, at=now - timedelta(days=1)), now)
