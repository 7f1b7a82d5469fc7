"""What a file may say of joints and anchors beyond the plain, and what it may not."""

import pytest

from coursekit.files.scenario_file import canonical_document, digest_of, read_scenario_text
from coursekit.mechanics.constants import FOOT, POUND_FORCE
from coursekit.scenario.numbers import with_value
from tests.shell.files.ford import FILE, FORD, changed, line_of, problem_at, problems_of

DIGEST = "sha256:325701f90ee55a7e5f50bda55cfe39b853783b5de35d18c50663c575f60c8e2e"
BASKET = "{item: sling-1, hitch: basket, angle: 40 deg}"
OAK = "kind: tree, at: [30, -4], holds: 60 kN,"
STAKE = "kind: ground-anchor, at: [30, -4],"
LOG = "deadman: {depth: 4 ft, face: 18 in, length: 6 ft}"
BOW = "to: {at: stuck_vehicle.rear, with: [bow-1]}"

# (what to replace, by what, the field, words of the problem)
REFUSED = [
    (
        BASKET,
        "{item: sling-1, hitch: basket, choke: 100 deg}",
        "rigs.turned.lines.0.pulleys.0.with.0.choke",
        "sling-1 is not choked, so it has no angle of choke. Write hitch: choker",
    ),
    (
        BASKET,
        "{item: sling-1, hitch: choker, choke: 200 deg}",
        "rigs.turned.lines.0.pulleys.0.with.0.choke",
        "200 deg is over 180 deg",
    ),
    (
        BOW,
        "to: {at: stuck_vehicle.rear, with: [{item: soft-1, off_line: 30 deg}]}",
        "rigs.given.lines.0.to.with.0.off_line",
        "soft-1 is a soft-shackle; the steps off its line are a bow-shackle's. Take the angle out",
    ),
    (
        BOW,
        "to: {at: stuck_vehicle.rear, with: [{item: bow-1, off_line: 30}]}",
        "rigs.given.lines.0.to.with.0.off_line",
        '"30" has no unit',
    ),
    (
        OAK,
        STAKE + " holds: 60 kN, girth: 1.4 m,",
        "anchors.oak.girth",
        "No sling goes round a ground-anchor. Take the key out",
    ),
    (
        "holds: 60 kN,",
        "holds: 60 kN, mass: 3 t,",
        "anchors.oak.mass",
        "Only a vehicle is held by its mass. Take the key out",
    ),
    (
        OAK,
        "kind: vehicle, at: [30, -4], holds: 60 kN, grip: 0.35,",
        "anchors.oak.grip",
        "The grip says nothing without the mass of the vehicle. Add for example mass: 3000 kg",
    ),
    (
        OAK,
        "kind: tree, at: [30, -4], pickets: 3-2-1,",
        "anchors.oak.pickets",
        "Only a ground-anchor is made of pickets. Write kind: ground-anchor",
    ),
    (
        OAK,
        f"{STAKE} holds: 60 kN, pickets: 3-2-1,",
        "anchors.oak.holds",
        "What it holds follows from its pickets. Take one of the two out",
    ),
    (
        OAK,
        f"{STAKE} pickets: 4-3-2-1,",
        "anchors.oak.pickets",
        "no set of pickets known here. Did you mean 3-2-1? Known here: 1, 1-1-1, 3-2-1",
    ),
    (
        OAK,
        f"{STAKE} pickets: 3-2-1, soil: wet-sand,",
        "anchors.oak.soil",
        "The table of pickets is for loam alone. State what it holds instead",
    ),
    (
        OAK,
        f"{STAKE} pickets: 3-2-1, soil: clay,",
        "anchors.oak.soil",
        "no soil known here. Known here: loam, wet-sand",
    ),
    (
        OAK,
        f"{STAKE} soil: loam,",
        "anchors.oak.holds",
        "It is missing. Add for example holds: 60 kN",
    ),
    (
        OAK,
        STAKE + " deadman: {depth: 2 ft, face: 18 in, length: 6 ft},",
        "anchors.oak.deadman.depth",
        "2 ft is under 3 ft. Write 3 ft at least",
    ),
    (
        OAK,
        STAKE + " deadman: {depth: 2.2 m, face: 18 in, length: 6 ft},",
        "anchors.oak.deadman.depth",
        "2.2 m is over 7 ft. Write 7 ft at most",
    ),
    (
        OAK,
        STAKE + " deadman: {depth: 4 ft, face: 18 in, length: 8 ft},",
        "anchors.oak.deadman.length",
        "A log of 8 ft is longer than 5 times its 18 in. Take a thicker one",
    ),
    (
        OAK,
        STAKE + " deadman: {depth: 4 ft, face: 18 in, thickness: 8 in, length: 7 ft},",
        "anchors.oak.deadman.length",
        "A timber of 7 ft is longer than 9 times its 8 in. Take a thicker one",
    ),
    (
        OAK,
        STAKE + " deadman: {depth: 4 ft, face: 18 in, length: 0.3 m},",
        "anchors.oak.deadman.length",
        "Of a log of 0.3 m nothing bears beside the trench of 1 ft",
    ),
    (
        OAK,
        STAKE + " deadman: {depth: 4 ft, length: 6 ft},",
        "anchors.oak.deadman.face",
        "It is missing. Add for example face: 18 in",
    ),
    (
        OAK,
        STAKE + " deadman: {depth: 4 ft, face: 18 in, length: 6 ft, lead: 1:5},",
        "anchors.oak.deadman.lead",
        "no slope of a deadman's line known here",
    ),
    (
        OAK,
        f"{STAKE} pickets: 1, {LOG},",
        "anchors.oak.deadman",
        "It is made of pickets already. Make two anchors of the two",
    ),
    (
        "kind: roundsling, length: 3 m,",
        "kind: roundsling, length: 3 m, diameter: 40 mm,",
        "gear.sling-1.diameter",
        "Only a line has a diameter that matters. Take the key out",
    ),
    (
        "kind: line-damper",
        "kind: line-damper, sheave: 80 mm",
        "gear.damper-1.sheave",
        "Only a pulley has a sheave. Take the key out",
    ),
    (
        "policy: {}",
        "policy: {bent_synthetic: 110 %}",
        "policy.bent_synthetic",
        "110 % is over 100 %",
    ),
]
READ = [
    ("holds: 60 kN,", "holds: 60 kN, girth: 1.4 m,"),
    (BASKET, "{item: sling-1, hitch: basket}"),
    (
        OAK,
        f"{STAKE} pickets: 3-2-1,",
    ),
    (
        OAK,
        f"{STAKE} pickets: 1, soil: loam,",
    ),
    (
        OAK,
        STAKE + " deadman: {depth: 4 ft, face: 18 in, length: 7.5 ft}, soil: wet-sand,",
    ),
    (
        OAK,
        STAKE + " deadman: {depth: 1.3 m, face: 40 cm, thickness: 25 cm, length: 2 m, lead: 1:2},",
    ),
    (
        OAK,
        "kind: vehicle, at: [30, -4], holds: 60 kN, mass: 3 t, grip: 0.35,",
    ),
    ("length: 28 m,", "length: 28 m, diameter: 10 mm,"),
    ("kind: pulley-block,", "kind: pulley-block, sheave: 80 mm,"),
    ("policy: {}", "policy: {bent_synthetic: 80 %}"),
    (BASKET, "{item: sling-1, hitch: choker, choke: 100 deg}"),
    (BOW, "to: {at: stuck_vehicle.rear, with: [{item: bow-1, off_line: 30 deg}]}"),
]


