"""What the register knows of an item's length and rating goes into rigs and pulls."""

from dataclasses import replace
from datetime import date, datetime

import pytest

from coursekit.services import inspecting, kit, pulls, register
from coursekit.services.kit_list import KitList, kit_list
from coursekit.services.pulls import DeclaredPull
from coursekit.services.register import NewItem, NewType
from coursekit.store.unit import Unit
from coursekit.wear.policy import PowerPolicy, default_policy
from tests.cast import TODAY, Cast
from tests.kit_acts import hold
from tests.looks import examined

LINE = NewType("Winch line, spare", "winch-line", "synthetic", mbs="88 kN")


def registered(unit: Unit, cast: Cast, now: datetime, new: NewType, mark: str) -> int:
    """Return an item of a new type, examined and fit to go out."""
    tobin = cast.storekeeper.actor
    type_id = register.register_type(unit, tobin, new, now)
    item = NewItem(type_id, mark, made=date(2026, 1, 1))
    item_id = register.register_item(unit, tobin, item, now)
    look = examined(new.kind, item_id, 1, f"first-look-{item_id}", material=new.material)
    inspecting.inspect(unit, tobin, look, now)
    return item_id


def listed(unit: Unit, cast: Cast) -> KitList:
    return kit_list(unit, cast.storekeeper.actor, cast.class_id, TODAY)


def test_a_line_that_does_not_reach_is_not_proposed(unit: Unit, cast: Cast, now: datetime) -> None:
    # The winch stands 22 m from the stuck vehicle, and its line passes an anchor beyond.
    hold(unit, cast, "Line 1")
    registered(unit, cast, now, replace(LINE, length="5 m"), "Short line")

    (one,) = listed(unit, cast).rigs
    assert one.rig is None
    assert {finding.rule for finding in one.stops} >= {"line-too-short"}


def test_of_two_lines_the_one_that_is_long_enough_is_taken(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    hold(unit, cast, "Line 1")
    registered(unit, cast, now, replace(LINE, length="5 m"), "A short line")
    long = replace(LINE, name="Winch line, long", length="30 m")
    registered(unit, cast, now, long, "B long line")

    (one,) = listed(unit, cast).rigs
    assert one.rig is not None
    assert one.items["winch-line"].mark == "B long line"


def test_a_length_that_nobody_stated_is_told_not_to_be_checked(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    (one,) = listed(unit, cast).rigs
    assert {row.mark for row in one.unmeasured} == {"Line 1"}

    hold(unit, cast, "Line 1")
    registered(unit, cast, now, replace(LINE, length="30 m"), "Long line")
    (one,) = listed(unit, cast).rigs
    assert one.unmeasured == ()


@pytest.mark.parametrize(
    ("size", "use"),
    [
        # MBS 130 kN over the factor 3 (common practice, no source) is 43.33 kN; light is
        # taken for a quarter of it, heavy for all of it: (43.33 / 39)^5 by hand.
        ("light", (130.0 / 3 / 4 / 39.0) ** 5),
        ("heavy", (130.0 / 3 / 39.0) ** 5),
        # Of an unknown load nothing is known, so it takes the whole life.
        ("unknown", 20_711.0 / 60.0),
    ],
)
def test_a_declared_pull_is_a_share_of_the_items_own_limit_where_loads_are_weighed(
    unit: Unit, cast: Cast, now: datetime, size: str, use: float
) -> None:
    rule = replace(
        default_policy("kinetic-rope"), counting=PowerPolicy(39_000.0, 5.0, 20_711.0, 60.0)
    )
    rope = NewType("Rope by power", "kinetic-rope", mbs="130 kN", policy=rule)
    item_id = registered(unit, cast, now, rope, "Rope 9")
    pull = DeclaredPull(cast.class_id, item_id, "kinetic", size, "came-free", "pull-of-rope-9")
    pulls.record_declared_pull(unit, cast.instructor.actor, pull, now)

    item = kit.item_life(unit, cast.storekeeper.actor, item_id, TODAY).item
    assert item.use == pytest.approx(use)
    assert item.due.is_to_retire is (size == "unknown")
