"""What an item was exposed to is kept in its life; heat and chemicals hold textile."""

import pytest

from coursekit.services import inspecting, kit, register
from coursekit.services.accounting import verify
from coursekit.services.errors import Refused
from coursekit.services.register import NewItem, NewType
from coursekit.store.unit import Unit
from tests.cast import NOW, TODAY, Cast
from tests.looks import examined
from tests.web.visitor import Visitor


def page_of(cast: Cast, mark: str) -> str:
    return f"/kit/items/{cast.items[mark]}"


def life_of(unit: Unit, cast: Cast, mark: str) -> kit.ItemLife:
    return kit.item_life(unit, cast.storekeeper.actor, cast.items[mark], TODAY)


@pytest.mark.parametrize("what", ["heat", "chemical"])
def test_heat_and_chemicals_hold_textile(
    storekeeper: Visitor, unit: Unit, cast: Cast, what: str
) -> None:
    """29 CFR 1910.184(i)(9): a sling with acid or caustic burns, or melted, is removed."""
    storekeeper.open(f"{page_of(cast, 'Rope 1')}/exposure")
    storekeeper.send(what=what, told="lay on the exhaust for a minute")
    found = life_of(unit, cast, "Rope 1")

    assert storekeeper.heading == "Rope 1: in quarantine"
    assert [line.kind for line in found.lines[-2:]] == ["exposure", "quarantined"]
    assert found.lines[-1].reason == "lay on the exhaust for a minute"
    assert verify(unit, cast.storekeeper.actor).holds


def test_what_heat_held_passes_an_examination_before_it_is_let_out(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    """LOLER 1998 reg. 9(3)(a)(iv): examined after exceptional circumstances."""
    mara, rope = cast.instructor.actor, cast.items["Rope 1"]
    storekeeper.open(f"{page_of(cast, 'Rope 1')}/exposure").send(what="heat", told="the exhaust")

    def let_out(key: str) -> None:
        seen = life_of(unit, cast, "Rope 1").item.version
        kit.release(unit, mara, kit.Change(rope, seen, "looks sound", key), NOW)

    with pytest.raises(Refused, match="since it was exposed to heat or a chemical"):
        let_out("too-early")
    seen = life_of(unit, cast, "Rope 1").item.version
    inspecting.inspect(unit, mara, examined("kinetic-rope", rope, seen, "looked-at-it"), NOW)
    let_out("in-time-1")
    assert life_of(unit, cast, "Rope 1").item.status == "in-store"


@pytest.mark.parametrize(
    ("mark", "what"), [("Bow 1", "heat"), ("Rope 1", "wet"), ("Rope 1", "mud")]
)
def test_what_weakens_nothing_by_itself_is_only_kept(
    storekeeper: Visitor, unit: Unit, cast: Cast, mark: str, what: str
) -> None:
    storekeeper.open(f"{page_of(cast, mark)}/exposure").send(what=what, told="the ford")

    assert life_of(unit, cast, mark).item.status == "in-store"
    assert life_of(unit, cast, mark).lines[-1].kind == "exposure"


def test_the_life_tells_how_often_and_how_long(storekeeper: Visitor, cast: Cast) -> None:
    for what, hours in (("sun", "6"), ("wet", ""), ("sun", "8"), ("wet", "")):
        storekeeper.open(f"{page_of(cast, 'Rope 1')}/exposure").send(what=what, hours=hours)

    assert "water: 2 times, the sun: 14 h" in storekeeper.html
    assert "the sun, 6 h" in storekeeper.html


def test_yesterdays_exposure_keeps_its_time(storekeeper: Visitor, unit: Unit, cast: Cast) -> None:
    storekeeper.open(f"{page_of(cast, 'Rope 1')}/exposure")
    storekeeper.send(what="mud", at="2026-06-11T12:00")

    assert life_of(unit, cast, "Rope 1").lines[-1].is_late


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({}, "Fill this in."),
        ({"what": "heat"}, "It is empty. Fill it in."),
        ({"what": "sun"}, "Write for how many hours it lay in the sun."),
        ({"what": "wet", "hours": "3"}, "Hours are told of the sun alone."),
        ({"what": "sun", "hours": "5001"}, "A whole number from 1 to 5000."),
        ({"what": "wet", "at": "2026-06-14T12:00"}, "It lies in the future."),
        ({"what": "wet", "at": "2026-06-01T12:00"}, "The item is not in the register yet"),
    ],
)
def test_what_does_not_fit_is_told_beside_its_control_and_kept(
    storekeeper: Visitor, unit: Unit, cast: Cast, typed: dict[str, str], told: str
) -> None:
    storekeeper.open(f"{page_of(cast, 'Rope 1')}/exposure").send(**typed)

    assert storekeeper.status == 422
    assert told in " ".join(storekeeper.errors)
    assert len(life_of(unit, cast, "Rope 1").lines) == 2


def test_the_form_sent_twice_counts_once(storekeeper: Visitor, unit: Unit, cast: Cast) -> None:
    page = storekeeper.open(f"{page_of(cast, 'Rope 1')}/exposure").response
    for _time in range(2):
        storekeeper.response = page
        storekeeper.send(what="heat", told="the exhaust")

    assert len(life_of(unit, cast, "Rope 1").lines) == 4


def test_the_makers_instructions_stand_on_the_item_and_where_it_goes_out(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    """They go before every list of ours; only the form of the examination showed them."""
    tobin = cast.storekeeper.actor
    said = "Wash it in clear water."
    line = NewType("line 30", "winch-line", "synthetic", mbs="88 kN", instructions=said)
    type_id = register.register_type(unit, tobin, line, NOW)
    item = register.register_item(unit, tobin, NewItem(type_id, "Line 9", made=TODAY), NOW)
    first = examined("winch-line", item, 1, "look-of-nine", material="synthetic")
    inspecting.inspect(unit, tobin, first, NOW)

    assert said in storekeeper.open(f"/kit/items/{item}").html
    assert said in storekeeper.open(f"/kit/items/{item}/issue").html
    assert said in storekeeper.open(f"/kit/classes/{cast.class_id}").html
    assert said not in storekeeper.open(page_of(cast, "Line 1")).html
