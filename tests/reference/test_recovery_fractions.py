"""Resistance by surface, by degrees and by depth, as recovery crews reckon it."""

import pytest

from coursekit.mechanics.line import field_rule_advantage, pull_needed
from coursekit.mechanics.resistance import (
    bogging_resistance,
    grade_resistance_field_rule,
    rolling_resistance_field_rule,
    total_resistance,
)
from coursekit.mechanics.tables import BOGGING, SURFACES
from tests.reference.sources import printed, radians, source

FRACTIONS = "Commonwealth army recovery fractions"
ARMY = "FM 20-22 and FM 9-43-2, wheel, fender and turret depth, from memory"


@source(f"{FRACTIONS}, second-hand: 4,500 lb on hard wet sand at a sixth")
def test_4500_pounds_on_hard_wet_sand_roll_at_750_pounds() -> None:
    assert rolling_resistance_field_rule(4_500.0, 1 / 6) == printed("750")


@source(f"{FRACTIONS}, second-hand and from memory; our rows keep two digits of them")
@pytest.mark.parametrize(
    ("surface", "divisor"),
    [
        ("wet-grass", 7),
        ("hard-wet-sand", 6),
        ("soft-wet-sand", 5),
        ("shallow-mud", 3),
        ("deep-mud", 2),
    ],
)
def test_a_surface_costs_its_fraction_of_the_weight(surface: str, divisor: int) -> None:
    assert SURFACES[surface].rolling == pytest.approx(1 / divisor, abs=0.005)


@source(f"{FRACTIONS}, degrees over sixty, from memory")
@pytest.mark.parametrize(
    ("degrees", "share"),
    [(5, ".0833"), (15, ".2500"), (30, ".5000"), (35, ".5833"), (45, ".7500")],
)
def test_a_slope_costs_its_degrees_over_sixty(degrees: int, share: str) -> None:
    assert grade_resistance_field_rule(1.0, radians(degrees), 0.0) == printed(share)


@source(ARMY)
@pytest.mark.parametrize(("depth", "multiple"), [("hubs", 1), ("sills", 2), ("bonnet", 3)])
def test_a_bog_holds_with_one_two_or_three_weights(depth: str, multiple: int) -> None:
    assert bogging_resistance(8_000.0, BOGGING[depth]) == multiple * 8_000


@source(f"{ARMY}; tackle by a tenth for each sheave, as TB 9-2350-292-10, steps 2 to 5")
@pytest.mark.parametrize(
    ("weight", "depth", "parts", "sheaves", "pull"),
    [
        (6_000.0, "hubs", 1, 0, "6,000"),
        (8_000.0, "sills", 2, 1, "8,800"),
        (8_000.0, "bonnet", 3, 2, "9,600"),
        (8_000.0, "bonnet", 4, 3, "7,800"),
    ],
)
def test_the_pull_on_the_winch_line_follows_the_steps_of_the_bulletin(
    weight: float, depth: str, parts: int, sheaves: int, pull: str
) -> None:
    load = total_resistance(0.0, 0.0, bogging_resistance(weight, BOGGING[depth]))

    assert pull_needed(load, field_rule_advantage(parts, sheaves)) == printed(pull)
