"""What a student reads of ropes and vehicles is all that the rig can be reckoned from."""

import pytest
from flask import Flask

from coursekit.files.scenario_file import read_scenario_text
from coursekit.rigging.rig import Line, LineEnd, Piece, Rig
from coursekit.rigging.solver import solve
from coursekit.scenario.model import Scenario
from coursekit.web.force_time import snatch_of
from coursekit.web.labels import Label, labels
from coursekit.web.site_facts import course_rules, site_facts
from coursekit.web.words import item_name
from tests.shell.files.ford import FILE, changed

STATED = "stretch: {strain: 30 %, at: 100 %}"
CURVE = "stretch: {curve: [[5 %, 10 %], [15 %, 40 %], [30 %, 100 %]]}"


def with_rope(*changes: tuple[str, str]) -> Scenario:
    return read_scenario_text(changed(*changes), FILE)


def label_of(scenario: Scenario) -> Label:
    return next(label for label in labels(scenario) if label.name == item_name("rope-k"))


def rules_of(app: Flask, scenario: Scenario) -> dict[str, str]:
    with app.test_request_context():
        return dict(course_rules(scenario))


@pytest.mark.parametrize(
    ("stretch", "rows"),
    [
        (STATED, {"stretch": "30 % at 100 % of MBS"}),
        (
            "stretch: {strain: 30 %, exponent: 1.5}",
            {
                "stretch": "30 % at 100 % of MBS",
                "its pull grows": "with the stretch to the power of 1.5",
            },
        ),
        (CURVE, {"stretch, in shares of MBS": "5 % at 10 %, 15 % at 40 %, 30 % at 100 %"}),
    ],
)
def test_the_label_tells_how_the_rope_stretches(
    app: Flask, stretch: str, rows: dict[str, str]
) -> None:
    with app.test_request_context():
        told = dict(label_of(with_rope((STATED, stretch))).rows)

    assert {word: told.get(word) for word in rows} == rows


def test_a_worked_rope_is_seen_and_its_factor_is_told(app: Flask) -> None:
    scenario = with_rope(
        ("wet: false,", "worked: true, wet: true,"),
        ("policy: {}", "policy: {worked_stiffness: 1.3, wet_stiffness: 1.1}"),
    )
    with app.test_request_context():
        seen = label_of(scenario).seen

    assert "used for many pulls before" in seen
    told = rules_of(app, scenario)
    assert told["stiffness, worked rope"] == "1.3 times as stated"
    assert told["stiffness, wet nylon"] == "1.1 times as stated"
    assert told["design load, kinetic pull"] == "1.3 times the peak"


def test_factors_that_no_rope_needs_are_not_told(app: Flask) -> None:
    told = rules_of(app, with_rope())

    assert {"stiffness, worked rope", "stiffness, wet nylon"} & set(told) == set()


def test_a_vehicle_on_its_side_is_told_as_such(app: Flask) -> None:
    scenario = with_rope(("  travel: 6 m\n", "  lying: side\n"))
    with app.test_request_context():
        rows = [row for facts in site_facts(scenario) for row in facts.rows]

    assert ("vehicle", "lying on its side") in rows


@pytest.mark.parametrize("stretch", [STATED, CURVE, "stretch: {strain: 30 %, exponent: 2}"])
def test_the_chart_of_any_rope_reaches_the_peak_of_the_chain(app: Flask, stretch: str) -> None:
    scenario = with_rope((STATED, stretch), ("at: [22, 0]", "at: [4, 0]"))
    line = Line(
        "recovery_vehicle.front",
        ("rope-k",),
        LineEnd("stuck_vehicle.rear", (Piece("soft-1"),)),
        joined_with=(Piece("bow-1"),),
    )
    solution = solve(scenario.situation, Rig("kinetic", (line,), speed=2.0))
    with app.test_request_context():
        snatch = snatch_of(scenario, solution)

    assert snatch is not None
    assert max(snatch.forces) == pytest.approx(solution.values["kinetic.peak"], rel=1e-6)
