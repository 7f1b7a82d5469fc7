"""The look before a class is kept: it clears what is looked over on each day of a class."""

from datetime import datetime, timedelta

from sqlalchemy import select

from coursekit.services import issuing, kit
from coursekit.services.accounting import verify
from coursekit.services.issuing import GiveBack, Issue
from coursekit.store.chain import hash_of
from coursekit.store.tables import LedgerEntry
from coursekit.store.unit import Unit
from tests.cast import TODAY, Cast
from tests.kit_acts import LOOKED
from tests.web.visitor import Visitor


def given_out_and_back(who: Visitor, unit: Unit, cast: Cast, now: datetime) -> None:
    who.open(f"/kit/classes/{cast.class_id}")
    who.send(action=f"/kit/classes/{cast.class_id}", **LOOKED)
    back = GiveBack(cast.class_id, {cast.items["Line 1"]: "clean"}, {}, "back-again")
    issuing.give_back(unit, cast.storekeeper.actor, back, now)


def test_the_ticks_of_the_counter_clear_a_winch_line_for_the_day_and_no_longer(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    """Without them a line that was looked at this morning still asks to be looked over."""
    line = f"/kit/items/{cast.items['Line 1']}"
    assert "look over before use" in storekeeper.open(line).html
    given_out_and_back(storekeeper, unit, cast, now)

    assert "look over before use" not in storekeeper.open(line).html
    assert "looked over · Saturday group" in storekeeper.html
    tomorrow = TODAY + timedelta(days=1)
    life = kit.item_life(unit, cast.storekeeper.actor, cast.items["Line 1"], tomorrow)
    assert life.item.due.look_over


def test_the_entry_keeps_which_checks_were_ticked_and_the_accounts_hold(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    given_out_and_back(storekeeper, unit, cast, now)
    life = kit.item_life(unit, cast.storekeeper.actor, cast.items["Line 1"], TODAY)
    issued = next(line for line in life.lines if line.kind == "issued")

    assert issued.detail["looked"] == ["labels", "looks", "clean"]
    assert verify(unit, cast.storekeeper.actor).holds


def test_an_entry_of_before_says_nothing_of_a_look_and_keeps_its_hash(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    out = Issue(cast.class_id, (cast.items["Line 1"],), "as-before")
    issuing.issue(unit, cast.storekeeper.actor, out, now)
    with unit.read() as session:
        entry = session.scalars(select(LedgerEntry).where(LedgerEntry.kind == "issued")).one()
        assert set(entry.detail) == {"pulls", "plan"}
        assert entry.hash == hash_of(entry)
    item = kit.item_life(unit, cast.storekeeper.actor, cast.items["Line 1"], TODAY).item
    assert item.due.look_over


def test_a_reversed_issue_clears_nothing(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    storekeeper.open(f"/kit/classes/{cast.class_id}")
    storekeeper.send(action=f"/kit/classes/{cast.class_id}", **LOOKED)
    tobin, line = cast.storekeeper.actor, cast.items["Line 1"]
    issued = kit.item_life(unit, tobin, line, TODAY).lines[-1]
    kit.correct(unit, tobin, kit.Correction(issued.entry_id, "another went", "wrong-one"), now)

    assert kit.item_life(unit, tobin, line, TODAY).item.due.look_over
