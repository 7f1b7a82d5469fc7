"""The charts of the kit: every pull, inspection and retirement, in shapes and words."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from xml.etree import ElementTree as ET

import pytest

from coursekit.drawing.kinetic_chart import SnatchLoads, kinetic_chart
from coursekit.drawing.wear_chart import (
    Life,
    PullMark,
    Retired,
    describe_life,
    life_chart,
    life_size,
    retirement_chart,
)

Drawer = Callable[[str], ET.Element]
SVG = "{http://www.w3.org/2000/svg}"
SIZES = ("light", "heavy", "overload", "unknown")

LIFE = Life(
    item="Kinetic rope 2",
    pulls=(
        PullMark(date(2026, 3, 1), "light", 0.2, 1.0),
        PullMark(date(2026, 4, 9), "heavy", None, 4.0),
        PullMark(date(2026, 4, 9), "unknown", None, 7.0),
        PullMark(date(2026, 6, 20), "overload", 1.4, 37.0),
    ),
    inspections=(date(2026, 2, 1), date(2026, 6, 21)),
    limit=30.0,
    today=date(2026, 7, 1),
)
UNUSED = Life("Roundsling 3", (), (), None, date(2026, 7, 1))
RETIRED = (
    Retired("kinetic rope", 2025, 2),
    Retired("kinetic rope", 2026, 3),
    Retired("soft shackle", 2026, 6),
)
CHARTS = {
    "life": lambda: life_chart(LIFE),
    "unused": lambda: life_chart(UNUSED),
    "retired": lambda: retirement_chart(RETIRED),
    "nothing retired": lambda: retirement_chart(()),
    "snatch": lambda: kinetic_chart(SnatchLoads((0.0, 1.0), (0.0, 9.0), 5.0, 9.0, 12.0, 20.0)),
}


@pytest.fixture
def root_of(read_svg: Callable[[bytes | str], ET.Element]) -> Drawer:
    return lambda name: read_svg(CHARTS[name]())


@pytest.mark.parametrize("name", CHARTS)
def test_a_chart_has_a_title_and_a_description(name: str, root_of: Drawer) -> None:
    root = root_of(name)

    assert [child.tag for child in root][:2] == [f"{SVG}title", f"{SVG}desc"]
    assert all(child.text for child in list(root)[:2])
    assert root.get("role") == "img"


@pytest.mark.parametrize("name", CHARTS)
def test_a_chart_has_no_style_or_script_of_its_own(name: str, root_of: Drawer) -> None:
    elements = list(root_of(name).iter())

    assert not [each for each in elements if each.tag in {f"{SVG}style", f"{SVG}script"}]
    assert not [each for each in elements if "style" in each.attrib]
    assert [each for each in elements if each.get("stroke")]


@pytest.mark.parametrize("name", CHARTS)
def test_a_chart_is_as_wide_as_a_phone_in_its_own_units(name: str, root_of: Drawer) -> None:
    """Text of 12 points is so 12 CSS pixels high on a page of 360."""
    assert root_of(name).get("viewBox", "").split()[:3] == ["0", "0", "360"]


@pytest.mark.parametrize("name", CHARTS)
def test_the_same_data_give_the_same_bytes(name: str) -> None:
    assert CHARTS[name]() == CHARTS[name]()


def test_every_size_of_pull_has_its_own_shape(root_of: Drawer) -> None:
    """A marker is drawn once and then used: as many shapes as sizes, and the inspection's."""
    uses = {use.get("{http://www.w3.org/1999/xlink}href") for use in root_of("life").iter()}
    markers = {href for href in uses if href and href.startswith("#m")}
    ticks = 2

    assert len(markers) == len(SIZES) + 1 + ticks


def test_the_words_count_pulls_and_inspections() -> None:
    assert describe_life(LIFE) == (
        "Use of Kinetic rope 2: 4 pulls, 2 inspections, highest load 140 % of its limit, "
        "use count 37; retires at 30."
    )
    assert describe_life(UNUSED) == "Use of Roundsling 3: 0 pulls, 0 inspections."


def stems(root: ET.Element) -> dict[bool, list[float]]:
    """Return the heights of the stems, in units of the sheet: of those dotted and those not."""
    found: dict[bool, list[float]] = {True: [], False: []}
    for group in root.iter(f"{SVG}g"):
        if group.get("id", "").startswith("LineCollection"):
            for path in group.iter(f"{SVG}path"):
                ys = [float(y) for y in path.get("d", "").split() if y not in "ML"][1::2]
                found["stroke-dasharray" in path.attrib].append(max(ys) - min(ys))
    return found


def test_a_stem_is_as_high_as_the_load_and_dotted_where_no_load_is_known(root_of: Drawer) -> None:
    """Loads of 20 and 140 % of the limit; declared heavy reaches to it, unknown beyond."""
    found = stems(root_of("life"))
    (light, overload), (heavy, unknown) = found[False], found[True]

    assert overload / light == pytest.approx(7.0, rel=1e-3)
    assert heavy / light == pytest.approx(5.0, rel=1e-3)
    assert heavy < unknown < overload


def test_a_pull_declared_light_is_drawn_at_the_most_it_may_have_been(
    read_svg: Callable[[bytes | str], ET.Element],
) -> None:
    """Common practice, no source: a pull is light below a quarter of the limit."""
    pulls = [PullMark(LIFE.today, "light", None, 1.0), PullMark(LIFE.today, "heavy", 1.0, 4.0)]
    found = stems(read_svg(life_chart(replace(LIFE, pulls=pulls))))

    assert found[True][0] / found[False][0] == pytest.approx(0.25, rel=1e-3)


def test_an_item_without_a_use_count_is_drawn_without_one(root_of: Drawer) -> None:
    heights = {name: float(root_of(name).get("viewBox", "").split()[3]) for name in CHARTS}

    assert heights["unused"] < heights["life"]
    assert life_size(UNUSED) == (360, round(heights["unused"]))
    assert life_size(LIFE) == (360, round(heights["life"]))


def test_the_words_name_each_kind_and_year(root_of: Drawer) -> None:
    description = root_of("retired").findtext(f"{SVG}desc")

    assert description == "kinetic rope 2025: 2; kinetic rope 2026: 3; soft shackle 2026: 6."
    assert root_of("nothing retired").findtext(f"{SVG}desc") == "Nothing has been retired."


def test_a_bar_is_as_long_as_its_number(root_of: Drawer) -> None:
    widths: list[float] = []
    for path in root_of("retired").iter(f"{SVG}path"):
        if path.get("stroke") == "#0072b2" and path.get("clip-path"):
            xs = [float(x) for x in path.get("d", "").split() if x not in "MLz"][::2]
            widths.append(max(xs) - min(xs))
    bars = sorted(width for width in widths if width)

    assert [bar / bars[0] for bar in bars] == pytest.approx([1.0, 1.5, 3.0], rel=1e-3)
