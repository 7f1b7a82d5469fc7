"""Advantage of a line that passes pulleys, and the pull it needs at its start."""

from __future__ import annotations

from collections.abc import Iterator

from coursekit.mechanics.elementary import hypot
from coursekit.mechanics.line import field_rule_advantage, pull_needed
from coursekit.rigging.plan import (
    LinePlan,
    Vector,
    angle_between,
    dot,
    has_component,
    unit_vector,
)
from coursekit.rigging.site import FIELD_RULE, Situation
from coursekit.rigging.steps import DANGEROUS, PART_LEFT_OUT, Rule, Slip, Step, Term, Values

STUCK = "stuck_vehicle"
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
    if situation.method == FIELD_RULE:
        ideal_value, actual_value = float(parts), field_rule_advantage(parts, pulleys)
        formula, source = "MA / (1 + 0.10 n)", FIELD_RULE_SOURCE
        ideal_sum, actual_sum = "{n_p}", "{advantage.ideal} / (1 + 0.10 * {n})"
        terms = _counts(parts, pulleys)
    else:
        ideal_value = dot(plan.force_on("stuck_vehicle", ideal), exit_way)
        actual_value = dot(plan.force_on("stuck_vehicle"), exit_way)
        formula, source = "sum of t u along the exit, t falling at each pulley", VECTOR_SOURCE
        terms = _shares(plan, exit_way)
        ideal_sum = " + ".join(f"cos({{{angle.symbol}}})" for angle in terms[1::2])
        actual_sum = " + ".join(
            f"{{{t.symbol}}} * cos({{{angle.symbol}}})"
            for t, angle in zip(terms[::2], terms[1::2], strict=True)
        )
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
            limits="no friction anywhere: a bound that no rig reaches",
            expression=ideal_sum,
            terms=terms,
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
            expression=actual_sum,
            terms=terms,
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
            expression="{resistance.total} / {advantage.actual}",
        ),
    )


def _counts(parts: int, pulleys: int) -> tuple[Term, ...]:
    return (
        Term("n_p", "line parts that bear on the vehicle", "count", parts),
        Term("n", "pulleys in the line", "count", pulleys),
    )


def _shares(plan: LinePlan, exit_way: Vector) -> tuple[Term, ...]:
    """Return the share and the angle off the exit of each line part on the vehicle, in turn."""
    straight = [1.0] * len(plan.tensions)
    ways = [way for at in plan.stations_on(STUCK) for way in plan.parts_at(at, straight)]
    pulls = [part for at in plan.stations_on(STUCK) for part in plan.parts_at(at)]
    terms: list[Term] = []
    for n, (way, pull) in enumerate(zip(ways, pulls, strict=True), start=1):
        words = {"n": n}
        terms += (
            Term(f"t{n}", "share of the pull in part {n}", "-", _size(pull), words=words),
            Term(
                f"a{n}", "angle of part {n} off the exit", "rad", _off(way, exit_way), words=words
            ),
        )
    return tuple(terms)


# Worked out only where they are shown: a solution in many cases has no need of them.
def _size(vector: Vector) -> Rule:
    return lambda _v: hypot(*vector)


def _off(way: Vector, exit_way: Vector) -> Rule:
    return lambda _v: angle_between(way, exit_way)


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
                "not larger, {given}.",
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
            "{given} is the number of pulleys; count the line parts that bear on the vehicle, "
            "which gives {truth}.",
        )
    if redirects:
        yield Slip(
            "redirect-for-advantage",
            "a redirect counted as an advantage",
            lambda v: v["advantage.ideal"] + redirects,
            "{given} counts a pulley at an anchor, which turns the line and adds nothing: only "
            "parts that bear on the vehicle count, which gives {truth}.",
            DANGEROUS,
        )
