"""The drawing of the plan: sound, readable on a phone, fit for a strict policy."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from jinja2 import Environment, FileSystemLoader, StrictUndefined

from coursekit.drawing.plan_sheet import Shown
from coursekit.drawing.site_plan import site_plan
from coursekit.rigging.solver import solve
from tests.shell.drawing.layouts import LAYOUTS

ROOT = Path(__file__).parents[3]
STYLES = (ROOT / "coursekit/web/static/css/plan.css").read_text("utf-8")
SVG = "{http://www.w3.org/2000/svg}"
PHONE, MARGINS = 360, 32

Drawer = Callable[..., ET.Element]


@pytest.fixture
def drawn(read_svg: Callable[[bytes | str], ET.Element]) -> Drawer:
    environment = Environment(
        loader=FileSystemLoader(ROOT / "templates"), autoescape=True, undefined=StrictUndefined
    )
    page = environment.from_string(
        '{% from "_partials/site_plan.html" import site_plan %}{{ site_plan(plan, prefix) }}'
    )

    def draw(name: str, prefix: str = "plan", shown: Shown | None = None) -> ET.Element:
        situation, rig = LAYOUTS[name]
        plan = site_plan(situation, solution=solve(situation, rig), shown=shown)
        svg = page.render(plan=plan, prefix=prefix).replace("<svg", f'<svg xmlns="{SVG[1:-1]}"', 1)
        return read_svg(svg)

    return draw


def ids(root: ET.Element) -> list[str]:
    return [each.attrib["id"] for each in root.iter() if "id" in each.attrib]


@pytest.mark.parametrize("name", LAYOUTS)
def test_is_a_picture_with_a_title_and_a_description(name: str, drawn: Drawer) -> None:
    root = drawn(name)
    named = root.get("aria-labelledby", "").split()

    assert root.get("role") == "img"
    assert [child.get("id") for child in list(root)[:2]] == named
    assert all(child.text for child in list(root)[:2])


@pytest.mark.parametrize("name", LAYOUTS)
def test_has_no_style_or_script_of_its_own(name: str, drawn: Drawer) -> None:
    elements = list(drawn(name).iter())

    assert [each for each in elements if "style" in each.attrib] == []
    assert {each.tag for each in elements}.isdisjoint({f"{SVG}style", f"{SVG}script"})


@pytest.mark.parametrize("name", LAYOUTS)
def test_two_plans_on_a_page_share_no_id(name: str, drawn: Drawer) -> None:
    one, other = ids(drawn(name, "one")), ids(drawn(name, "other"))

    assert len(set(one)) == len(one)
    assert set(one).isdisjoint(other)


@pytest.mark.parametrize("name", LAYOUTS)
def test_every_reference_is_to_an_id_of_its_own(name: str, drawn: Drawer) -> None:
    root = drawn(name)
    used = {
        reference
        for each in root.iter()
        for value in each.attrib.values()
        for reference in re.findall(r"url\(#([^)]+)\)", value)
    }

    assert used
    assert used <= set(ids(root))


def test_a_name_with_marks_stays_text(drawn: Drawer) -> None:
    shown = Shown(names={"elm": "<b>elm</b> & ash"})

    words = [text.text for text in drawn("redirect", shown=shown).iter(f"{SVG}text")]
    assert "<b>elm</b> & ash" in words


@pytest.mark.parametrize("name", LAYOUTS)
def test_text_is_at_least_12_pixels_high_on_a_phone(name: str, drawn: Drawer) -> None:
    size = float(re.findall(r"text \{ font-size: (\d+)px", STYLES)[0])
    width = float(drawn(name).get("viewBox", "").split()[2])

    assert size * (PHONE - MARGINS) / width >= 12


def test_every_class_that_is_drawn_has_its_style(drawn: Drawer) -> None:
    classes = {
        word
        for name in LAYOUTS
        for each in drawn(name).iter()
        for word in each.get("class", "").split()
        if word.startswith("plan-")
    }
    plain = {"plan-label", "plan-strip"}

    assert {word for word in classes - plain if f".{word}" not in STYLES} == set()
