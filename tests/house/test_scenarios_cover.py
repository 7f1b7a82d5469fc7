"""The scenarios of the repository leave out nothing that the solver knows."""

from coursekit.files.quantity_names import ASKABLE
from coursekit.files.resources import resource_dir
from coursekit.files.scenario_file import read_scenario
from coursekit.scenario.coverage import coverage_of

FEWEST = 30


def test_every_kind_rule_surface_and_quantity_occurs_in_a_scenario() -> None:
    scenarios = [read_scenario(path) for path in sorted(resource_dir("scenarios").glob("*.yaml"))]

    assert len(scenarios) >= FEWEST
    subjects = coverage_of(scenarios, ASKABLE).subjects
    assert {one.name: one.missing for one in subjects if one.missing} == {}
