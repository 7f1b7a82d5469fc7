"""Every problem of a scenario file names file, line and field, and how to mend it."""

import time

import pytest

from tests.shell.files.ford import FILE, FORD, changed, line_of, problem_at, problems_of

# (what to replace, by what, the field, words of the problem)
VALUES = [
    ("2650 kg", "2650 kN", "stuck_vehicle.mass", "2650 kN is a force, a mass is needed"),
    ("2650 kg", "2650", "stuck_vehicle.mass", '"2650" has no unit. Write for example 2650 kg'),
    ("2650 kg", "0 kg", "stuck_vehicle.mass", "0 kg is not above zero"),
    ("2650 kg", "-3 t", "stuck_vehicle.mass", "-3 t is not above zero"),
    ("2650 kg", "2 ton", "stuck_vehicle.mass", "does not say which ton"),
    ("2650 kg", "2,65 t", "stuck_vehicle.mass", "is not a number and a unit"),
    ("2650 kg", "heavy", "stuck_vehicle.mass", "is not a number and a unit"),
    ("2650 kg", ".inf kg", "stuck_vehicle.mass", "is not a number and a unit"),
    ("2650 kg", "1e80 kg", "stuck_vehicle.mass", "too large to be meant"),
    ("2650 kg", "[2650 kg]", "stuck_vehicle.mass", "A single value is needed here"),
    ("2650 kg", "", "stuck_vehicle.mass", "It is empty"),
    ("at: [0, 0]", "at: [0]", "stuck_vehicle.at", "Write [east, north] in metres"),
    ("at: [0, 0]", "at: [0, x]", "stuck_vehicle.at", '"x" is not a number'),
    ("exit: 90 deg", "exit: 90 m", "stuck_vehicle.exit", "is a length, an angle is needed"),
    ("exit: 90 deg", "exit: 400 deg", "stuck_vehicle.exit", "over 360 deg"),
    ("travel: 6 m", "travel: -6 m", "stuck_vehicle.travel", "-6 m is not above zero"),
    ("recovery-point, wll: 5 t, e", "lug, wll: 5 t, e", "stuck_vehicle.points.rear.kind", "point"),
    ("edge: rounded", "edge: round", "stuck_vehicle.points.rear.edge", "Did you mean rounded?"),
    ("held: anchored", "held: fast", "recovery_vehicle.held", "Known here: braked, anchored"),
    ("wraps_per_layer: 8", "wraps_per_layer: 8.5", "recovery_vehicle.winch.wraps_per_layer", "8.5"),
    ("line: winch-line}", "line: rope}", "recovery_vehicle.winch.line", "not gear at hand"),
    ("surface: wet-grass", "surface: wetgrass", "ground.surface", "Did you mean wet-grass?"),
    ("bogged: none", "bogged: deep", "ground.bogged", "Known here: none, hubs, sills, bonnet"),
    ("slope: 8 deg", "slope: 61 deg", "ground.slope", "over 60 deg"),
    ("holds: 60 kN", "holds: 0 kN", "anchors.oak.holds", "0 kN is not above zero"),
    ("kind: tree", "kind: bush", "anchors.oak.kind", '"bush" is no kind of anchor known here'),
    ("tested: false", "tested: perhaps", "anchors.oak.tested", "Write true or false"),
    ("kind: roundsling", "kind: sling", "gear.sling-1.kind", "Did you mean roundsling?"),
    ("wll: 3.25 t, mbs: 19.5 t", "wll: 20 t, mbs: 19.5 t", "gear.bow-1.mbs", "above the MBS"),
    ("efficiency: 0.95", "efficiency: 0", "gear.block-1.efficiency", "not above zero"),
    ("efficiency: 0.95", "efficiency: 1.05", "gear.block-1.efficiency", "over 100 %"),
    ("bearing: rolling", "bearing: ball", "gear.block-1.bearing", "Known here: rolling, plain"),
    ("soft-shackle,", "soft-shackle, latch: true,", "gear.soft-1.latch", "Only a hook"),
    ("soft-shackle,", "soft-shackle, bearing: plain,", "gear.soft-1.bearing", "pulley-block"),
    ("stretch: low", "stretch: lots", "gear.winch-line.stretch", "Write low, or {strain: 30 %"),
    ("strain: 30 %, ", "", "gear.rope-k.stretch.strain", "It is missing. Add for example strain"),
    ("[cut, no-label]", "[cutt]", "gear.old-strap.condition.0", "Did you mean cut?"),
    ("made: 2023-04-30", "made: 2023-02-30", "gear.line-2.made", "Write year-month-day"),
    ("length: 12 m", "length: 12 kg", "gear.line-2.length", "is a mass, a length is needed"),
    ("format: 1", "format: 2", "format", "Format 2 is not known here"),
    ("id: ford-exit", "id: ford-exits", "id", "The id is ford-exits, and the file is named ford"),
    ("id: ford-exit", "id: Ford Exit", "id", "Use lower case, digits and hyphens"),
    ("level: foundation", "level: basic", "level", "Known here: foundation, intermediate"),
    ("method: vector", "method: vectors", "method", "Did you mean vector?"),
    ("expect: go", "expect: perhaps", "expect", "Known here: go, no-go"),
    ("title: Bogged at the ford exit", "title: ''", "title", "It is empty"),
    ("pass: 75 %", "pass: 750 %", "pass", "over 100 %"),
    ("policy: {}", "policy: {anchor_factor: 0.5}", "policy.anchor_factor", "takes safety away"),
    ("policy: {}", "policy: {factors: {rope: 3}}", "policy.factors.rope", "no kind of gear"),
    ("policy: {}", "policy: {stop_on: [low-margin]}", "policy.stop_on.0", "no major rule"),
]
MISSING = [
    ("  mass: 2650 kg\n", "stuck_vehicle.mass", "Add for example mass: 2650 kg"),
    ("  exit: 90 deg\n", "stuck_vehicle.exit", "Add for example exit: 90 deg"),
    ("  downhill: 270 deg\n", "ground.downhill", "A slope of 8 deg needs the bearing"),
    ("  surface: wet-grass\n", "ground.surface", "neither its surface nor its rolling"),
    ("level: foundation\n", "level", "Add for example level: foundation"),
    (" length: 28 m,", "gear.winch-line.length", "A winch-line needs its length"),
    (" holds: 60 kN,", "anchors.oak.holds", "Add for example holds: 60 kN"),
    ("    method: winch\n", "rigs.given.method", "Add for example method: winch"),
]
UNKNOWN_KEYS = [
    ("  mass: 2650 kg", "  mas: 2650 kg", "stuck_vehicle.mas", "Did you mean mass?"),
    ("title:", "titel:", "titel", "Did you mean title?"),
    ("  grip: 0.35", "  girp: 0.35", "recovery_vehicle.girp", "Did you mean grip?"),
    (
        "policy: {}",
        "policy: {tow_alowance: 2}",
        "policy.tow_alowance",
        "Did you mean tow_allowance?",
    ),
    ("made_of: [winch-line]\n", "madeof: [winch-line]\n", "rigs.given.lines.0.madeof", "made_of?"),
    ("ask: rig, marks: 6", "ask: rig, mark: 6", "tasks.1.mark", "Did you mean marks?"),
]


