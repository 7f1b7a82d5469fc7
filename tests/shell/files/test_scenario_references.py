"""What a file names must stand in it: places, gear, rigs, tasks, quantities, fields."""

from pathlib import Path

import pytest

from coursekit.files.outline import outline_of
from coursekit.files.quantity_names import WHOLE_RIG, kind_of
from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import read_scenario
from coursekit.quantities.units import Kind
from coursekit.rigging.solver import solve
from tests.shell.files.ford import FILE, FORD, changed, line_of, problem_at, problems_of

# It is true or false, and so no quantity.
NOT_ASKED_FOR = {"kinetic.breaks_out"}
PULL_TO = "to: {at: stuck_vehicle.rear, with: [bow-1]}"
PULLEY = "{at: oak, by: ring-1, with: [{item: sling-1, hitch: basket, angle: 40 deg}, bow-1]}"
RIGS = [
    ("at: oak, by", "at: elm, by", "rigs.turned.lines.0.pulleys.0.at", "no place elm"),
    (PULL_TO, PULL_TO.replace("rear", "front"), "rigs.given.lines.0.to.at", "stuck_vehicle.front"),
    (PULL_TO, PULL_TO.replace("bow-1", "bow-2"), "rigs.given.lines.0.to.with.0", "bow-2"),
    ("made_of: [winch-line]", "made_of: [line-9]", "rigs.given.lines.0.made_of.0", "line-9"),
    ("made_of: [winch-line]", "made_of: []", "rigs.given.lines.0.made_of", "made of nothing"),
    ("made_of: [winch-line]", "made_of: [line-2]", "rigs.given.lines.0.made_of.0", "on this winch"),
    ("by: ring-1", "by: bow-1", "rigs.turned.lines.0.pulleys.0.by", "is no pulley"),
    ("by: ring-1", "by: ring-9", "rigs.turned.lines.0.pulleys.0.by", "ring-9 is not gear at hand"),
    ("hitch: basket", "hitch: baskt", "rigs.turned.lines.0.pulleys.0.with.0.hitch", "basket?"),
    ("angle: 40 deg", "angle: 40", "rigs.turned.lines.0.pulleys.0.with.0.angle", "no unit"),
    ("angle: 40 deg", "angle: 190 deg", "rigs.turned.lines.0.pulleys.0.with.0.angle", "180 deg"),
    ("dampers: [damper-1]", "dampers: [rug]", "rigs.given.lines.0.dampers.0", "rug"),
    ("role: pull", "role: haul", "rigs.turned.lines.0.role", "Known here: pull, hold"),
    ("method: winch\n", "method: pull\n", "rigs.given.method", "Known here: winch, kinetic, tow"),
    ("  given:\n", "  own:\n", "rigs.own", "stands for the student's own rig"),
]
TASKS = [
    ("of: resistance.total", "of: resistance.totl", "tasks.0.of", "Did you mean resistance.total?"),
    ("of: resistance.total", "of: place.elm.load", "tasks.0.of", "Nothing that is solved"),
    ("of: resistance.total", "of: item.bow-9.use", "tasks.0.of", "Did you mean item.bow-1.use?"),
    ("of: resistance.total", "of: item.bow-1.weight", "tasks.0.of", "Nothing that is solved"),
    ("of: resistance.total", "of: kinetic.breaks_out", "tasks.0.of", "Nothing that is solved"),
    ("rig: given, marks: 3", "rig: gven, marks: 3", "tasks.0.rig", "Did you mean given?"),
    ("marks: 3", "marks: 0", "tasks.0.marks", "0 marks can't be given"),
    ("marks: 3", "marks: nan", "tasks.0.marks", "is not a number"),
    ("marks: 3", "marks: -1", "tasks.0.marks", "-1 marks can't be given"),
    ("unit: kN", "unit: m", "tasks.0.unit", "is no unit of a force"),
    ("above: 8 %", "above: 8 kN", "tasks.0.tolerance", "a ratio is needed"),
    ("above: 8 %", "above: 108 %", "tasks.0.tolerance.above", "is no share"),
    ("above: 8 %", "abov: 8 %", "tasks.0.tolerance.abov", "Did you mean above?"),
    ("tolerance: 200 N", "tolerance: 2 m", "tasks.2.tolerance", "a force is needed"),
    ("tolerance: 200 N", "tolerance: -2 N", "tasks.2.tolerance", "below zero"),
    ("after: [total,", "after: [totl,", "tasks.2.after.0", "Did you mean total?"),
    ("after: [total,", "after: [rear,", "tasks.2.after.0", "can't come after itself"),
    ("id: build", "id: total", "tasks.1.id", "Another task on line"),
    ("margin: 1, economy: 1", "margin: 1", "tasks.1.scheme", "adds up to 5, and the task gives 6"),
    ("economy: 1}", "thrift: 1}", "tasks.1.scheme.thrift", "Known here: safe, reaches"),
    ("of: weakest", "of: strongest", "tasks.3.of", "Known here: weakest"),
    ("of: unfit", "of: fit", "tasks.4.of", "Did you mean unfit?"),
    ("answer: go", "answer: gone", "tasks.5.answer", "not among the options"),
    (", no-go: leave it", "", "tasks.5.options", "leaves nothing to choose"),
    ("critical: true", "critical: very", "tasks.5.critical", "Write true or false"),
    ("walk the line, take", "brief everyone, take", "tasks.6.items", "stands in it twice"),
    ("ask: order", "ask: ordr", "tasks.6.ask", "Did you mean order?"),
    ("ask: order, ", "", "tasks.6.ask", "does not say what it asks for"),
]
MASS = "{from: 2200 kg, to: 3100 kg, step: 50 kg}"
VARY = [
    ("  stuck_vehicle.mass: {", "  stuck_vehicle.mas: {", "", "Did you mean stuck_vehicle.mass?"),
    ("  stuck_vehicle.mass: {", "  stuck_vehicle.name: {", "", "no quantity stuck_vehicle.name"),
    ("  stuck_vehicle.mass: {", "  tasks.0.marks: {", "", "no quantity tasks.0.marks"),
    ("  stuck_vehicle.mass: {", "  gear.rope-k.wll: {", "", "no quantity gear.rope-k.wll"),
    (MASS, "{from: 3200 kg, to: 3100 kg, step: 50 kg}", "", "The range is empty"),
    (MASS, "{from: 2.2 t, to: 3100 kg, step: 50 kg}", "", "The range mixes units"),
    (MASS, "{from: 2200 kg, to: 3100 kg, step: 70 kg}", ".step", "does not meet the end"),
    (MASS, "{from: 2200 kg, to: 3100 kg, step: 0 kg}", ".step", "not above zero"),
    (MASS, "{from: 2200 kg, to: 3100 kg, step: -5 kg}", ".step", "not above zero"),
    (MASS, "{from: 2200 kg, to: 3200 kg, step: 100 g}", ".step", "not a unit known here"),
    (MASS, "{from: 2200 kg, to: 3200 kg, step: 0.1 kg}", ".step", "more than 10000 values"),
    (MASS, "{from: 2200 kN, to: 3100 kg, step: 50 kg}", ".from", "a mass is needed"),
    (MASS, "{from: 0 kg, to: 3100 kg, step: 50 kg}", ".from", "0 kg is not above zero"),
    (MASS, "{from: 2200, to: 3100 kg, step: 50 kg}", ".from", "has no unit"),
    (MASS, "{from: 2200 kg, to: 3100 kg}", ".step", "It is missing"),
    (MASS, "{from: 2200 kg, to: 3100 kg, step: 50 kg, by: 3}", ".by", "not known here"),
]


