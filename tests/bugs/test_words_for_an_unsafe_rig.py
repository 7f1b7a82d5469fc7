"""A rig with a sling on a sharp edge was told that it had little to spare: it used 22 %."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coursekit.assessment.marking import mark_paper
from coursekit.assessment.replies import RigReply
from coursekit.quantities.voice import shower, units_of
from coursekit.scenario.model import Scenario
from coursekit.scenario.tasks import RigTask
from tests.core.scenario.stock import IDS, scenario

SPARE, FEWER, STUCK = "little to spare", "can be done with", "would not bring the vehicle out"
BUILT = [name for name in IDS if any(isinstance(t, RigTask) for t in scenario(name).tasks)]


def words(own: Scenario, rig: str) -> str:
    paper = mark_paper(own, {"build": RigReply(own.rigs[rig])}, shower(units_of(own)))
    return " ".join(
        str(said) for mark in paper.tasks if mark.task == "build" for said in mark.feedback
    )


@pytest.mark.parametrize("name", BUILT)
def test_an_unsafe_rig_hears_nothing_of_spare_and_thrift(name: str) -> None:
    own = scenario(name)
    for rig in set(own.rigs) - {"given", "steel"}:
        said = words(own, rig)

        assert SPARE not in said, rig
        assert FEWER not in said, rig


def test_a_rig_that_leaves_the_vehicle_stuck_hears_so() -> None:
    assert STUCK in words(scenario("canal-verge"), "to-the-wagon")
    assert STUCK not in words(scenario("canal-verge"), "to-the-stone")


def test_a_good_rig_near_its_limit_hears_of_it() -> None:
    own = scenario("meadow-gate")
    # 1,300 kg against 6.2 kN: 49 % of it is used, and 94 % of 680 kg.
    sites = [
        replace(own.situation, gear={**own.situation.gear, "soft-2": soft})
        for soft in (
            replace(own.situation.gear["soft-2"], mbs=None, wll=mass * 9.80665)
            for mass in (1300.0, 680.0)
        )
    ]
    wide, near = (words(replace(own, situation=site), "given") for site in sites)

    assert SPARE not in wide
    assert SPARE in near
