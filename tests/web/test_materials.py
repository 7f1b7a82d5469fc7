"""What kit is made of: the words are free, and the pages tell what holds where none is known."""

from datetime import date
from html import unescape
from io import BytesIO

import pytest

from coursekit.rigging.gear import MATERIALS
from coursekit.services import register
from coursekit.services.register import NewItem, NewType
from coursekit.store.unit import Unit
from coursekit.wear.lists import LISTS
from tests.cast import NOW, Cast
from tests.web.visitor import Visitor

LINE, BOW = "/kit/types/new?kind=winch-line", "/kit/types/new?kind=bow-shackle"
BOTH = "the stricter rules of fibre and of metal both hold"


def registered(unit: Unit, cast: Cast, material: str) -> str:
    """Return the page of an item of a new type of winch line."""
    keeper = cast.storekeeper.actor
    type_id = register.register_type(unit, keeper, NewType("Old line", "winch-line", material), NOW)
    item = NewItem(type_id, "Line 9", made=date(2026, 1, 15))
    return f"/kit/items/{register.register_item(unit, keeper, item, NOW)}"


def test_the_form_offers_words_and_says_what_holds_without_one(storekeeper: Visitor) -> None:
    storekeeper.open(LINE)

    assert 'list="materials"' in storekeeper.html
    assert all(f'<option value="{word}">' in storekeeper.html for word in MATERIALS["winch-line"])
    assert "Left empty: not stated: examined as fibre and as metal" in storekeeper.html
    assert "Left empty" not in storekeeper.open(BOW).html


@pytest.mark.parametrize(
    ("material", "told"), [("steel wire", ""), ("blue braid", f"“blue braid” is not known: {BOTH}")]
)
def test_a_type_is_registered_in_any_words_and_is_told_what_holds(
    storekeeper: Visitor, unit: Unit, cast: Cast, material: str, told: str
) -> None:
    storekeeper.open(LINE).send(action=LINE, name="Line 12", mbs="100 kN", material=material)

    types = {row.name: row.material for row in register.kit_types(unit, cast.storekeeper.actor)}
    assert types["Line 12"] == material
    assert ("Material:" in storekeeper.html) == bool(told)
    assert told in storekeeper.html


@pytest.mark.parametrize(
    ("material", "told"),
    [("", "not stated: examined as fibre and as metal"), ("blue braid", BOTH)],
)
def test_an_item_whose_material_nobody_knows_is_examined_for_all_that_it_may_be(
    storekeeper: Visitor, unit: Unit, cast: Cast, material: str, told: str
) -> None:
    page = registered(unit, cast, material)

    assert told in storekeeper.open(page).html
    storekeeper.open(f"{page}/inspect")
    assert any(told in notice for notice in storekeeper.notices)
    for name in ("winch-line", "winch-line-of-wire"):
        assert all(each.text in unescape(storekeeper.html) for each in LISTS[name].criteria)
    fine = {f"seen-{each.key}": "fine" for each in LISTS["winch-line-of-any"].criteria}
    storekeeper.send(occasion="first", **fine)
    assert storekeeper.heading.startswith("Line 9:")


def test_a_table_with_words_that_are_not_known_is_taken_in_and_told(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    rows = (
        "L 1,Blue line,winch-line,braided\nL 2,Wire,winch-line,steel wire\nL 3,Bow,bow-shackle,\n"
    )
    data = f"mark,type,kind,material\n{rows}".encode()
    for press in ("try_it", "take_in"):
        token = storekeeper.open("/kit/import").value("csrf_token") or ""
        form = {"csrf_token": token, press: "1", "file": (BytesIO(data), "kit.csv")}
        storekeeper.response = storekeeper.client.post(
            "/kit/import", data=form, content_type="multipart/form-data", follow_redirects=True
        )
        assert "Material not known of Blue line: what is stricter holds." in storekeeper.html

    types = {row.name: row.material for row in register.kit_types(unit, cast.storekeeper.actor)}
    assert types["Blue line"] == "braided"