@pytest.mark.parametrize(("old", "new", "field", "words"), RIGS + TASKS)
def test_a_name_that_is_not_there_is_reported_at_its_line(
    old: str, new: str, field: str, words: str
) -> None:
    shown = problem_at(field, changed((old, new)))

    assert shown.startswith(f"{FILE}:{line_of(old.lstrip())}: {field}: ")
    assert words in shown


@pytest.mark.parametrize(("old", "new", "key", "words"), VARY)
def test_a_range_that_can_not_be_drawn_from_is_refused(
    old: str, new: str, key: str, words: str
) -> None:
    text = changed((old, new))
    field = new.strip().partition(":")[0] if key == "" and new.startswith(" ") else ""
    shown = problem_at(f"vary.{field or 'stuck_vehicle.mass'}{key}", text)

    assert shown.startswith(f"{FILE}:{line_of('stuck_vehicle.mass: {from')}: ")
    assert words in shown


def test_two_pull_lines_are_one_too_many() -> None:
    line = FORD[FORD.index("      - from: recovery") : FORD.index("        dampers:")]
    (found,) = problems_of(changed((line, line + line)))

    assert str(found) == (
        f"{FILE}:{line_of('- from') - 1}: rigs.given.lines: "
        "A rig has exactly one pull line; this one has 2. Keep one of them."
    )


