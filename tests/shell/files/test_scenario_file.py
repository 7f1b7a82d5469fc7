"""A scenario file becomes the scenario in SI; its digest is that of its data."""

import json
import random
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ruamel.yaml import YAML

from coursekit.files.ranges import variable_paths
from coursekit.files.scenario_file import (
    canonical_document,
    digest_of,
    read_scenario,
    read_scenario_text,
    scenario_from_document,
)
from coursekit.files.yaml_tree import dotted
from coursekit.problems import Problems
from coursekit.scenario.model import Range
from coursekit.scenario.numbers import with_value
from coursekit.scenario.tasks import QuantityTask, RigTask, Tolerance
from tests.shell.files.ford import FILE, FORD, changed

SCENARIO = read_scenario_text(FORD, FILE)
DEGREE = 3.141592653589793 / 180.0


def _shuffled(value: Any, order: random.Random) -> Any:
    if isinstance(value, dict):
        keys = list(value)
        order.shuffle(keys)
        return {key: _shuffled(value[key], order) for key in keys}
    return [_shuffled(part, order) for part in value] if isinstance(value, list) else value


def test_quantities_are_read_to_si() -> None:
    stuck, recovery = SCENARIO.situation.stuck, SCENARIO.situation.recovery

    assert (stuck.mass, stuck.travel, stuck.at) == (2650.0, 6.0, (0.0, 0.0))
    assert stuck.exit == pytest.approx(90 * DEGREE)
    assert recovery is not None
    assert recovery.winch is not None
    assert (recovery.grip, recovery.held) == (0.35, "anchored")
    assert recovery.winch.drum == pytest.approx(0.064)
    assert (recovery.winch.wraps_per_layer, recovery.winch.dead_wraps) == (8, 10)


def test_ratings_given_as_mass_are_read_as_their_weight() -> None:
    # 1 kgf is 9.80665 N: standard gravity, ISO 80000-3.
    gear = SCENARIO.situation.gear

    assert gear["sling-1"].wll == pytest.approx(3000 * 9.80665)
    assert gear["bow-1"].wll == pytest.approx(3250 * 9.80665)
    assert SCENARIO.situation.recovery is not None
    assert SCENARIO.situation.recovery.winch is not None
    assert SCENARIO.situation.recovery.winch.pull == pytest.approx(4300 * 9.80665)


def test_us_units_are_read_by_their_definitions() -> None:
    # 1 lb is 0.45359237 kg and 1 lbf 4.4482216152605 N (NIST SP 811, appendix B).
    text = changed(
        ("2650 kg", "5800 lb"),
        ("4300 kgf", "9500 lbf"),
        ("travel: 6 m", "travel: 20 ft"),
        ("{from: 2200 kg, to: 3100 kg, step: 50 kg}", "{from: 5000 lb, to: 7000 lb, step: 100 lb}"),
    )
    scenario = read_scenario_text(text, FILE)

    assert scenario.situation.stuck.mass == pytest.approx(5800 * 0.45359237)
    assert scenario.situation.stuck.travel == pytest.approx(6.096)
    assert scenario.vary[1].value(0) == pytest.approx(5000 * 0.45359237)


def test_points_are_items_named_by_their_vehicle() -> None:
    point = SCENARIO.situation.point_at("stuck_vehicle.rear")

    assert point is not None
    assert (point.id, point.kind) == ("stuck_vehicle.rear", "recovery-point")


def test_gear_keeps_what_its_label_and_its_eye_say() -> None:
    gear = SCENARIO.situation.gear

    assert gear["old-strap"].condition == ("cut", "no-label")
    assert gear["hook-1"].latch
    assert gear["block-1"].bearing == "rolling"
    assert gear["line-2"].made is not None
    assert gear["line-2"].made.isoformat() == "2023-04-30"
    assert gear["winch-line"].stretch is not None
    assert gear["winch-line"].stretch.strain is None
    assert gear["rope-k"].stretch is not None
    assert (gear["rope-k"].stretch.strain, gear["rope-k"].stretch.at) == (0.3, 1.0)


