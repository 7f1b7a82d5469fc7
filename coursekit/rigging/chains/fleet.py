"""The angle at which line runs onto the winch drum: shown, never judged."""

from __future__ import annotations

from coursekit.mechanics.winch import fleet_angle
from coursekit.rigging.plan import LinePlan
from coursekit.rigging.steps import PART_LEFT_OUT, Slip, Step, Term
from coursekit.rigging.vehicle import Winch


def fleet_step(winch: Winch, plan: LinePlan) -> tuple[Step, ...]:
    """Return the step of the fleet angle; none where the drum's width is not stated."""
    width, lead = winch.drum_width, plan.lengths[0]
    if width is None:
        return ()
    return (
        Step(
            "fleet_angle",
            "fleet angle at the drum",
            "delta",
            "rad",
            "tan(delta) = w / (2 L_1)",
            "geometry; published limits differ: 1.5 deg on a smooth and 2 deg on a grooved drum "
            "(wire rope handbooks, second-hand), 3 and 5 deg (NSW dogging and rigging guide)",
            lambda _v: fleet_angle(width, lead),
            slips=(
                Slip(
                    "full-width",
                    "the full width of the drum taken",
                    lambda _v: fleet_angle(2 * width, lead),
                    "{given} counts from flange to flange; the line leads from the middle, so half "
                    "the width counts: {truth}.",
                    PART_LEFT_OUT,
                ),
            ),
            terms=(
                Term("w", "width of the drum", "m", width),
                Term("L_1", "line to the first pulley, or to its end", "m", lead),
            ),
            limits="the winch faces its line; beyond it the line heaps up at a flange",
        ),
    )
