"""The page that scans labels, as it works without a script: mark by mark."""

import re
from datetime import datetime
from urllib.parse import urlsplit

import pytest
from flask import Flask

from coursekit.services import kit, teaching
from coursekit.services.checks import LONGEST_LINE
from coursekit.store.tables import KitItem
from coursekit.store.unit import Unit
from coursekit.web.kit.scan_page import MOST_SCANNED
from tests.cast import TODAY, Cast
from tests.kit_acts import LOOKED, hold, status
from tests.shell.counted import CountedKit
from tests.shell.statements import counted
from tests.shell.straps import many
from tests.web.conftest import on_the_device_of
from tests.web.visitor import Visitor

SCAN = "/kit/scan"


def onward(page: Visitor) -> list[str]:
    """Return where the list leads."""
    found = re.findall(r'<a class="button" href="([^"]+)"', page.html)
    return [link.replace("&amp;", "&") for link in found]


def add(page: Visitor, *marks: str) -> Visitor:
    for mark in marks:
        form = page.forms[-1]
        query = "&".join(f"{name}={value}" for name, value in form.filled({"mark": mark}))
        page.open(f"{form.action}?{query}")
    return page


def test_the_store_and_the_kit_of_a_class_lead_to_it(storekeeper: Visitor, cast: Cast) -> None:
    assert f'href="{SCAN}">Scan a label<' in storekeeper.open("/kit").html
    here = storekeeper.open(f"/kit/classes/{cast.class_id}").html
    assert f'href="{SCAN}?act=issue&amp;class_id={cast.class_id}">' in here


@pytest.mark.parametrize("typed", ["Bow 2", "bow 2", "  BOW  2 "])
def test_a_mark_opens_its_item(storekeeper: Visitor, cast: Cast, typed: str) -> None:
    add(storekeeper.open(SCAN), typed)

    assert storekeeper.path == f"/kit/items/{cast.items['Bow 2']}"


def test_a_mark_that_nothing_has_is_told_and_stays_typed(storekeeper: Visitor) -> None:
    add(storekeeper.open(SCAN), "Bow 99")

    assert storekeeper.errors == [
        "▲ No item is marked Bow 99. Type the mark as it stands under the code."
    ]
    assert storekeeper.value("mark") == "Bow 99"