def test_a_rig_of_holding_lines_alone_pulls_nothing() -> None:
    text = changed(("role: pull", "role: hold"))

    assert "this one has 0" in problem_at("rigs.turned.lines", text)


def test_a_task_for_the_student_s_own_rig_needs_a_task_that_asks_for_it() -> None:
    task = FORD[FORD.index("  - {id: build") : FORD.index("  - {id: rear")]
    text = changed((task, ""), (", build]", "]"))

    assert "No task asks for a rig" in problem_at("tasks.1.rig", text)


def test_a_task_without_a_rig_takes_the_given_one_which_must_be_there() -> None:
    text = changed(("  given:\n", "  first:\n"), (" rig: given,", ""))

    assert 'no rig "given"' in problem_at("tasks.0.rig", text)


def test_a_rig_with_a_mistyped_key_still_has_its_places_checked() -> None:
    text = changed(("dampers: [damper-1]", "damper: [damper-1]"), (PULL_TO, "to: {at: elm}"))

    assert [problem.where.field for problem in problems_of(text)] == [
        "rigs.given.lines.0.to.at",
        "rigs.given.lines.0.damper",
    ]


def test_places_that_can_not_be_read_do_not_seem_to_be_one() -> None:
    text = changed(("at: [0, 0]", "at: here"), ("at: [22, 0]", "at: there"))

    assert [problem.where.field for problem in problems_of(text)] == [
        "stuck_vehicle.at",
        "recovery_vehicle.at",
    ]


def test_without_a_recovery_vehicle_its_winch_is_no_place() -> None:
    start, end = FORD.index("recovery_vehicle:"), FORD.index("ground:")
    fields = [problem.where.field for problem in problems_of(FORD[:start] + FORD[end:])]

    assert "rigs.given.lines.0.from" in fields


BUNDLED = sorted(resource_dir("scenarios").glob("*.yaml"))


@pytest.mark.parametrize("path", BUNDLED, ids=lambda path: path.stem)
def test_every_quantity_of_a_solved_rig_can_be_asked_for_in_its_unit(path: Path) -> None:
    scenario = read_scenario(path)
    for rig in scenario.rigs.values():
        for step in solve(scenario.situation, rig).chain:
            if step.key not in NOT_ASKED_FOR and not step.key.startswith("joint."):
                assert kind_of(step.key, scenario.situation) is Kind.of_si(step.unit), step.key


def test_what_can_be_asked_for_is_known_in_the_names_of_a_broken_document_too() -> None:
    situation = outline_of(
        {"stuck_vehicle": {"points": {"rear": 3}}, "gear": {"a": None}}
    ).situation

    assert kind_of("place.stuck_vehicle.rear.load", situation) is Kind.FORCE
    assert kind_of("item.stuck_vehicle.rear.safety_factor", situation) is Kind.RATIO
    assert kind_of("item.a.limit", situation) is Kind.FORCE
    assert kind_of("place.a.load", situation) is None
    assert all(kind_of(name, situation) is kind for name, kind in WHOLE_RIG.items())
