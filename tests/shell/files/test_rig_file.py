"""A rig survives its document, and a document that is no rig says why."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coursekit.files.rig_file import read_rig, rig_document, rig_from_document
from coursekit.files.scenario_file import read_scenario_text
from coursekit.problems import Problems, Where
from coursekit.rigging.rig import Line, LineEnd, Piece, PulleyStation, Rig
from tests.shell.files.ford import FILE, FORD, problems_raised

SCENARIO = read_scenario_text(FORD, FILE)
SITUATION = SCENARIO.situation
HERE = Where("answers.build", 7, "answers.yaml")
GEAR = st.sampled_from(sorted(SITUATION.gear))
SAFE_ANGLES = st.one_of(
    st.just(0.0),
    st.integers(1, 180).map(lambda degrees: degrees * 3.141592653589793 / 180.0),
    st.floats(1e-6, 3.1415926),
)
HITCHES = st.sampled_from(["straight", "choker", "basket"])
PIECES = st.lists(
    st.builds(Piece, item=GEAR)
    | st.builds(Piece, st.just("sling-1"), HITCHES, st.none() | SAFE_ANGLES)
    | st.builds(Piece, st.just("sling-1"), st.just("choker"), choke=SAFE_ANGLES)
    | st.builds(Piece, st.just("bow-1"), off_line=SAFE_ANGLES),
    max_size=3,
).map(tuple)
ENDS = st.builds(LineEnd, at=st.sampled_from(["stuck_vehicle.rear", "oak"]), joined_with=PIECES)
PULLEYS = st.lists(
    st.builds(
        PulleyStation,
        at=st.just("oak"),
        by=st.sampled_from(["ring-1", "block-1"]),
        joined_with=PIECES,
    ),
    max_size=1,
).map(tuple)
PULL_LINES = st.builds(
    Line,
    start=st.just("recovery_vehicle.winch"),
    made_of=st.lists(GEAR, max_size=3).map(lambda more: ("winch-line", *more)),
    to=st.builds(LineEnd, at=st.just("stuck_vehicle.rear"), joined_with=PIECES),
    joined_with=PIECES,
    pulleys=PULLEYS,
    dampers=st.lists(st.just("damper-1"), max_size=2).map(tuple),
)
HOLD_LINES = st.builds(
    Line,
    start=st.just("recovery_vehicle.front"),
    made_of=st.lists(GEAR, min_size=1, max_size=3).map(tuple),
    to=ENDS,
    role=st.just("hold"),
    joined_with=PIECES,
)
RIGS = st.builds(
    lambda pull, hold, speed, drive: Rig("winch", (pull, *hold), speed, drive),
    PULL_LINES,
    st.lists(HOLD_LINES, max_size=2),
    st.none() | st.floats(1e-3, 20.0),
    st.just(0.0) | st.floats(1.0, 1e5),
)


@given(RIGS)
@settings(max_examples=80)
def test_a_rig_survives_its_document(rig: Rig) -> None:
    assert rig_from_document(rig_document(rig), HERE, SITUATION) == rig


@pytest.mark.parametrize("name", SCENARIO.rigs)
def test_the_rigs_of_a_scenario_survive_their_documents(name: str) -> None:
    rig = SCENARIO.rigs[name]

    assert rig_from_document(rig_document(rig), HERE, SITUATION) == rig


def test_an_angle_that_is_round_in_degrees_stays_so_in_the_document() -> None:
    pulley = rig_document(SCENARIO.rigs["turned"])["lines"][0]["pulleys"][0]

    assert pulley["with"][0] == {"item": "sling-1", "hitch": "basket", "angle": "40 deg"}
    assert pulley["with"][1] == "bow-1"


def test_a_rig_is_read_from_its_own_file(tmp_path: Path) -> None:
    path = tmp_path / "rig.yaml"
    path.write_text(
        "method: kinetic\n"
        "lines:\n"
        "  - from: recovery_vehicle.front\n"
        "    made_of: [rope-k]\n"
        "    with: [soft-1]\n"
        "    to: {at: stuck_vehicle.rear, with: [bow-1]}\n"
        "speed: 9 km/h\n"
        "drive: 1.5 kN\n",
        "utf-8",
    )
    rig = read_rig(path, SITUATION)

    assert (rig.method, rig.speed, rig.drive) == ("kinetic", 2.5, 1500.0)
    assert rig.pull_line.joined_with == (Piece("soft-1"),)


def test_a_file_with_mistakes_names_them_all_by_line(tmp_path: Path) -> None:
    path = tmp_path / "rig.yaml"
    path.write_text(
        "method: kinetic\n"
        "lines:\n"
        "  - from: recovery_vehicle.front\n"
        "    made_of: [rope-9]\n"
        "    wiht: [soft-1]\n"
        "    to: {at: elm}\n",
        "utf-8",
    )
    with pytest.raises(Problems) as caught:
        read_rig(path, SITUATION)

    found = [str(problem) for problem in caught.value.items]
    assert [problem.partition(": ")[0] for problem in found] == [
        f"{path}:{line}" for line in (1, 4, 5, 6)
    ]
    assert "A kinetic pull needs its closing speed" in found[0]
    assert "Did you mean with?" in found[2]


def test_problems_of_a_form_are_placed_under_its_field() -> None:
    document = rig_document(SCENARIO.rigs["given"]) | {"method": "pulling"}

    with pytest.raises(Problems) as caught:
        rig_from_document(document, HERE, SITUATION)

    assert str(caught.value) == (
        'answers.yaml:7: answers.build.method: "pulling" is no method known here. '
        "Known here: winch, kinetic, tow."
    )


@pytest.mark.parametrize("document", [{}, {"lines": 3}, {"method": None, "lines": [None, 3, "a"]}])
def test_what_is_no_rig_is_told_so(document: dict[str, object]) -> None:
    with pytest.raises(Problems) as caught:
        rig_from_document(document, HERE, SITUATION)

    assert all(problem.where.field.startswith("answers.build") for problem in caught.value.items)


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=True) | st.text(max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(
                ["method", "lines", "from", "made_of", "with", "to", "at", "item", "pulleys", "by"]
            ),
            inner,
            max_size=4,
        )
    ),
    max_leaves=12,
)


@given(st.dictionaries(st.sampled_from(["method", "lines", "speed", "drive", "x"]), JSON))
@settings(max_examples=120)
def test_any_document_is_a_rig_or_problems(document: dict[str, object]) -> None:
    found = problems_raised(lambda: rig_from_document(document, HERE, SITUATION))

    assert all(problem.where.field.startswith("answers.build") for problem in found)


def test_a_rig_is_frozen_so_that_what_was_marked_stays() -> None:
    rig = SCENARIO.rigs["given"]

    assert replace(rig, speed=2.0) != rig