def test_marks_that_only_capitals_part_are_asked_for_as_they_stand(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    """The register takes no such marks any more; one that is older may hold them."""
    with unit.write() as session:
        session.get_one(KitItem, cast.items["Bow 1"]).mark = "BOW 2"
    add(storekeeper.open(SCAN), "bow 2")
    assert storekeeper.errors == [
        "▲ 2 items are marked so but for capitals. Type the mark as it stands under the code."
    ]

    add(storekeeper, "Bow 2")
    assert storekeeper.path == f"/kit/items/{cast.items['Bow 2']}"


def test_a_mark_as_long_as_the_register_takes_is_found(storekeeper: Visitor) -> None:
    mark = "M" * LONGEST_LINE
    storekeeper.open("/kit/items/new").send(mark=mark, made="2026-02-01")
    registered = storekeeper.path

    assert f'maxlength="{len(mark)}"' in storekeeper.open(SCAN).html
    assert add(storekeeper, mark).path == registered


def test_a_scan_that_a_full_list_does_not_take_is_told(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    many(unit, cast, now, MOST_SCANNED)
    rows = kit.list_items(unit, cast.storekeeper.actor, TODAY)
    ids = [row.id for row in rows][: MOST_SCANNED + 1]
    listed = "&".join(f"item={item_id}" for item_id in ids[:-1])
    told = "The list is full with 100 items: the last one is not on it."

    assert "is full" not in storekeeper.open(f"{SCAN}?act=issue&{listed}").html
    storekeeper.open(f"{SCAN}?act=issue&{listed}&item={ids[-1]}")
    assert f'data-told="{told}"' in storekeeper.html
    assert storekeeper.notices == [told]
    assert storekeeper.html.count("Leave out<") == MOST_SCANNED


def test_a_label_of_no_item_of_the_store_is_told(storekeeper: Visitor, cast: Cast) -> None:
    storekeeper.open(f"{SCAN}?act=issue&item={cast.items['Bow 2']}&item=999")

    assert storekeeper.notices == ["This is the label of no item of this store."]
    assert storekeeper.html.count("Leave out<") == 1


def test_what_is_scanned_goes_onto_the_list_of_the_open_class(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    add(storekeeper.open(f"{SCAN}?act=issue"), "Bow 2", "Line 1", "Bow 2")
    (link,) = onward(storekeeper)
    assert urlsplit(link).path == f"/kit/classes/{cast.class_id}"

    storekeeper.open(link).send(action=f"/kit/classes/{cast.class_id}", **LOOKED)
    assert [status(unit, cast, mark) for mark in ("Bow 2", "Line 1", "Bow 1")] == [
        "out",
        "out",
        "in-store",
    ]


def test_what_is_scanned_comes_back_from_its_class_and_the_rest_stays_out(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    counter = f"/kit/classes/{cast.class_id}"
    storekeeper.open(counter).send(action=counter, **LOOKED)
    add(storekeeper.open(f"{SCAN}?act=return"), "Bow 1")
    (link,) = onward(storekeeper)
    storekeeper.open(link)
    row = f"back-{cast.items['Bow 1']}"
    assert [n for n, _value in storekeeper.forms[0].pairs if n.startswith("back-")] == [row]
    assert "1 of 3 that are out" in storekeeper.html

    storekeeper.response = storekeeper.client.post(
        link, data={**dict(storekeeper.forms[0].pairs), row: "clean"}
    )
    assert status(unit, cast, "Bow 1") == "in-store"
    assert status(unit, cast, "Line 1") == "out"


def test_what_can_not_go_or_come_back_is_told_at_once(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    hold(unit, cast, "Rope 1")

    add(storekeeper.open(f"{SCAN}?act=issue"), "Rope 1")
    assert "Rope 1 has to stay: in quarantine." in storekeeper.html
    assert onward(storekeeper) == []
    add(storekeeper.open(f"{SCAN}?act=return"), "Bow 2")
    assert "Bow 2 is not out with a class." in storekeeper.html
    assert onward(storekeeper) == []


def test_what_has_too_little_left_for_the_class_is_told_at_once(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    CountedKit(unit, cast, now).with_left("Line 9", 1)
    add(storekeeper.open(f"{SCAN}?act=issue"), "Line 9")

    assert "not enough for today" in storekeeper.html
    assert "2 pulls planned, enough left for 1" in storekeeper.html


def test_a_long_list_of_what_comes_back_takes_no_more_queries_than_a_short_one(
    storekeeper: Visitor, cast: Cast
) -> None:
    counter = f"/kit/classes/{cast.class_id}"
    storekeeper.open(counter).send(action=counter, **LOOKED)

    def queries(*marks: str) -> int:
        items = "&".join(f"item={cast.items[mark]}" for mark in marks)
        with counted() as statements:
            storekeeper.open(f"{SCAN}?act=return&{items}")
        assert f"Take {len(marks)} item" in storekeeper.html
        return len(statements)

    assert queries("Bow 1") == queries("Bow 1", "Line 1", "Damper 1")


def test_an_item_can_be_left_out_again(storekeeper: Visitor, cast: Cast) -> None:
    add(storekeeper.open(f"{SCAN}?act=issue"), "Bow 2", "Line 1")
    out = re.findall(r'href="([^"]+)">Leave out<', storekeeper.html)
    storekeeper.open(out[0].replace("&amp;", "&"))  # the last one stands first

    assert [v for n, v in storekeeper.forms[-1].pairs if n == "item"] == [str(cast.items["Bow 2"])]


def test_nothing_is_issued_where_no_class_is_open(
    storekeeper: Visitor, unit: Unit, cast: Cast, now: datetime
) -> None:
    teaching.close_class(unit, cast.instructor.actor, cast.class_id, now)
    add(storekeeper.open(f"{SCAN}?act=issue"), "Bow 2")

    assert "No class is open, so nothing goes out." in storekeeper.html
    assert onward(storekeeper) == []


def test_items_of_another_school_are_not_found(app: Flask, cast: Cast) -> None:
    outsider = on_the_device_of(app, cast.outsider)
    outsider.open(f"{SCAN}?act=issue&item={cast.items['Bow 1']}")

    assert "Bow 1" not in outsider.html
    assert add(outsider.open(SCAN), "Bow 1").path == SCAN


def test_what_is_scanned_again_is_told_of_again_and_listed_once(storekeeper: Visitor) -> None:
    add(storekeeper.open(f"{SCAN}?act=issue"), "Bow 2", "Line 1", "Bow 2")

    assert 'data-told="Bow 2 is on the list."' in storekeeper.html
    assert storekeeper.html.count("Leave out<") == 2


def test_the_camera_is_allowed_on_this_page_alone(storekeeper: Visitor) -> None:
    def allowed(path: str) -> str:
        return storekeeper.client.get(path).headers["Permissions-Policy"]

    assert "camera=(self)" in allowed(SCAN)
    assert "microphone=()" in allowed(SCAN)
    assert {"camera=()" in allowed(path) for path in ("/kit", "/me", "/nowhere")} == {True}
