"""What a file says of joints and anchors beyond the plain stands on the pages, in its own words."""

from __future__ import annotations

import pytest
from flask import Flask

from coursekit.files.scenario_file import read_scenario_text
from coursekit.rigging.solver import solve
from coursekit.scenario.model import Scenario
from coursekit.web.labels import labels
from coursekit.web.rig_text import rig_text
from coursekit.web.site_facts import course_rules, site_facts
from coursekit.web.worked import worked_parts
from tests.shell.files.ford import FILE, changed

OAK = "kind: tree, at: [30, -4], holds: 60 kN,"
DEADMAN = (
    "kind: ground-anchor, at: [30, -4], soil: wet-sand, "
    "deadman: {depth: 4 ft, face: 2 ft, length: 6 ft, lead: 1:2},"
)
BASKET = "{item: sling-1, hitch: basket, angle: 40 deg}, bow-1"


def read(*changes: tuple[str, str]) -> Scenario:
    return read_scenario_text(changed(*changes), FILE)


@pytest.mark.parametrize(
    ("anchor", "told"),
    [
        ("kind: tree, at: [30, -4], holds: 60 kN, girth: 1.4 m,", ("60 kN", "1.4 m round")),
        (
            "kind: vehicle, at: [30, -4], holds: 40 kN, mass: 3 t, grip: 0.35,",
            ("40 kN", "3 t", "tyre grip 0.35"),
        ),
        ("kind: ground-anchor, at: [30, -4], pickets: 3-2-1,", ("pickets 3-2-1 in loam",)),
        (
            DEADMAN,
            ("4 ft deep", "face 2 ft", "length 6 ft", "1:2", "wet sand"),
        ),
    ],
)
def test_the_facts_of_an_anchor_stand_in_the_brief(
    app: Flask, anchor: str, told: tuple[str, ...]
) -> None:
    scenario = read((OAK, anchor))
    with app.test_request_context():
        facts = next(facts for facts in site_facts(scenario) if facts.title == "Anchors")
        ((_, text),) = facts.rows

    assert [words for words in told if words not in text] == []


def test_diameters_and_the_figure_of_the_school_stand_where_their_like_do(app: Flask) -> None:
    scenario = read(
        ("length: 28 m,", "length: 28 m, diameter: 10 mm,"),
        ("kind: pulley-block,", "kind: pulley-block, sheave: 80 mm,"),
        ("policy: {}", "policy: {bent_synthetic: 80 %}"),
    )
    with app.test_request_context():
        rows = {label.name: dict(label.rows) for label in labels(scenario)}
        rules = dict(course_rules(scenario))

    assert rows["Winch line"]["diameter"] == "10 mm"
    assert rows["Block 1"]["sheave"] == "80 mm"
    assert "80 %" in rules["synthetic line over a pulley"]


@pytest.mark.parametrize(
    ("joint", "told"),
    [
        ("{item: sling-1, hitch: choker, choke: 100 deg}, bow-1", "angle of choke 100°"),
        (
            "{item: sling-1, hitch: basket}, {item: bow-1, off_line: 30 deg}",
            "pulled 30° off its line",
        ),
    ],
)
def test_the_angles_of_a_joint_are_told_with_the_rig(app: Flask, joint: str, told: str) -> None:
    scenario = read((BASKET, joint))
    with app.test_request_context():
        text = " ".join(rig_text(scenario, scenario.rigs["turned"]))

    assert told in text


def test_every_step_of_them_has_its_number_on_the_page_of_the_working(app: Flask) -> None:
    scenario = read(
        (OAK, "kind: tree, at: [30, -4], holds: 60 kN, girth: 1.4 m,"),
        (BASKET, "{item: sling-1, hitch: basket}, {item: bow-1, off_line: 30 deg}"),
    )
    solution = solve(scenario.situation, scenario.rigs["turned"])
    with app.test_request_context():
        parts = worked_parts(scenario, solution)
        shown = {step.key: step for part in parts for step in part.steps}

    assert shown["item.sling-1.angle"].value.endswith("°")
    assert "π" in shown["item.sling-1.angle"].formula
    assert shown["item.bow-1.off_line_share"].value.startswith("0.7")
    assert shown["item.sling-1.leg"].value.endswith("kN")