@pytest.mark.parametrize(("old", "new", "field", "words"), VALUES + UNKNOWN_KEYS)
def test_a_wrong_value_or_key_is_reported_at_its_line(
    old: str, new: str, field: str, words: str
) -> None:
    shown = problem_at(field, changed((old, new)))

    assert shown.startswith(f"{FILE}:{line_of(old)}: {field}: ")
    assert words in shown


@pytest.mark.parametrize(("old", "field", "words"), MISSING)
def test_a_missing_key_is_reported_with_an_example(old: str, field: str, words: str) -> None:
    assert words in problem_at(field, changed((old, "")))


def test_bogged_ground_needs_no_surface() -> None:
    assert not problems_of(
        changed(("  surface: wet-grass\n", ""), ("bogged: none", "bogged: hubs"))
    )


def test_ground_may_state_its_own_rolling_resistance() -> None:
    assert not problems_of(changed(("surface: wet-grass", "rolling: 0.12")))


def test_an_anchor_and_an_item_can_not_share_a_name() -> None:
    text = changed(("  oak: {kind: tree", "  bow-1: {kind: tree"), ("at: oak", "at: bow-1"))

    assert problem_at("gear.bow-1", text) == (
        f"{FILE}:{line_of('bow-1: {kind: bow')}: gear.bow-1: "
        "bow-1 is the name of an anchor already. Give one of the two another name."
    )


@pytest.mark.parametrize("name", ["a.b", "a b", "-a", "ä", "'<b>'", "x" * 64])
def test_a_name_that_could_not_be_referred_to_is_refused(name: str) -> None:
    shown = [str(problem) for problem in problems_of(changed(("  hook-1:", f"  {name}:")))]

    assert any("no name to refer to" in problem for problem in shown)


def test_a_point_is_never_called_winch() -> None:
    text = changed(("    rear: {kind", "    winch: {kind"))

    assert "can't be called winch" in problem_at("stuck_vehicle.points.winch", text)


def test_all_problems_of_a_file_are_reported_at_once_in_the_order_of_lines() -> None:
    text = changed(
        ("2650 kg", "2650 kN"),
        ("  grip: 0.35", "  girp: 0.35"),
        ("surface: wet-grass", "surface: wetgrass"),
        ("to: {at: stuck_vehicle.rear, with: [bow-1]}", "to: {at: elm, with: [bow-9]}"),
        ("of: resistance.total", "of: resistance.totl"),
        ("answer: go", "answer: gone"),
        ("to: 3100 kg", "to: 100 kg"),
    )

    assert [problem.where.field for problem in problems_of(text)] == [
        "stuck_vehicle.mass",
        "recovery_vehicle.girp",
        "ground.surface",
        "vary.stuck_vehicle.mass",
        "rigs.given.lines.0.to.with.0",
        "rigs.given.lines.0.to.at",
        "tasks.0.of",
        "tasks.5.answer",
    ]
    lines = [problem.where.line or 0 for problem in problems_of(text)]
    assert lines == sorted(lines)
    assert min(lines) == line_of("2650 kg")


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("just words\n", "A mapping is needed here"),
        ("[a, b]\n", "A mapping is needed here"),
        ("format: 1\nstuck_vehicle: 3\n", "A mapping is needed here"),
        (FORD.replace("tasks:\n", "tasks: {}\nother:\n"), "A list is needed here"),
    ],
)
def test_a_part_of_the_wrong_shape_is_told_its_shape(text: str, words: str) -> None:
    assert any(words in str(problem) for problem in problems_of(text))


def test_a_file_with_thousands_of_mistakes_is_answered_soon_and_says_there_are_more() -> None:
    keys = "".join(f"key-{number}: 1\n" for number in range(3_000))
    ranges = "".join(f"  a.b-{number}: {{from: 1, to: 2, step: 1}}\n" for number in range(2_000))
    start = time.monotonic()
    found = problems_of(changed(("vary:\n", f"vary:\n{ranges}")) + keys)

    assert time.monotonic() - start < 20.0
    assert len(found) == 201
    assert "There are more than 200 problems. Mend these first." in str(found[-1])
