"""A stuck vehicle that lies on its side, and what it can't be at the same time."""

import pytest

from coursekit.files.scenario_file import canonical_document, read_scenario_text
from tests.shell.files.ford import FILE, FORD, changed, problem_at

LIES = ("  travel: 6 m\n", "  lying: side\n")


def test_a_vehicle_on_its_side_is_read_and_others_store_nothing_of_it() -> None:
    situation = read_scenario_text(changed(LIES), FILE).situation

    assert situation.stuck.lying == "side"
    assert read_scenario_text(FORD, FILE).situation.stuck.lying is None
    assert "lying" not in canonical_document(FORD)["stuck_vehicle"]


@pytest.mark.parametrize(
    ("changes", "field", "words"),
    [
        ([("  travel", "  lying: roof\n  travel")], "stuck_vehicle.lying", "Known here: side"),
        ([("  travel", "  lying: side\n  travel")], "stuck_vehicle.travel", "Take travel out"),
        ([LIES, ("bogged: none", "bogged: hubs")], "ground.bogged", "Write bogged: none"),
    ],
)
def test_what_does_not_go_with_it_is_refused_with_its_mend(
    changes: list[tuple[str, str]], field: str, words: str
) -> None:
    assert words in problem_at(field, changed(*changes))
