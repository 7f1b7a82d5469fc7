"""Each task shows one strand: the one it names, else that of what it asks for."""

import pytest

from coursekit.files.quantity_names import ASKABLE
from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import read_scenario, read_scenario_text
from coursekit.scenario.strands import STRANDS, strand_of
from coursekit.scenario.tasks import QuantityTask
from tests.shell.files.ford import FORD


@pytest.mark.parametrize("name", ASKABLE)
def test_everything_that_can_be_asked_for_has_a_strand(name: str) -> None:
    assert strand_of(QuantityTask("t", 1.0, of=name)) in STRANDS


def test_the_schools_scenarios_reach_every_strand() -> None:
    paths = resource_dir("scenarios").glob("*.yaml")
    found = {strand_of(task) for path in paths for task in read_scenario(path).tasks}

    assert found == set(STRANDS)


def test_a_file_may_name_another_strand_which_makes_it_another_scenario() -> None:
    plain = read_scenario_text(FORD, "text")
    named = read_scenario_text(
        FORD.replace("- {id: total, ", "- {id: total, strand: decision, "), "text"
    )

    assert strand_of(plain.task("total")) == "resistance"
    assert strand_of(named.task("total")) == "decision"
    assert named.digest != plain.digest
