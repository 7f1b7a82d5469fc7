"""Economy: no more pieces than the best safe rig that gear and site allow."""

from dataclasses import replace

import pytest

from coursekit.assessment import thrift as thrifts
from coursekit.assessment.bench import Bench
from coursekit.assessment.marking import mark_paper
from coursekit.assessment.marks import TaskMark
from coursekit.assessment.replies import RigReply
from coursekit.assessment.thrift import Thrift, searched_pieces, thrift
from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import read_scenario
from coursekit.quantities.voice import shower, units_of
from coursekit.rigging.rig import Rig
from coursekit.rigging.search import safe_rigs
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import RigTask

SCHEME = {"safe": 2.0, "economy": 1.0}
NOTHING_NAMED = float("inf")


def scenario_of(name: str) -> Scenario:
    """Return a scenario that asks for a rig, none of its own rigs named."""
    scenario = read_scenario(resource_dir("scenarios") / f"{name}.yaml")
    return replace(scenario, tasks=(RigTask("build", 3.0, scheme=SCHEME),), rigs={})


def mark_of(scenario: Scenario, rig: Rig) -> TaskMark:
    (mark,) = mark_paper(scenario, {"build": RigReply(rig)}, shower(units_of(scenario))).tasks
    return mark


def safe_ways(scenario: Scenario, method: str) -> list[Rig]:
    return [found.rig for found in safe_rigs(scenario.situation).rigs if found.rig.method == method]


def test_a_thrifty_rig_that_no_file_names_earns_its_economy() -> None:
    scenario = scenario_of("gully-bend")
    best, *others = safe_ways(scenario, "winch")
    dearer = next(rig for rig in others if rig.pieces > best.pieces)

    assert mark_of(scenario, best).marks == 3.0
    assert mark_of(scenario, dearer).marks == 2.0
    assert f"with {best.pieces} pieces, and this rig has {dearer.pieces}" in " ".join(
        str(said) for said in mark_of(scenario, dearer).feedback
    )


def test_a_rig_is_held_against_its_own_method() -> None:
    """A winch pull is no waste because a bold tow would have taken one piece less."""
    scenario = scenario_of("wash-road")
    found = searched_pieces(scenario)
    assert found is not None
    assert found["tow"] < found["winch"]

    assert mark_of(scenario, safe_ways(scenario, "winch")[0]).marks == 3.0


def test_what_the_scenario_itself_names_as_good_is_never_marked_down() -> None:
    scenario = scenario_of("gully-bend")

    assert thrift(scenario, "winch", 10) == Thrift(10, is_searched=True)
    assert thrift(scenario, "winch", 5) == Thrift(7, is_searched=True)
    assert thrift(scenario, "winch", NOTHING_NAMED) == Thrift(7, is_searched=True)


def test_a_search_that_is_cut_off_leaves_the_named_rigs_and_says_so(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(thrifts, "MOST_SOLVES", 1)
    named = read_scenario(resource_dir("scenarios") / "gully-bend.yaml")
    scenario = replace(scenario_of("gully-bend"), rigs={"given": named.rigs["given"]})
    dearest = max(safe_ways(scenario, "winch"), key=lambda rig: rig.pieces)
    bench = Bench(scenario, shower(units_of(scenario)))

    assert bench.thrift(dearest) == Thrift(10, is_searched=False)
    said = " ".join(str(words) for words in mark_of(scenario, dearest).feedback)
    assert ("Only the rigs of the scenario were compared" in said) == (dearest.pieces > 10)


def test_a_variation_is_searched_once() -> None:
    once, again = scenario_of("gully-bend"), scenario_of("gully-bend")

    assert once is not again
    assert searched_pieces(once) is searched_pieces(again)
