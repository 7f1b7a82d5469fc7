"""What could go out in the place of an item that stays: of its kind, fit, and as strong."""

from datetime import date, datetime

import pytest

from coursekit.problems import Problems
from coursekit.services import inspecting, issuing, register
from coursekit.services.issuing import Issue
from coursekit.services.register import NewItem, NewType
from coursekit.store.unit import Unit
from tests.cast import TODAY, Cast
from tests.kit_acts import hold
from tests.looks import examined

# Bow 1 is marked WLL 3.25 t and MBS 19.5 t.
OTHERS = {
    "as strong": NewType("as strong", "bow-shackle", wll="3.25 t", mbs="19.5 t"),
    "stronger": NewType("stronger", "bow-shackle", wll="4.75 t", mbs="28.5 t"),
    "much stronger": NewType("much stronger", "bow-shackle", wll="9.5 t", mbs="57 t"),
    "less WLL": NewType("less WLL", "bow-shackle", wll="3.2 t", mbs="57 t"),
    "less MBS": NewType("less MBS", "bow-shackle", wll="9.5 t", mbs="19 t"),
    "no MBS": NewType("no MBS", "bow-shackle", wll="9.5 t"),
    "bare": NewType("bare", "bow-shackle"),
    "hook": NewType("hook", "hook", wll="9.5 t", mbs="57 t"),
}


def stocked(unit: Unit, cast: Cast, now: datetime, new: NewType) -> None:
    """Register an item of a type that was examined and may go out."""
    tobin = cast.storekeeper.actor
    type_id = register.register_type(unit, tobin, new, now)
    item = NewItem(type_id, new.name, made=date(2026, 1, 1))
    item_id = register.register_item(unit, tobin, item, now)
    look = examined(new.kind, item_id, 1, f"first-look-{item_id}")
    inspecting.inspect(unit, tobin, look, now)


def instead(unit: Unit, cast: Cast, mark: str = "Bow 1") -> list[str]:
    desk = issuing.item_desk(unit, cast.storekeeper.actor, cast.items[mark], None, TODAY)
    return [row.mark for row in desk.instead]


@pytest.mark.parametrize(
    ("name", "could"),
    [(name, name in ("as strong", "stronger", "much stronger")) for name in OTHERS],
)
def test_only_what_is_as_strong_by_every_rating_replaces_an_item(
    unit: Unit, cast: Cast, now: datetime, name: str, *, could: bool
) -> None:
    stocked(unit, cast, now, OTHERS[name])

    assert instead(unit, cast) == (["Bow 2", name] if could else ["Bow 2"])


def test_at_most_three_are_named_the_least_strong_first(
    unit: Unit, cast: Cast, now: datetime
) -> None:
    for name in ("much stronger", "stronger", "as strong"):
        stocked(unit, cast, now, OTHERS[name])

    assert instead(unit, cast) == ["Bow 2", "as strong", "stronger"]


def test_what_is_held_itself_replaces_nothing(unit: Unit, cast: Cast) -> None:
    hold(unit, cast, "Bow 2")

    assert instead(unit, cast) == []


def test_a_refusal_names_what_could_go_instead(unit: Unit, cast: Cast, now: datetime) -> None:
    hold(unit, cast, "Bow 1")
    new = Issue(cast.class_id, (cast.items["Bow 1"],), "issue-0001")
    with pytest.raises(Problems, match=r"Bow 1 can't go out.*Take Bow 2 in its place"):
        issuing.issue(unit, cast.storekeeper.actor, new, now)