def test_what_a_student_reads_is_the_text_of_the_file() -> None:
    shown = SCENARIO.shown

    assert shown["stuck_vehicle.mass"] == "2650 kg"
    assert shown["recovery_vehicle.winch.pull"] == "4300 kgf"
    assert shown["gear.ring-1.efficiency"] == "0.70"
    assert shown["stuck_vehicle.points.rear.wll"] == "5 t"
    assert shown["rigs.turned.lines.0.pulleys.0.with.0.angle"] == "40 deg"


def test_ranges_stand_in_the_order_of_their_fields_and_keep_the_unit() -> None:
    slope, mass = SCENARIO.vary

    assert mass == Range(
        "stuck_vehicle.mass", Decimal(2200), Decimal(3100), Decimal(50), "kg", Decimal(1)
    )
    assert (slope.field, slope.count, slope.text(6)) == ("ground.slope", 7, "10 deg")
    assert float(slope.si_per_unit) == pytest.approx(DEGREE)


def test_every_quantity_that_may_vary_can_be_put_in_place() -> None:
    for path in variable_paths(canonical_document(FORD)):
        varied = with_value(SCENARIO, dotted(path), 0.123)

        assert varied != SCENARIO, path


def test_a_ratio_varies_without_a_unit() -> None:
    grip = "recovery_vehicle.grip: {from: 0.30, to: 0.40, step: 0.05}"
    text = changed(("vary:\n", f"vary:\n  {grip}\n"))
    (grid,) = (r for r in read_scenario_text(text, FILE).vary if r.field == "recovery_vehicle.grip")

    assert (grid.count, grid.text(1), grid.value(1)) == (3, "0.35", 0.35)


def test_tasks_are_read_with_their_tolerances_and_schemes() -> None:
    total, build, rear = SCENARIO.tasks[:3]

    assert isinstance(total, QuantityTask)
    assert (total.tolerance, total.unit) == (Tolerance(0.03, 0.08), "kN")
    assert isinstance(build, RigTask)
    assert build.scheme == {"safe": 3.0, "reaches": 1.0, "margin": 1.0, "economy": 1.0}
    assert isinstance(rear, QuantityTask)
    assert rear.tolerance == Tolerance(absolute=200.0)
    assert rear.after == ("total", "build")
    assert SCENARIO.out_of == 18.0
    assert SCENARIO.pass_share == 0.75


@pytest.mark.parametrize(
    ("written", "tolerance"),
    [
        ("", Tolerance()),
        ("tolerance: 2 %, ", Tolerance(0.02, 0.02)),
        ("tolerance: 0.02, ", Tolerance(0.02, 0.02)),
        ("tolerance: {above: 10 %}, ", Tolerance(0.05, 0.10)),
        ("tolerance: 0.5 kN, ", Tolerance(absolute=500.0)),
    ],
)
def test_a_tolerance_is_a_share_a_pair_or_an_amount(written: str, tolerance: Tolerance) -> None:
    text = changed(("tolerance: {below: 3 %, above: 8 %}, ", written))
    task = read_scenario_text(text, FILE).tasks[0]

    assert isinstance(task, QuantityTask)
    assert task.tolerance == tolerance


def test_the_school_s_policy_replaces_the_usual_rules() -> None:
    own = (
        "factors: {winch-line: 3}, sling_factors: en1492, tow_allowance: 2.5, stop_on: [bare-tree]"
    )
    text = changed(("policy: {}", f"policy: {{{own}}}"))
    policy = read_scenario_text(text, FILE).situation.policy

    assert policy.factor("winch-line") == 3.0
    assert (policy.sling_factors, policy.tow_allowance) == ("en1492", 2.5)
    assert policy.stop_on == ("bare-tree",)
    assert policy.kinetic_allowance == SCENARIO.situation.policy.kinetic_allowance


def test_a_file_and_its_text_give_the_same_scenario(tmp_path: Path) -> None:
    path = tmp_path / FILE
    path.write_text(FORD, "utf-8")

    assert read_scenario(path) == SCENARIO