@pytest.mark.parametrize(("old", "new", "field", "words"), REFUSED)
def test_what_is_refused_is_told_by_line_and_field(
    old: str, new: str, field: str, words: str
) -> None:
    text = changed((old, new))

    told = problem_at(field, text)
    assert told.startswith(f"{FILE}:{line_of(new, text)}: {field}: ")
    assert words in told


@pytest.mark.parametrize(("old", "new"), READ)
def test_what_may_be_stated_is_read_and_is_part_of_the_digest(old: str, new: str) -> None:
    text = changed((old, new))

    assert problems_of(text) == ()
    assert read_scenario_text(text, FILE).digest != read_scenario_text(FORD, FILE).digest


def test_what_a_deadman_is_made_of_is_read_into_the_anchor() -> None:
    oak = read_scenario_text(changed((OAK, f"{STAKE} {LOG},")), FILE).situation.anchors["oak"]

    assert oak.holds is None
    # 2,600 lb/ft2 on 1.5 ft by 5 ft: TM 5-5420-278-10, table 9.
    assert oak.holdfast is not None
    assert oak.holdfast.holds / POUND_FORCE == pytest.approx(2_600 * 1.5 * 5)


def test_the_depth_of_a_deadman_may_vary() -> None:
    new = STAKE + " deadman: {depth: 4 ft, face: 18 in, length: 6 ft},"
    deep = "vary:\n  anchors.oak.deadman.depth: {from: 3 ft, to: 7 ft, step: 1 ft}"
    too_deep = deep.replace("7 ft", "8 ft")

    scenario = read_scenario_text(changed((OAK, new), ("vary:", deep)), FILE)
    held = [with_value(scenario, "anchors.oak.deadman.depth", feet * FOOT) for feet in (3, 7)]
    power = [each.situation.anchors["oak"].deadman for each in held]
    assert [log and log.holds / POUND_FORCE for log in power] == pytest.approx(
        [1_450 * 1.5 * 5, 8_000 * 1.5 * 5]
    )
    told = problem_at("vary.anchors.oak.deadman.depth.to", changed((OAK, new), ("vary:", too_deep)))
    assert "8 ft is over 7 ft" in told


@pytest.mark.pin
def test_a_file_that_states_none_of_it_keeps_its_digest() -> None:
    # Our own: the digest of this text before any of it could be stated.
    assert digest_of(canonical_document(FORD)) == DIGEST
