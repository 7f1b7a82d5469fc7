"""How long an item still rests after a pull, and how old it is: told where it is needed."""

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from flask import Flask
from freezegun.api import FrozenDateTimeFactory

from coursekit.services import pulls, register
from coursekit.services.pulls import DeclaredPull
from coursekit.services.register import NewItem, NewType
from coursekit.store.unit import Unit
from coursekit.wear.policy import default_policy
from tests.cast import Cast
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor

# Common practice, no source: ten minutes. The last pull was at 09:30 in London, 08:30 UTC.
RESTS = "rests until 09:40"


@pytest.fixture
def pulled(unit: Unit, cast: Cast, now: datetime) -> int:
    """The kinetic rope after a pull that was made just now."""
    rope = cast.items["Rope 1"]
    pull = DeclaredPull(cast.class_id, rope, "kinetic", "heavy", "came-free", "one-pull")
    return pulls.record_declared_pull(unit, cast.instructor.actor, pull, now).pull_id


def test_the_report_the_item_and_the_form_tell_until_when_it_rests(
    instructor: Visitor, cast: Cast, pulled: int
) -> None:
    report = f"/classes/{cast.class_id}/pulls/{pulled}"
    assert RESTS in instructor.open(report).html
    assert RESTS in instructor.open(f"/kit/items/{cast.items['Rope 1']}").html
    form = instructor.open(f"/classes/{cast.class_id}/pulls/item")
    assert f"Still at rest after a pull: Rope 1 {RESTS}." in form.html


@pytest.mark.parametrize("page", ["rig", "measured", "hold-point"])
def test_a_rig_tells_which_of_the_items_it_may_be_made_of_still_rest(
    instructor: Visitor, unit: Unit, cast: Cast, now: datetime, pulled: int, page: str
) -> None:
    """The rope rests as well, but no rig of the ford has one."""
    tobin = cast.storekeeper.actor
    rule = replace(default_policy("winch-line"), rest_minutes=10)
    line = NewType("line that rests", "winch-line", "synthetic", mbs="88 kN", policy=rule)
    type_id = register.register_type(unit, tobin, line, now)
    item = register.register_item(unit, tobin, NewItem(type_id, "Line 9", made=now.date()), now)
    pull = DeclaredPull(cast.class_id, item, "winch", "light", "came-free", "its-pull")
    pulls.record_declared_pull(unit, cast.instructor.actor, pull, now)
    rig = f"?scenario={cast.class_scenario_id}&rig=given"
    instructor.open(f"/classes/{cast.class_id}/pulls/{page}{rig}")

    assert f"Still at rest after a pull: Line 9 {RESTS}." in instructor.html


def test_once_its_rest_is_over_nothing_is_told(
    app: Flask, clock: FrozenDateTimeFactory, cast: Cast, now: datetime, pulled: int
) -> None:
    clock.move_to(now + timedelta(minutes=10))
    instructor = on_the_device_of(app, cast.instructor)
    for path in (f"/classes/{cast.class_id}/pulls/item", f"/kit/items/{cast.items['Rope 1']}"):
        assert "rests until" not in instructor.open(path).html


def test_an_items_ages_stand_in_one_line(
    storekeeper: Visitor, cast: Cast, now: datetime, pulled: int
) -> None:
    """Made on 15 January, examined a week ago, first pulled today, 13 June."""
    told = "149 days since made, 0 days since first use, 7 days since its last examination"

    assert told in storekeeper.open(f"/kit/items/{cast.items['Rope 1']}").html
    # 16 days of January, 28, 31, 30, 31, and 13 of June.
    assert 16 + 28 + 31 + 30 + 31 + 13 == 149