def test_the_stored_document_survives_json_and_gives_the_same_scenario() -> None:
    stored = json.loads(json.dumps(canonical_document(FORD), sort_keys=True))

    assert scenario_from_document(stored, "stored") == SCENARIO
    assert digest_of(stored) == SCENARIO.digest


@given(st.randoms(use_true_random=False))
@settings(max_examples=30)
def test_the_digest_does_not_depend_on_the_order_of_keys(order: random.Random) -> None:
    document = _shuffled(canonical_document(FORD), order)

    assert scenario_from_document(document, "stored").digest == SCENARIO.digest


def test_the_digest_does_not_depend_on_comments_quotes_or_layout() -> None:
    # Another reader makes numbers of what stands without a unit: 0.70 is 0.7 to it.
    plain = YAML(typ="safe", pure=True).load(FORD)
    plain["gear"]["ring-1"]["efficiency"] = "0.70"
    text = "# a comment\n" + changed(
        ("title: Bogged at the ford exit", "title:   'Bogged at the ford exit' # here"),
        ("gear:\n", "gear:\n\n"),
        ("wll: 3000 kg", '"wll":    3000 kg'),
    )

    assert read_scenario_text(text, FILE).digest == SCENARIO.digest
    assert scenario_from_document(plain, "loaded by another reader").digest == SCENARIO.digest


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("2650 kg", "2651 kg"),
        ("[brief everyone, walk the line,", "[walk the line, brief everyone,"),
        ("[cut, no-label]", "[no-label, cut]"),
        ("critical: true", "critical: false"),
        ("title: Bogged", "title: bogged"),
    ],
)
def test_the_digest_changes_with_the_data_and_the_order_of_lists(old: str, new: str) -> None:
    assert read_scenario_text(changed((old, new)), FILE).digest != SCENARIO.digest


def test_a_default_that_is_written_out_changes_no_digest() -> None:
    text = changed(("method: vector\n", ""), ("policy: {}\n", ""), ("role: pull\n        f", "f"))

    assert read_scenario_text(text, FILE).digest == SCENARIO.digest


def test_fields_can_be_set_and_the_digest_stays_that_of_the_document() -> None:
    fields = {"stuck_vehicle.mass": "3000 kg", "rigs.turned.lines.0.pulleys.0.at": "oak"}
    tried = scenario_from_document(canonical_document(FORD), FILE, fields)

    assert tried.situation.stuck.mass == 3000.0
    assert tried.shown["stuck_vehicle.mass"] == "3000 kg"
    assert tried.digest == SCENARIO.digest


def test_a_key_that_the_file_left_out_can_be_set() -> None:
    document = canonical_document(changed(("  travel: 6 m\n", "")))

    tried = scenario_from_document(document, FILE, {"stuck_vehicle.travel": "4 m"})
    assert tried.situation.stuck.travel == 4.0


@pytest.mark.parametrize(
    ("field", "words"),
    [
        ("stuck_vehicle.mas", "Did you mean mass?"),
        ("stuck.mass", "There is no such field to set"),
        ("gear.line-9.length", "There is no such field to set"),
        ("tasks.99.marks", "There is no such field to set"),
        ("stuck_vehicle.mass.value", "There is no such field to set"),
        ("", "not known here"),
    ],
)
def test_setting_a_field_that_is_not_there_is_a_problem(field: str, words: str) -> None:
    with pytest.raises(Problems, match=r"set|known|mean") as caught:
        scenario_from_document(canonical_document(FORD), FILE, {field: "3000 kg"})

    assert words in str(caught.value)


def test_setting_a_wrong_unit_is_a_problem_of_that_field() -> None:
    with pytest.raises(Problems) as caught:
        scenario_from_document(canonical_document(FORD), FILE, {"stuck_vehicle.mass": "3 kN"})

    assert [problem.where.field for problem in caught.value.items] == ["stuck_vehicle.mass"]
