"""A file whose vehicle lies on its side, and what it can't be at the same time."""

import pytest

from coursekit.files.scenario_file import read_scenario_text
from coursekit.problems import Problems
from coursekit.rigging.solver import solve
from tests.shell.files.ford import FORD

LIES = FORD.replace("  exit: ", "  lying: side\n  exit: ", 1)


def told(text: str) -> str:
    with pytest.raises(Problems) as raised:
        read_scenario_text(text, "ford-exit.yaml")
    return str(raised.value)


def unhindered(text: str) -> str:
    lines = text.splitlines(keepends=True)
    return "".join(line for line in lines if "bogged:" not in line and "travel:" not in line)


def test_a_vehicle_on_its_side_is_righted() -> None:
    scenario = read_scenario_text(unhindered(LIES), "ford-exit.yaml")
    assert scenario.situation.stuck.lying == "side"
    values = solve(scenario.situation, scenario.rigs["given"]).values
    assert values["resistance.righting"] == pytest.approx(values["weight"] / 2)


def test_it_lies_in_no_other_way() -> None:
    text = unhindered(LIES).replace("lying: side", "lying: roof")
    assert "stuck_vehicle.lying: " in told(text)


def test_it_neither_sinks_nor_travels() -> None:
    text = unhindered(LIES).replace("  lying: side\n", "  lying: side\n  travel: 3 m\n")
    assert "A vehicle is righted where it lies: it does not travel" in told(text)
    text = unhindered(LIES).replace("ground:\n", "ground:\n  bogged: hubs\n")
    assert "A vehicle on its side is not bogged to a depth" in told(text)
