"""A vehicle on its side and the width of a drum, as a file states them."""

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


def test_the_width_of_a_drum_is_read_and_refused_like_any_length() -> None:
    text = changed(("dead_wraps: 10,", "dead_wraps: 10, drum_width: 230 mm,"))
    recovery = read_scenario_text(text, FILE).situation.recovery

    assert recovery is not None
    assert recovery.winch is not None
    assert recovery.winch.drum_width == pytest.approx(0.230)
    wrong = text.replace("230 mm", "230 kg")
    assert "a length is needed" in problem_at("recovery_vehicle.winch.drum_width", wrong)
