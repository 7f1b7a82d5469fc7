"""A line that keeps the vehicle from running away, and the force it carries."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

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


def must_be_held(situation: Situation, values: Values) -> bool:
    """Whether something has to hold the vehicle: it rolls off, or drops onto its wheels."""
    return situation.stuck.lying is not None or runs_away(values)


def _load(held: Any, share: float, *, must_hold: bool) -> float | None:
    """Return the force in a line: without meaning only where it should hold, and can't."""
    if share > NO_COMPONENT:
        load: float = held / share
        return load
    return None if must_hold else 0.0


def hold_steps(situation: Situation, plan: LinePlan, number: int) -> tuple[Step, ...]:
    """Return the steps of one holding line; with several, each is held to carry it all."""
    prefix = hold_prefix(number)
    share = holding_share(situation, plan)
    load_step = _letting_down_step if situation.stuck.lying else _holding_step
    return (
        replace(load_step(share), key=f"{prefix}load"),
        *length_steps(situation, plan, prefix),
        *drum_steps(situation, plan, prefix),
    )


def _holding_step(share: float) -> Step:
    return Step(
        "hold.load",
        "force in the holding line",
        "F_h",
        "N",
        "F_h = H / share of the line against the exit",
        "balance along the exit; statics",
        lambda v: _load(v["runaway"], share, must_hold=runs_away(v)),
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
        terms=_share_term(share),
    )


def _letting_down_step(share: float) -> Step:
    return Step(
        "hold.load",
        "force in the holding line",
        "F_h",
        "N",
        "F_h = R_t / share of the line against the exit",
        "letting it down past its balance takes as much as righting it at most; derived here",
        lambda v: _load(v["resistance.righting"], share, must_hold=True),
        ("resistance.righting",),
        (
            Slip(
                "weight-for-hold",
                "the whole weight taken",
                lambda v: v["weight"],
                "{given} is the weight; letting the vehicle down onto its wheels takes {truth} "
                "at most.",
            ),
        ),
        expression="{resistance.righting} / {c_h}" if share > NO_COMPONENT else "",
        terms=_share_term(share),
    )


def _share_term(share: float) -> tuple[Term, ...]:
    return (Term("c_h", "share of the line against the exit", "-", share),)
