"""What holds the stuck vehicle: weight, grade, rolling, bogging, and their total."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from coursekit.mechanics import resistance
from coursekit.mechanics.elementary import atan, cos, degrees, sin, tan
from coursekit.rigging.site import FIELD_RULE
from coursekit.rigging.steps import DANGEROUS, PART_LEFT_OUT, Slip, Step, Values


def _unless_bogged(expression: str) -> Callable[[Values], str]:
    """Return the expression of a step that is nothing where the vehicle is bogged."""
    return lambda v: "" if v["bogging_factor"] else expression


SLOPE = Step(
    key="slope",
    name="slope",
    symbol="theta",
    unit="rad",
    formula="as read on the site",
    source="the scenario",
    rule=lambda v: v["slope_read"],
    needs=("slope_read",),
    rounds="nearest",
    slips=(
        Slip(
            "percent-for-degrees",
            "slope in degrees read as per cent",
            lambda v: atan(degrees(v["slope_read"]) / 100.0),
            "A slope of 10 degrees is not one of 10 per cent: read as per cent it comes to "
            "{given} in place of {truth}.",
            DANGEROUS,
        ),
    ),
)

WEIGHT = Step(
    key="weight",
    name="weight",
    symbol="W",
    unit="N",
    formula="W = m g",
    source="definition of weight; g = 9.80665 m/s2 (ISO 80000-3)",
    rule=lambda v: resistance.weight(v["mass"], v["gravity"]),
    needs=("mass",),
    expression="{mass} * {gravity}",
    slips=(
        Slip(
            "gravity-twice",
            "weight multiplied by g once more",
            lambda v: v["mass"] * v["gravity"] ** 2,
            "{given} comes out when a weight is multiplied by g once more; "
            "mass times g is the weight, {truth}.",
        ),
    ),
)


def _with_angle(angle: Any) -> Any:
    """Return a rule for the vector grade with another slope in place of the true one."""

    def rule(v: Values) -> Any:
        return v["weight"] * angle(v["slope"]) * cos(v["exit_off_uphill"])

    return rule


GRADE_SLIPS = (
    Slip(
        "cosine-for-sine",
        "cosine taken for sine",
        _with_angle(cos),
        "The share of the weight that acts down the slope goes with the sine of the slope; "
        "with the cosine it comes to {given} in place of {truth}.",
    ),
    Slip(
        "tangent-for-sine",
        "tangent taken for sine",
        _with_angle(tan),
        "The tangent of the slope gives {given}; the sine gives {truth}.",
    ),
    Slip(
        "radians-for-degrees",
        "calculator set to radians",
        _with_angle(lambda slope: sin(degrees(slope))),
        "{given} is what a calculator set to radians gives; set to degrees it gives {truth}.",
    ),
    Slip(
        "grade-left-out",
        "the slope left out",
        lambda _v: 0.0,
        "The slope adds {truth}; left out it counts as {given}, and a part of the load is missing.",
        PART_LEFT_OUT,
    ),
    Slip(
        "grade-wrong-sign",
        "uphill and downhill swapped",
        lambda v: -v["resistance.grade"],
        "The grade counts against the pull when the exit leads uphill and with it when it "
        "leads downhill: {truth}, not {given}.",
        DANGEROUS,
    ),
)

GRADE = Step(
    key="resistance.grade",
    name="resistance of the slope",
    symbol="R_g",
    unit="N",
    formula="R_g = W sin(theta) cos(phi)",
    source="component of the weight along the slope; statics",
    rule=lambda v: resistance.grade_resistance(v["weight"], v["slope"], v["exit_off_uphill"]),
    needs=("weight", "slope"),
    slips=GRADE_SLIPS,
    expression="{weight} * sin({slope}) * cos({exit_off_uphill})",
)
GRADE_FIELD_RULE = Step(
    key="resistance.grade",
    name="resistance of the slope",
    symbol="R_g",
    unit="N",
    formula="R_g = W (theta in degrees / 60) cos(phi), up to 45 deg",
    source="Commonwealth army rule, from memory; up to 4.5 % low below 30 deg, "
    "at most 6.1 % high up to 45 deg",
    rule=lambda v: resistance.grade_resistance_field_rule(
        v["weight"], v["slope"], v["exit_off_uphill"]
    ),
    needs=("weight", "slope"),
    slips=GRADE_SLIPS[3:],
    limits="for slopes up to 45 deg",
    expression="{weight} * {slope} / 60° * cos({exit_off_uphill})",
)

_ROLLING_LEFT_OUT = Slip(
    "rolling-left-out",
    "rolling resistance left out",
    lambda _v: 0.0,
    "The ground holds the wheels with {truth}; left out it counts as {given}, and a part of the "
    "load is missing.",
    PART_LEFT_OUT,
)
ROLLING = Step(
    key="resistance.rolling",
    name="rolling resistance",
    symbol="R_r",
    unit="N",
    formula="R_r = c W cos(theta); 0 when bogged",
    source="coefficient of rolling resistance, see the surface table",
    rule=lambda v: (
        0.0
        if v["bogging_factor"]
        else resistance.rolling_resistance(v["weight"], v["coefficient"], v["slope"])
    ),
    needs=("weight", "coefficient", "slope"),
    expression=_unless_bogged("{coefficient} * {weight} * cos({slope})"),
    slips=(
        _ROLLING_LEFT_OUT,
        Slip(
            "full-weight-on-slope",
            "full weight in place of its share across the slope",
            lambda v: v["coefficient"] * v["weight"] * (not v["bogging_factor"]),
            "On a slope only W cos(theta) presses on the ground: {truth}, not {given}.",
        ),
        Slip(
            "weight-for-rolling",
            "the coefficient left out",
            lambda v: v["weight"] * cos(v["slope"]) * (not v["bogging_factor"]),
            "Rolling resistance is a share of the weight, {truth}; {given} is the weight itself.",
        ),
    ),
)
ROLLING_FIELD_RULE = Step(
    key="resistance.rolling",
    name="rolling resistance",
    symbol="R_r",
    unit="N",
    formula="R_r = c W; 0 when bogged",
    source="Commonwealth army rule: a share of the weight for each surface",
    rule=lambda v: (
        0.0
        if v["bogging_factor"]
        else resistance.rolling_resistance_field_rule(v["weight"], v["coefficient"])
    ),
    needs=("weight", "coefficient"),
    expression=_unless_bogged("{coefficient} * {weight}"),
    slips=(_ROLLING_LEFT_OUT,),
)


def _deeper(classes: float) -> Any:
    def rule(v: Values) -> Any:
        factor = v["bogging_factor"]
        return None if factor == 0.0 else v["weight"] * (factor + classes)

    return rule


BOGGING = Step(
    key="resistance.bogging",
    name="resistance of the mud",
    symbol="R_b",
    unit="N",
    formula="R_b = 1 W to the hubs, 2 W to the sills, 3 W to the bonnet",
    source="wheel, fender and turret depth in US Army recovery manuals, from memory",
    rule=lambda v: resistance.bogging_resistance(v["weight"], v["bogging_factor"]),
    needs=("weight", "bogging_factor"),
    limits="a planning number for a sunk vehicle; suction, and what stands in its way, can hold "
    "harder",
    expression="{bogging_factor} * {weight}",
    slips=(
        Slip(
            "bogging-left-out",
            "the mud left out",
            lambda _v: 0.0,
            "Sunk to this depth the mud holds with {truth}; it can't be left out and counted as "
            "{given}.",
            DANGEROUS,
        ),
        Slip(
            "bogged-one-class-lower",
            "depth read one class too shallow",
            _deeper(-1.0),
            "{given} is the figure for a vehicle one class less deep; here it is {truth}.",
            DANGEROUS,
        ),
        Slip(
            "bogged-one-class-deeper",
            "depth read one class too deep",
            _deeper(1.0),
            "{given} is the figure for a vehicle one class deeper; here it is {truth}.",
        ),
    ),
)

WEIGHT_FOR_RESISTANCE = Slip(
    "weight-for-resistance",
    "weight taken for resistance",
    lambda v: v["weight"],
    "{given} is the weight of the vehicle; what holds it is {truth}.",
)
TOTAL = Step(
    key="resistance.total",
    name="total resistance",
    symbol="R",
    unit="N",
    formula="R = max(0, R_g + R_r); when bogged R = max(0, R_g) + R_b",
    source="sum of the parts; that an uphill grade is added to bogging, and a downhill grade "
    "not taken off, is our choice on the safe side",
    rule=lambda v: resistance.total_resistance(
        v["resistance.grade"], v["resistance.rolling"], v["resistance.bogging"]
    ),
    needs=("resistance.grade", "resistance.rolling", "resistance.bogging"),
    expression=lambda v: (
        "max(0, {resistance.grade}) + {resistance.bogging}"
        if v["bogging_factor"]
        else "max(0, {resistance.grade} + {resistance.rolling})"
    ),
    slips=(
        Slip(
            "rolling-added-to-bogging",
            "rolling added to bogging",
            lambda v: (
                v["resistance.total"] + v["coefficient"] * v["weight"] * cos(v["slope"])
                if v["bogging_factor"]
                else None
            ),
            "The bogging figure already holds what the ground does to the wheels: {truth}; "
            "{given} counts it twice.",
        ),
        WEIGHT_FOR_RESISTANCE,
    ),
)

RUNAWAY = Step(
    key="runaway",
    name="force with which it would roll away",
    symbol="H",
    unit="N",
    formula="H = max(0, -(R_g + R_r)); 0 when bogged",
    source="balance along the exit; statics",
    rule=lambda v: (
        0.0
        if v["bogging_factor"]
        else resistance.runaway_force(v["resistance.grade"], v["resistance.rolling"])
    ),
    needs=("resistance.grade", "resistance.rolling"),
    expression=_unless_bogged("max(0, -({resistance.grade} + {resistance.rolling}))"),
)

VECTOR_STEPS = (SLOPE, WEIGHT, GRADE, ROLLING, BOGGING, TOTAL, RUNAWAY)
FIELD_RULE_STEPS = (SLOPE, WEIGHT, GRADE_FIELD_RULE, ROLLING_FIELD_RULE, BOGGING, TOTAL, RUNAWAY)


def ground_steps(method: str) -> tuple[Step, ...]:
    """Return the steps of the ground for a method of reckoning."""
    return FIELD_RULE_STEPS if method == FIELD_RULE else VECTOR_STEPS
