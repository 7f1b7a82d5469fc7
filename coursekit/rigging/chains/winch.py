"""Line on the drum: length needed and available, working layer, pull on that layer."""

from __future__ import annotations

from coursekit.mechanics import winch as drum_rules
from coursekit.mechanics.tables import DEAD_WRAPS
from coursekit.rigging.gear import Item
from coursekit.rigging.plan import LinePlan
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, PART_LEFT_OUT, Slip, Step, Values
from coursekit.rigging.vehicle import Winch

LENGTH_SOURCE = "lengths on the plan and as marked"
DEAD_WRAP_SOURCE = (
    "5 wraps on wire: TM 9-2320-279-10-2, p. 2-660; 10 on synthetic: common practice, no source"
)
LAYER_SOURCE = "constant torque at the drum; meets TM 9-2320-279-10-2, table 2-7, within 0.1 %"


def length_steps(situation: Situation, plan: LinePlan, prefix: str = "") -> tuple[Step, ...]:
    """Return the steps for the line needed and the line at hand."""
    gear = [situation.gear[item] for item in plan.line.made_of]
    lengths = sum(item.line_length for item in gear)
    dead = _dead_length(situation, plan)
    straight = plan.lengths[0]
    needed_slips = (
        (
            Slip(
                "first-part-only",
                "only the first part of the line counted",
                lambda _v: straight,
                "{given} is the way to the first pulley; the whole path is {truth}.",
                PART_LEFT_OUT,
            ),
        )
        if plan.line.pulleys
        else ()
    )
    dead_slips = (
        (
            Slip(
                "dead-wraps-left-out",
                "the wraps that stay on the drum left out",
                lambda _v: lengths,
                "{given} is the whole line; with the wraps that must stay on the drum {truth} "
                "can be used.",
                PART_LEFT_OUT,
            ),
        )
        if dead
        else ()
    )
    return (
        Step(
            f"{prefix}line.needed",
            "line needed",
            "L",
            "m",
            "length of the path, station by station",
            LENGTH_SOURCE,
            lambda _v: plan.length,
            slips=needed_slips,
        ),
        Step(
            f"{prefix}line.available",
            "line at hand",
            "L_a",
            "m",
            "all lengths less the dead wraps on layer 1",
            DEAD_WRAP_SOURCE if dead else LENGTH_SOURCE,
            lambda _v: lengths - dead,
            slips=dead_slips,
            rounds="down",
        ),
    )


def winch_of(situation: Situation, plan: LinePlan) -> Winch | None:
    """Return the winch that a line starts at."""
    vehicle = situation.vehicle_at(plan.line.start)
    return vehicle.winch if vehicle and plan.line.starts_at_winch else None


def _dead_length(situation: Situation, plan: LinePlan) -> float:
    winch = winch_of(situation, plan)
    if winch is None:
        return 0.0
    wraps = winch.dead_wraps
    if wraps is None:
        own = situation.gear.get(winch.line)
        wraps = DEAD_WRAPS["wire" if own and own.is_wire else "synthetic"]
    return drum_rules.dead_wrap_length(winch.drum, winch.rope, wraps)


def drum_steps(situation: Situation, plan: LinePlan, prefix: str = "") -> tuple[Step, ...]:
    """Return the steps from the line paid out to the pull on the working layer."""
    winch = winch_of(situation, plan)
    if winch is None:
        return ()
    own = situation.gear[winch.line]
    others = sum(situation.gear[i].line_length for i in plan.line.made_of if i != winch.line)
    steps = [_paid_out(prefix, others), _layer(winch, own, prefix), _available(winch, own, prefix)]
    if prefix:
        return tuple(steps)
    steps.append(_stall())
    travel = situation.stuck.travel
    if travel is not None:
        steps.append(_available_at_end(winch, own, travel * plan.parts_on("stuck_vehicle")))
    return tuple(steps)


def _layer_at(winch: Winch, own: Item, paid_out: float) -> int:
    left = max(0.0, (own.length or 0.0) - max(0.0, paid_out))
    return drum_rules.layer_of_outermost_wrap(left, winch.drum, winch.rope, winch.wraps_per_layer)


def _pull_on(winch: Winch, layer: int) -> float:
    return drum_rules.layer_pull(winch.pull, winch.drum, winch.rope, layer)


def _paid_out(prefix: str, others: float) -> Step:
    needed = f"{prefix}line.needed"
    return Step(
        f"{prefix}winch.paid_out",
        "winch line paid out",
        "L_p",
        "m",
        "line needed less the other lengths",
        LENGTH_SOURCE,
        lambda v: v[needed] - others,
        (needed,),
    )


def _layer(winch: Winch, own: Item, prefix: str) -> Step:
    paid = f"{prefix}winch.paid_out"
    return Step(
        f"{prefix}winch.layer",
        "working layer on the drum",
        "n",
        "-",
        "layer of the outermost wrap left; a wrap on layer n is pi (B + (2n - 1) d) long",
        "geometry of the drum",
        lambda v: float(_layer_at(winch, own, v[paid])),
        (paid,),
    )


def _available(winch: Winch, own: Item, prefix: str) -> Step:
    layer = f"{prefix}winch.layer"
    full = _layer_at(winch, own, 0.0)

    def from_wrong_end(v: Values) -> float:
        return _pull_on(winch, full - int(v[layer]) + 1)

    return Step(
        f"{prefix}pull.available",
        "pull the winch has on its working layer",
        "F_n",
        "N",
        "F_n = F_1 (B + d) / (B + (2n - 1) d)",
        LAYER_SOURCE,
        lambda v: _pull_on(winch, int(v[layer])),
        (layer,),
        (
            Slip(
                "first-layer-pull",
                "first-layer pull on an outer layer",
                lambda v: winch.pull if v[layer] > 1 else None,
                "{given} is the pull on the first layer; on the working layer the winch has "
                "{truth}.",
                DANGEROUS,
            ),
            Slip(
                "layers-from-the-wrong-end",
                "layers counted from the outside",
                from_wrong_end,
                "Layer 1 lies on the drum. Counted from the outside it comes to {given} in "
                "place of {truth}.",
                DANGEROUS,
            ),
        ),
        "down",
    )


def _stall() -> Step:
    return Step(
        "pull.stall",
        "pull at which the winch stalls",
        "F_s",
        "N",
        "F_s = F_n on the working layer at the start, the most the winch can give",
        LAYER_SOURCE,
        lambda v: v["pull.available"],
        ("pull.available",),
    )


def _available_at_end(winch: Winch, own: Item, taken_in: float) -> Step:
    return Step(
        "pull.available.end",
        "pull the winch has left at the end of the travel",
        "F_e",
        "N",
        "F_n on the layer reached when travel times line parts has come in",
        LAYER_SOURCE,
        lambda v: _pull_on(winch, _layer_at(winch, own, v["winch.paid_out"] - taken_in)),
        ("winch.paid_out",),
        rounds="down",
    )
