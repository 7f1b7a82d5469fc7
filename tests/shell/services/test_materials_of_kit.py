"""What the store's items are made of, in the words of whoever registered them."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coursekit.rigging.solver import Solution
from coursekit.services.loads import KitInRig, solved_with_kit
from coursekit.wear.consequences import Carried, consequences
from coursekit.wear.ledger import Ending, Kind, Origin, Pull
from tests.core.scenario.stock import scenario


def in_the_store(name: str, rig: str, item: str, material: str | None) -> Solution:
    """Return a rig of a scenario, one of its items the school's own, of the same ratings."""
    stock = scenario(name)
    meant, planned = stock.rigs[rig], stock.situation.gear[item]
    ours = KitInRig(1, "Ours", planned.kind, material, planned.wll, planned.mbs, is_labelled=True)
    kit = {**dict.fromkeys(meant.items()), item: ours}
    return solved_with_kit(stock.situation, meant, kit)


@pytest.mark.parametrize("material", [None, "Nylon", "polyamide", "nylon, double braid", "blue"])
def test_a_wet_rope_loses_strength_however_its_material_is_written(material: str | None) -> None:
    solution = in_the_store("estuary-track", "given", "rope-1", material)

    # Wet nylon keeps 0.85 (UFC 4-159-03); the factor of 3 is common practice, no source.
    assert solution.values["item.rope-1.limit"] == pytest.approx(0.85 * 100_000 / 3)


def test_a_rope_without_a_material_is_not_taken_for_the_scenario_s_better_fibre() -> None:
    stock = scenario("estuary-track")
    planned = replace(stock.situation.gear["rope-1"], material="polyester")
    ours = KitInRig(1, "Ours", planned.kind, None, planned.wll, planned.mbs, is_labelled=True)

    assert ours.rated(planned).is_wet_nylon
    assert not replace(ours, material="polyester").rated(planned).is_wet_nylon


@pytest.mark.parametrize("material", [None, "", "wire", "steel wire", "Steel cable", "braided"])
@pytest.mark.parametrize("rig", ["small-wheel", "smallest-wheel"])
def test_a_wire_line_over_a_small_wheel_is_over_its_limit_however_it_is_written(
    rig: str, material: str | None
) -> None:
    solution = in_the_store("sluice-sill", rig, "winch-line", material)
    planned = in_the_store("sluice-sill", rig, "winch-line", "wire")

    assert "over-limit" in {finding.rule for finding in solution.findings}
    assert solution.values["stand_off"] == planned.values["stand_off"]


def test_an_item_without_a_legible_label_still_has_its_material() -> None:
    planned = scenario("sluice-sill").situation.gear["winch-line"]
    ours = KitInRig(1, "Ours", planned.kind, "HMPE", None, None, is_labelled=False)

    assert not ours.rated(planned).is_wire


@pytest.mark.parametrize(
    ("material", "kind"),
    [
        ("synthetic", Kind.RETIRED),
        (None, Kind.RETIRED),
        ("braided", Kind.RETIRED),
        ("wire", Kind.QUARANTINED),
        ("steel wire", Kind.QUARANTINED),
    ],
)
def test_a_line_over_its_limit_retires_unless_it_says_that_it_is_wire(
    material: str | None, kind: Kind
) -> None:
    line = KitInRig(1, "Line", "winch-line", material, None, 88_000.0, is_labelled=True)
    pull = Pull("winch", Ending.CAME_FREE, Origin.SOLVED, load=50_000.0, limit=44_000.0)

    [found] = consequences([Carried("1", pull, line.is_textile, line.is_elastic)])

    assert found.kind is kind
