"""How a line stretches in a file: a word, a point, a power or a table, and what is refused."""

import pytest

from coursekit.files.scenario_file import (
    canonical_document,
    read_scenario_text,
    scenario_from_document,
)
from coursekit.rigging.gear import Stretch
from coursekit.scenario.model import Scenario
from tests.shell.files.ford import FILE, FORD, changed, line_of, problem_at

STATED = "stretch: {strain: 30 %, at: 100 %}"
CURVE = "{curve: [[5 %, 10 %], [15 %, 40 %], [30 %, 100 %]]}"


def stretching(stretch: str) -> str:
    return changed((STATED, f"stretch: {stretch}"))


def read(text: str) -> Scenario:
    return read_scenario_text(text, FILE)


@pytest.mark.parametrize(
    ("written", "stretch"),
    [
        ("{strain: 30 %}", Stretch(0.3)),
        ("{strain: 30 %, exponent: 1.5}", Stretch(0.3, 1.0, 1.5)),
        ("{strain: 20 %, at: 50 %, exponent: 3}", Stretch(0.2, 0.5, 3.0)),
        (CURVE, Stretch(0.3, 1.0, curve=((0.05, 0.10), (0.15, 0.40), (0.30, 1.00)))),
        ("low", Stretch(None)),
    ],
)
def test_a_stretch_is_read_and_stored_as_it_is(written: str, stretch: Stretch) -> None:
    text = stretching(written)
    stored = scenario_from_document(canonical_document(text), "stored")

    assert read(text).situation.gear["rope-k"].stretch == stretch
    assert stored.situation.gear["rope-k"].stretch == stretch
    assert stored.digest == read(text).digest


@pytest.mark.parametrize(
    ("written", "field", "words"),
    [
        ("{}", "strain", "It is missing. Add for example strain: 30 %"),
        ("{exponent: 2}", "strain", "It is missing"),
        ("{strain: 0.001 %}", "strain", "less than any line has. Write low"),
        ("{strain: 30 %, exponent: 0.5}", "exponent", "no rope grows softer"),
        ("{strain: 30 %, exponent: 11}", "exponent", "over 10"),
        ("{strain: 30 %, exponent: 2 kN}", "exponent", "a ratio is needed"),
        ("{curve: [[5 %, 10 %]]}", "curve", "needs two points or more. Add another"),
        ("{curve: [[5 %, 10 %], [5 %, 40 %]]}", "curve", "does not rise to [5 %, 40 %]. Write"),
        ("{curve: [[5 %, 40 %], [15 %, 10 %]]}", "curve", "does not rise to [15 %, 10 %]"),
        ("{curve: [[0 %, 10 %], [15 %, 40 %]]}", "curve.0", "0 % is not above zero"),
        ("{curve: [[5 %, 10 %], [115 %, 40 %]]}", "curve.1", "over 100 %"),
        ("{curve: [[5 %, 10 %], [15 %]]}", "curve.1", "two shares. Write [strain, share of MBS]"),
        ("{curve: [[5 %, 10 kN], [15 %, 40 %]]}", "curve.0", "a ratio is needed"),
        ("{curve: [[0.001 %, 10 %], [0.002 %, 40 %]]}", "curve", "Write low"),
        ("{curve: 5 %}", "curve", "A list is needed here"),
        ("{strain: 30 %, curve: [[5 %, 10 %], [15 %, 40 %]]}", "strain", "Take this key out"),
        ("{at: 50 %, curve: [[5 %, 10 %], [15 %, 40 %]]}", "at", "by itself"),
        ("{exponent: 2, curve: [[5 %, 10 %], [15 %, 40 %]]}", "exponent", "by itself"),
    ],
)
def test_a_stretch_that_cannot_be_names_its_line_its_field_and_its_mend(
    written: str, field: str, words: str
) -> None:
    text = stretching(written)
    problem = problem_at(f"gear.rope-k.stretch.{field}", text)

    assert problem.startswith(f"{FILE}:{line_of('stretch: {strain')}: ")
    assert words in problem


def test_worked_rope_and_the_factors_of_the_school_are_read() -> None:
    text = changed(
        ("wet: false,", "worked: true, wet: true,"),
        ("policy: {}", "policy: {worked_stiffness: 1.3, wet_stiffness: 1.1}"),
    )
    situation = read(text).situation

    assert situation.gear["rope-k"].worked
    assert not situation.gear["old-strap"].worked
    assert situation.policy.worked_stiffness == pytest.approx(1.3)
    assert situation.policy.wet_stiffness == pytest.approx(1.1)


@pytest.mark.parametrize("key", ["worked_stiffness", "wet_stiffness"])
def test_a_factor_that_would_make_a_rope_softer_is_refused(key: str) -> None:
    problem = problem_at(f"policy.{key}", changed(("policy: {}", f"policy: {{{key}: 0.9}}")))

    assert "takes safety away" in problem


def test_what_a_file_leaves_out_is_not_stored_of_it() -> None:
    document = canonical_document(FORD)

    assert document["gear"]["rope-k"]["stretch"] == {"strain": "30 %", "at": "100 %"}
    assert "worked" not in document["gear"]["rope-k"]
    assert "policy" not in document
