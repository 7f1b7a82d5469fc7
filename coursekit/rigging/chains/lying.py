"""What holds a vehicle that lies on its side: righting it stands in place of rolling."""

from __future__ import annotations

from coursekit.mechanics import resistance
from coursekit.mechanics.elementary import cos
from coursekit.mechanics.righting import righting_resistance
from coursekit.rigging.chains.ground import (
    BOGGING,
    GRADE,
    GRADE_FIELD_RULE,
    SLOPE,
    WEIGHT,
    WEIGHT_FOR_RESISTANCE,
)
from coursekit.rigging.site import FIELD_RULE
from coursekit.rigging.steps import DANGEROUS, Slip, Step

NO_WHEEL_TURNS = "on its side no wheel turns; derived here"

ROLLING_NONE = Step(
    key="resistance.rolling",
    name="rolling resistance",
    symbol="R_r",
    unit="N",
    formula="R_r = 0: the vehicle lies on its side",
    source=NO_WHEEL_TURNS,
    rule=lambda _v: 0.0,
    slips=(
        Slip(
            "rolling-while-lying",
            "rolling counted though no wheel turns",
            lambda v: v["coefficient"] * v["weight"] * cos(v["slope"]),
            "{given} is what it takes to roll; on its side no wheel turns, so it is {truth}.",
        ),
    ),
)
RIGHTING = Step(
    key="resistance.righting",
    name="resistance to being righted",
    symbol="R_t",
    unit="N",
    formula="R_t = W / 2",
    source="overturned vehicle, US Army recovery manuals, from memory; W h / b with the centre "
    "of gravity half a width above the wheels, derived here",
    rule=lambda v: righting_resistance(v["weight"]),
    needs=("weight",),
    slips=(
        Slip(
            "weight-for-righting",
            "the whole weight taken",
            lambda v: v["weight"],
            "{given} would lift the vehicle off the ground; tipped over its edge it takes half "
            "of that, {truth}.",
        ),
        Slip(
            "rolling-for-righting",
            "rolling taken for righting",
            lambda v: v["coefficient"] * v["weight"] * cos(v["slope"]),
            "{given} rolls a vehicle that stands on its wheels; to right it takes {truth}.",
            DANGEROUS,
        ),
    ),
    limits="a level pull on the upper side, square to the vehicle, which does not slide",
    expression="{weight} / 2",
)
TOTAL_LYING = Step(
    key="resistance.total",
    name="total resistance",
    symbol="R",
    unit="N",
    formula="R = max(0, R_g) + R_t",
    source="sum of the parts; that an uphill grade is added to righting, and a downhill grade "
    "not taken off, is our choice on the safe side",
    rule=lambda v: resistance.total_resistance(
        v["resistance.grade"], v["resistance.rolling"], v["resistance.righting"]
    ),
    needs=("resistance.grade", "resistance.rolling", "resistance.righting"),
    slips=(
        Slip(
            "downhill-taken-off",
            "a downhill grade taken off",
            lambda v: (
                v["resistance.righting"] + v["resistance.grade"]
                if v["resistance.grade"] < 0.0
                else None
            ),
            "The slope may not help while the vehicle tips: count {truth}, not {given}.",
            DANGEROUS,
        ),
        WEIGHT_FOR_RESISTANCE,
    ),
    expression="max(0, {resistance.grade}) + {resistance.righting}",
)
RUNAWAY_NONE = Step(
    key="runaway",
    name="force with which it would roll away",
    symbol="H",
    unit="N",
    formula="H = 0: its wheels do not point along the exit",
    source=NO_WHEEL_TURNS,
    rule=lambda _v: 0.0,
)


def lying_steps(method: str) -> tuple[Step, ...]:
    """Return the steps of the ground for a vehicle on its side, by a method of reckoning."""
    grade = GRADE_FIELD_RULE if method == FIELD_RULE else GRADE
    return (SLOPE, WEIGHT, grade, ROLLING_NONE, BOGGING, RIGHTING, TOTAL_LYING, RUNAWAY_NONE)
