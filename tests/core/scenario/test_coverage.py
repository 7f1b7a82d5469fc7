"""What scenarios cover: each entry with its scenarios, and what is left out."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import pytest

from coursekit.rigging.layout_kind import layout_kind
from coursekit.rigging.rig import Line, LineEnd, PulleyStation, Rig
from coursekit.scenario.coverage import Coverage, coverage_of
from tests.core.scenario.stock import scenario

STUCK, OAK, HOME = "stuck_vehicle.front", "oak", "recovery_vehicle.front"
ASKED = ("resistance.total", "item.limit")
OWN, OTHER = "stuck_vehicle.winch", "recovery_vehicle.winch"


def subject(coverage: Coverage, name: str) -> dict[str, tuple[str, ...]]:
    return dict(next(each.places for each in coverage.subjects if each.name == name))


def test_an_entry_tells_each_scenario_that_has_it_once() -> None:
    coverage = coverage_of([scenario("meadow-gate"), scenario("wash-road")], ASKED)

    assert coverage.scenarios == 2
    assert subject(coverage, "surfaces")["wet-grass"] == ("meadow-gate",)
    assert subject(coverage, "finding rules")["unfit"] == ("meadow-gate", "wash-road")
    assert subject(coverage, "finding rules")["snatch-sunk"] == ()
    asked = subject(coverage, "quantities asked")
    assert asked["resistance.total"] == ("meadow-gate", "wash-road")
    assert asked["item.limit"] == ("meadow-gate",)


def test_what_no_scenario_has_is_missing_and_the_table_is_not_full() -> None:
    coverage = coverage_of([scenario("meadow-gate")], [])

    assert not coverage.is_full
    (levels,) = [each for each in coverage.subjects if each.name == "levels"]
    assert levels.missing == ("intermediate", "advanced")


def test_gear_counts_where_a_rig_uses_it_and_not_where_it_lies_in_the_box() -> None:
    own = scenario("meadow-gate")
    rigless = replace(own, rigs={})

    assert subject(coverage_of([own], []), "item kinds in a rig")["soft-shackle"]
    assert not subject(coverage_of([rigless], []), "item kinds in a rig")["soft-shackle"]
    # What is unfit is asked for in the box.
    assert subject(coverage_of([rigless], []), "conditions of gear")["melted"]


def _rig(start: str, pulleys: Iterable[str], end: str) -> Rig:
    turns = tuple(PulleyStation(at, "block") for at in pulleys)
    return Rig("winch", (Line(start, ("line",), LineEnd(end), pulleys=turns),))


@pytest.mark.parametrize(
    ("rig", "kind"),
    [
        (_rig(OTHER, [], STUCK), "straight"),
        (_rig(OTHER, [OAK], STUCK), "redirect"),
        (_rig(OTHER, [STUCK], OAK), "double"),
        (_rig(OTHER, [STUCK], HOME), "double"),
        (_rig(OTHER, [OAK, STUCK], "beech"), "redirect and double"),
        (_rig(OTHER, [STUCK, OAK], STUCK), "triple"),
        (_rig(OTHER, ["beech", STUCK, OAK], STUCK), "redirect and triple"),
        (_rig(OTHER, [STUCK, OAK, STUCK], "beech"), "4 parts"),
        (_rig(OWN, [], OAK), "own winch"),
        (_rig(OWN, [OAK], "beech"), "own winch"),
        (_rig(OWN, [OAK], STUCK), "own winch, double"),
        (Rig("tow", _rig(HOME, [], STUCK).lines), "tow"),
    ],
)
def test_a_layout_is_named_as_the_trade_names_it(rig: Rig, kind: str) -> None:
    assert layout_kind(rig) == kind
