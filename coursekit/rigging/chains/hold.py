"""A line that keeps the vehicle from running away, and the force it carries."""

from __future__ import annotations

from coursekit.rigging.chains.winch import drum_steps, length_steps
from coursekit.rigging.plan import NO_COMPONENT, LinePlan, dot, unit_vector
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import Slip, Step, Term, Values


def hold_prefix(number: int) -> str:
    """Return how the keys of a holding line begin, the first being number 1.

    >>> hold_prefix(1), hold_prefix(2)
    ('hold.', 'hold.2.')
    """
    return "hold." if number == 1 else f"hold.{number}."


def holding_share(situation: Situation, plan: LinePlan) -> float:
    """Return how much of the line's force acts against the exit; it holds when above 0."""
    return -dot(plan.force_on("stuck_vehicle"), unit_vector(situation.stuck.exit or 0.0))


def runs_away(values: Values) -> bool:
    """Whether the vehicle rolls off by itself; a share of its weight that is float dust is none."""
    return bool(values["runaway"] > NO_COMPONENT * values["weight"])


def _load(values: Values, share: float) -> float | None:
    """Return the force in a line: without meaning only where it should hold, and can't."""
    if share > NO_COMPONENT:
        load: float = values["runaway"] / share
        return load
    return None if runs_away(values) else 0.0


def hold_steps(situation: Situation, plan: LinePlan, number: int) -> tuple[Step, ...]:
    """Return the steps of one holding line; with several, each is held to carry it all."""
    prefix = hold_prefix(number)
    share = holding_share(situation, plan)
    return (
        Step(
            f"{prefix}load",
            "force in the holding line",
            "F_h",
            "N",
            "F_h = H / share of the line against the exit",
            "balance along the exit; statics",
            lambda v: _load(v, share),
            ("runaway",),
            (
                Slip(
                    "weight-for-hold",
                    "the whole weight taken",
                    lambda v: v["weight"],
                    "{given} is the weight; the holding line carries what rolling does not "
                    "hold: {truth}.",
                ),
            ),
            expression="{runaway} / {c_h}" if share > NO_COMPONENT else "",
            terms=(Term("c_h", "share of the line against the exit", "-", share),),
        ),
        *length_steps(situation, plan, prefix),
        *drum_steps(situation, plan, prefix),
    )
