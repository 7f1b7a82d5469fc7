"""Retiring an item: asked with care, final, and counted."""

import re

import pytest

from coursekit.store.unit import Unit
from tests.cast import Cast
from tests.kit_acts import status
from tests.web.visitor import Visitor

# Mara was the first of the school.
ENDED = {"reason": "cut", "destroyed": "cut through both eyes", "witness": "1"}


@pytest.fixture
def sling(cast: Cast) -> str:
    return f"/kit/items/{cast.items['Sling 1']}"


def test_the_page_says_that_retired_is_final(storekeeper: Visitor, sling: str) -> None:
    storekeeper.open(f"{sling}/retire")

    assert storekeeper.heading == "Retire Sling 1 for good?"
    assert "Retired is final" in storekeeper.html


def test_it_is_retired_once_how_and_before_whom_it_was_destroyed_is_said(
    storekeeper: Visitor, unit: Unit, cast: Cast, sling: str
) -> None:
    storekeeper.open(f"{sling}/retire").send(sure="y", **ENDED)

    assert storekeeper.heading == "Sling 1: retired"
    assert "destroyed: cut through both eyes, seen by Mara Quint" in storekeeper.html
    assert status(unit, cast, "Sling 1") == "retired"


def test_the_witness_is_one_of_the_schools_people(storekeeper: Visitor, sling: str) -> None:
    storekeeper.open(f"{sling}/retire")
    people = [name for _number, name in _options(storekeeper.html)]
    # Staff, and who sits in an open class; nobody of another school.
    assert people == ["Ana Lim", "Mara Quint", "Tobin Hale"]
    storekeeper.send(sure="y", **{**ENDED, "witness": "4711"})

    assert storekeeper.status == 422
    assert "cut through both eyes" in storekeeper.html


@pytest.mark.parametrize("missing", ["reason", "destroyed", "witness", "sure"])
def test_nothing_retires_with_a_gap_and_what_was_typed_stays(
    storekeeper: Visitor, unit: Unit, cast: Cast, sling: str, missing: str
) -> None:
    typed = {name: text for name, text in (ENDED | {"sure": "y"}).items() if name != missing}
    storekeeper.open(f"{sling}/retire").send(**typed)

    assert storekeeper.status == 422
    assert len(storekeeper.errors) == 1
    assert all(text in storekeeper.html for name, text in ENDED.items() if name != missing)
    assert status(unit, cast, "Sling 1") == "in-store"


def test_a_retired_item_offers_nothing_more_to_do(storekeeper: Visitor, sling: str) -> None:
    storekeeper.open(f"{sling}/retire").send(sure="y", **ENDED)

    for act in ("inspect", "quarantine", "release", "retire"):
        assert f'href="{sling}/{act}"' not in storekeeper.html


def test_what_its_last_pull_retired_still_has_to_be_destroyed(
    instructor: Visitor, storekeeper: Visitor, cast: Cast
) -> None:
    # The pull takes 7.2 kN; a line of 10 kN over the usual factor is allowed far less.
    storekeeper.open("/kit/types/new?kind=winch-line").send(
        action="/kit/types/new?kind=winch-line", name="Thin line", mbs="10 kN"
    )
    storekeeper.open("/kit/items/new")
    thin = next(
        value for value, label in _options(storekeeper.html) if label.startswith("Thin line")
    )
    storekeeper.send(type_id=thin, mark="Line 9", made="2026-01-01")
    item = storekeeper.path
    log = f"/classes/{cast.class_id}/pulls/rig?scenario={cast.class_scenario_id}&rig=given"
    instructor.open(log).send(ended="came-free", **{"item-winch-line": item.rpartition("/")[2]})
    storekeeper.open(item)

    assert storekeeper.heading == "Line 9: retired"
    assert "Its last pull retired it. Destroy it, and record how." in storekeeper.html
    storekeeper.open(f"{item}/retire").send(sure="y", **ENDED)
    assert "destroyed: cut through both eyes" in storekeeper.html


def _options(html: str) -> list[tuple[str, str]]:
    return re.findall(r'<option[^>]* value="(\d+)">([^<]+)<', html)


def test_the_retirement_count_shows_it_by_kind_and_year_with_its_reason(
    storekeeper: Visitor, sling: str
) -> None:
    storekeeper.open("/kit/retired")
    assert storekeeper.heading == "Nothing has been retired yet"
    storekeeper.open(f"{sling}/retire").send(sure="y", **ENDED)
    storekeeper.open("/kit/retired")

    assert storekeeper.heading == "1 item retired so far"
    row = "".join(storekeeper.html.partition("<tbody>")[2].partition("</tbody>")[0].split())
    told = re.sub(r"<[^>]+>", "|", row)
    assert re.sub(r"\|+", "|", told) == "|2026|roundsling|1|roundsling2026|cut|"
    assert "round sling 2026: 1." in storekeeper.html


def test_a_number_of_the_retirement_count_opens_into_its_items(
    storekeeper: Visitor, sling: str
) -> None:
    storekeeper.open(f"{sling}/retire").send(sure="y", **ENDED)
    (link,) = re.findall(
        r'href="(/kit/retired\?[^"]+)#opened"', storekeeper.open("/kit/retired").html
    )
    storekeeper.open(link.replace("&amp;", "&"))

    assert "round sling, retired in 2026" in storekeeper.html
    assert f'href="{sling}?made_by=standing#ledger"' in storekeeper.html
    for other in ("kind=hook&year=2026", "kind=roundsling&year=2025", "year=many", "year=-1"):
        assert "retired in" not in storekeeper.open(f"/kit/retired?{other}").html


def test_the_chart_of_retirements_is_a_file_without_style(storekeeper: Visitor, sling: str) -> None:
    storekeeper.open(f"{sling}/retire").send(sure="y", **ENDED)
    chart = storekeeper.open("/kit/retired.svg")

    assert chart.response.mimetype == "image/svg+xml"
    assert "<title>" in chart.html
    assert "style=" not in chart.html
