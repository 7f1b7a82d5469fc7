"""A finding told a student who thinks in feet and pounds about metres and kilonewtons."""

from __future__ import annotations

import pytest

from coursekit.assessment.marking import mark_paper
from coursekit.assessment.replies import RigReply
from coursekit.quantities.voice import shower, units_of
from tests.core.scenario.stock import scenario


@pytest.mark.parametrize(
    ("name", "rig", "said"),
    [
        # 90 + 10 ft less ten wraps of pi x 2.875 in, for 30 m; loads up, capacities down.
        ("wash-road", "short", "The way is 98.5 ft, and only 92.4 ft of line can be used."),
        ("snow-lane", "one-line", "The winch has 4,480 lbf on its working layer"),
        ("ford-exit", "one-line", "The winch has 23.2 kN on its working layer"),
    ],
)
def test_a_finding_speaks_in_the_units_of_its_scenario(name: str, rig: str, said: str) -> None:
    own = scenario(name)
    show = shower(units_of(own))
    paper = mark_paper(own, {"build": RigReply(own.rigs[rig])}, show)
    build = next(mark for mark in paper.tasks if mark.task == "build")

    assert any(str(message).startswith(said) for message in build.feedback)
    assert any(str(stop).startswith(said) for stop in paper.stops)
    assert any(str(found.message).startswith(said) for found in build.findings)
