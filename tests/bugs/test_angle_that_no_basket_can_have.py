"""An answer that carries an angle too wide for any basket is marked, and brings nothing down."""

from pathlib import Path

from coursekit.files.scenario_file import read_scenario
from coursekit.services.marking import marked

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def test_a_wrong_limit_after_an_angle_too_wide_for_a_basket_is_marked() -> None:
    scenario = read_scenario(SCENARIOS / "poplar-turn.yaml")

    paper = marked(scenario, {"angle": "127 deg", "limit": "6.17 short ton"}, "en")

    verdicts = {mark.task: mark.verdict for mark in paper.tasks}
    assert verdicts["angle"] == verdicts["limit"] == "wrong"
