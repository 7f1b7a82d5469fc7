"""A field that the situation calls by another name than the file could not vary: KeyError."""

from coursekit.scenario.numbers import at_values
from tests.core.scenario.stock import scenario


def test_the_length_of_a_buried_log_varies() -> None:
    varied = at_values(scenario("verge-roll"), {"anchors.log.deadman.length": 1.5})
    holdfast = varied.situation.anchors["log"].holdfast
    assert getattr(holdfast, "length", None) == 1.5
