"""The kit on paper: what is printed is what the pages say."""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PdfReader
from sqlalchemy import update

from coursekit.services import issuing
from coursekit.services.issuing import Issue
from coursekit.store.tables import School
from coursekit.store.unit import Unit
from coursekit.web.kit.store_page import MOST_ON_PAPER
from tests.cast import NOW, Cast
from tests.kit_acts import examine
from tests.shell.straps import many
from tests.web.visitor import Visitor

POINTS = 72


def pages(visitor: Visitor, path: str) -> list[str]:
    response = visitor.client.get(path)
    assert response.mimetype == "application/pdf"
    found = PdfReader(BytesIO(response.data)).pages
    return [" ".join(page.extract_text().split()) for page in found]


def words_of(visitor: Visitor, path: str) -> str:
    return " ".join(pages(visitor, path))


def test_the_register_prints_each_item_with_its_ratings_and_what_is_due(
    storekeeper: Visitor, cast: Cast
) -> None:
    printed = words_of(storekeeper, "/kit/register.pdf")

    assert "10 items in the register" in printed
    for mark in cast.items:
        assert mark in printed
    for text in ("WLL 3.25 t", "MBS 19.5 t", "FB-004", "made Jan 2026", "use count 0 of 30"):
        assert text in printed
    assert "inspection decides" in printed


def test_a_register_narrowed_on_the_screen_is_narrowed_on_paper(storekeeper: Visitor) -> None:
    printed = words_of(storekeeper, "/kit/register.pdf?kind=bow-shackle&words=bow+2")

    assert "1 item in the register" in printed
    assert "Bow 2" in printed
    assert "Bow 1" not in printed


def test_a_long_register_says_what_its_sheet_leaves_off(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    many(unit, cast, NOW, MOST_ON_PAPER)
    printed = words_of(storekeeper, "/kit/register.pdf")

    # The ten items of the school stand before the straps, which begin with a T.
    assert "510 items in the register" in printed
    assert "This sheet ends with T 490: 10 more items are left off." in printed
    assert printed.count("T 490") == 2
    assert "T 491" not in printed
    assert "leaves off the last 10 of these" in storekeeper.open("/kit").html
    assert "leaves off" not in storekeeper.open("/kit/found?words=Bow").html


def test_the_life_of_an_item_prints_every_entry_and_the_rule_with_its_source(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    rope = cast.items["Rope 1"]
    examine(unit, cast, "Rope 1", found="glazed at the eye")
    printed = words_of(storekeeper, f"/kit/items/{rope}.pdf")

    for text in ("Rope 1: in quarantine", "MBS 125 kN", "received", "glazed at the eye",
                 "Retires at a use count of 30", "common practice, no source"):  # fmt: skip
        assert text in printed


def test_the_record_of_examinations_has_who_found_what_and_room_for_the_next(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    path = f"/kit/items/{cast.items['Sling 1']}/examinations.pdf"
    examine(unit, cast, "Sling 1")
    examine(unit, cast, "Sling 1", found="stitches worn at the eye")
    printed = words_of(storekeeper, path)

    for text in (
        "did not pass",
        "stitches worn at the eye",
        cast.storekeeper.name,
        "signature",
        "LOLER 1998",
    ):
        assert text in printed


def test_the_kit_list_is_what_is_proposed_and_then_what_is_out(
    storekeeper: Visitor, unit: Unit, cast: Cast
) -> None:
    path = f"/kit/classes/{cast.class_id}.pdf"
    assert "proposed, not out yet" in words_of(storekeeper, path)
    out = Issue(cast.class_id, (cast.items["Bow 2"],), "out-with-class")
    issuing.issue(unit, cast.storekeeper.actor, out, NOW)
    printed = words_of(storekeeper, path)

    for text in ("1 item for", "out with the class", "Bow 2", "Given out by", "Signature"):
        assert text in printed
    assert "Bow 1" not in printed


@pytest.mark.parametrize(
    ("locale", "inches"),
    [
        ("en_US", (8.5, 11.0)),
        ("en_CA", (8.5, 11.0)),
        ("en_GB", (8.27, 11.69)),
        ("en", (8.27, 11.69)),
    ],
)
def test_the_paper_is_what_printers_hold_where_the_school_is(
    storekeeper: Visitor, unit: Unit, locale: str, inches: tuple[float, float]
) -> None:
    """A4 is 210 by 297 mm (ISO 216), Letter 8½ by 11 in (ANSI/ASME Y14.1)."""
    with unit.write() as session:
        session.execute(update(School).values(locale=locale))
    response = storekeeper.client.get("/kit/register.pdf")
    box = PdfReader(BytesIO(response.data)).pages[0].mediabox

    assert float(box.width) / POINTS == pytest.approx(inches[0], abs=0.01)
    assert float(box.height) / POINTS == pytest.approx(inches[1], abs=0.01)


def test_what_is_not_there_is_not_printed(storekeeper: Visitor, student: Visitor) -> None:
    assert storekeeper.client.get("/kit/items/9999.pdf").status_code == 404
    assert storekeeper.client.get("/kit/classes/9999.pdf").status_code == 404
    assert student.client.get("/kit/register.pdf").status_code == 403
