"""What a file may say of joints and anchors beyond the plain, and what it may not."""

import pytest

from coursekit.files.scenario_file import canonical_document, digest_of, read_scenario_text
from tests.shell.files.ford import FILE, FORD, changed, line_of, problem_at, problems_of

DIGEST = "sha256:325701f90ee55a7e5f50bda55cfe39b853783b5de35d18c50663c575f60c8e2e"
BASKET = "{item: sling-1, hitch: basket, angle: 40 deg}"
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
        "holds: 60 kN,",
        "holds: 60 kN, mass: 3 t,",
        "anchors.oak.mass",
        "Only a vehicle is held by its mass. Take the key out",
    ),
    (
        "kind: tree, at: [30, -4], holds: 60 kN,",
        "kind: vehicle, at: [30, -4], holds: 60 kN, grip: 0.35,",
        "anchors.oak.grip",
        "The grip says nothing without the mass of the vehicle. Add for example mass: 3000 kg",
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
    (
        "kind: tree, at: [30, -4], holds: 60 kN,",
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


@pytest.mark.pin
def test_a_file_that_states_none_of_it_keeps_its_digest() -> None:
    # Our own: the digest of this text before any of it could be stated.
    assert digest_of(canonical_document(FORD)) == DIGEST
