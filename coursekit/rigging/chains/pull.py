"""Advantage of a line that passes pulleys, and the pull it needs at its start."""

from __future__ import annotations

from collections.abc import Iterator

from coursekit.mechanics.line import field_rule_advantage, pull_needed
from coursekit.rigging.plan import LinePlan, dot, has_component, unit_vector
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, PART_LEFT_OUT, Slip, Step, Values

VECTOR_SOURCE = (
    "vector sum of the line parts that bear on the vehicle; "
    "the tension falls at each pulley by its efficiency"
)
FIELD_RULE_SOURCE = (
    "additive rule, 10 % of the load for each pulley: US Navy Steelworker 3 & 2, "
    "'Allowance for friction'"
)


def pull_steps(situation: Situation, plan: LinePlan) -> tuple[Step, ...]:
    """Return the steps from the total resistance to the pull at the winch."""
    exit_way = unit_vector(situation.stuck.exit or 0.0)
    ideal = [1.0] * len(plan.tensions)
    parts = plan.parts_on("stuck_vehicle")
    pulleys = len(plan.line.pulleys)
    if situation.method == "field-rule":
        ideal_value, actual_value = float(parts), field_rule_advantage(parts, pulleys)
        formula, source = "MA / (1 + 0.10 n)", FIELD_RULE_SOURCE
    else:
        ideal_value = dot(plan.force_on("stuck_vehicle", ideal), exit_way)
        actual_value = dot(plan.force_on("stuck_vehicle"), exit_way)
        formula, source = "sum of t u along the exit, t falling at each pulley", VECTOR_SOURCE
    points_along = has_component(plan.force_on("stuck_vehicle"), exit_way)
    return (
        Step(
            "advantage.ideal",
            "advantage without friction",
            "MA",
            "-",
            "line parts that bear on the vehicle, along the exit",
            source,
            lambda _v: ideal_value,
            slips=tuple(_count_slips(plan)),
            rounds="down",
        ),
        Step(
            "advantage.actual",
            "advantage with friction",
            "A",
            "-",
            formula,
            source,
            lambda _v: actual_value,
            slips=_advantage_slips(plan),
            rounds="down",
        ),
        Step(
            "pull",
            "pull at the winch",
            "F",
            "N",
            "F = R / A",
            "balance of the vehicle along the exit",
            lambda v: (
                pull_needed(v["resistance.total"], v["advantage.actual"])
                if points_along and v["advantage.actual"] > 0.0
                else None
            ),
            ("resistance.total", "advantage.actual"),
            _PULL_SLIPS,
        ),
    )


def _times_advantage(v: Values) -> float:
    product: float = v["resistance.total"] * v["advantage.actual"]
    return product


_PULL_SLIPS = (
    Slip(
        "advantage-left-out",
        "the advantage left out",
        lambda v: v["resistance.total"],
        "{given} is the whole resistance; with an advantage of {advantage} the winch "
        "needs {truth}.",
    ),
    Slip(
        "multiplied-by-advantage",
        "multiplied by the advantage instead of divided",
        _times_advantage,
        "An advantage makes the pull smaller: divide by {advantage}, which gives "
        "{truth}; multiplying gives {given}.",
    ),
)


def _advantage_slips(plan: LinePlan) -> tuple[Slip, ...]:
    pulleys = len(plan.line.pulleys)
    slips = []
    if pulleys:
        slips.append(
            Slip(
                "friction-left-out",
                "the friction of the pulleys left out",
                lambda v: v["advantage.ideal"],
                "Without friction it would be {given}; each pulley takes its share, so it is "
                "{truth}.",
                PART_LEFT_OUT,
            )
        )
        slips.append(
            Slip(
                "friction-on-the-helping-side",
                "friction counted as a help",
                lambda v: v["advantage.ideal"] ** 2 / v["advantage.actual"],
                "Friction never helps the pull: it makes the advantage smaller, {truth}, and "
                "not larger.",
                DANGEROUS,
            )
        )
    return (*slips, *_count_slips(plan))


def _count_slips(plan: LinePlan) -> Iterator[Slip]:
    """Yield what miscounts the parts of line, with friction or without."""
    pulleys = len(plan.line.pulleys)
    redirects = sum(not p.at.startswith("stuck_vehicle.") for p in plan.line.pulleys)
    if pulleys and pulleys != plan.parts_on("stuck_vehicle"):
        yield Slip(
            "pulleys-for-parts",
            "pulleys counted in place of line parts",
            lambda _v: float(pulleys),
            "Count the line parts that bear on the vehicle, not the pulleys.",
        )
    if redirects:
        yield Slip(
            "redirect-for-advantage",
            "a redirect counted as an advantage",
            lambda v: v["advantage.ideal"] + redirects,
            "A pulley at an anchor turns the line and adds nothing: only parts that bear on "
            "the vehicle count.",
            DANGEROUS,
        )
