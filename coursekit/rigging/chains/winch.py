"""Line on the drum: length needed and available, working layer, pull on that layer."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence

from coursekit.mechanics import winch as drum_rules
from coursekit.mechanics.tables import DEAD_WRAPS
from coursekit.rigging.chains.fleet import fleet_step
from coursekit.rigging.gear import Item
from coursekit.rigging.plan import LinePlan, dot, unit_vector
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, PART_LEFT_OUT, Slip, Step, Term, Values
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
    winch = winch_of(situation, plan)
    dead = dead_length(situation, winch) if winch else 0.0
    parts = tuple(
        Term(f"L{n}", "part {n} of the path", "m", length, "up", {"n": n})
        for n, length in enumerate(plan.lengths, start=1)
    )
    made_of = tuple(
        Term(f"l{n}", "length of {item}", "m", item.line_length, "given", {"item": item.id})
        for n, item in enumerate(gear, start=1)
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
            slips=tuple(_needed_slips(situation, plan)),
            limits="on the plan: the rise and fall of the ground adds to it",
            expression=_sum_of(parts),
            terms=parts,
        ),
        Step(
            f"{prefix}line.available",
            "line at hand",
            "L_a",
            "m",
            "all lengths less the dead wraps on layer 1",
            DEAD_WRAP_SOURCE if dead else LENGTH_SOURCE,
            lambda _v: lengths - dead,
            slips=tuple(_line_at_hand_slips(gear, dead)),
            rounds="down",
            expression=f"{_sum_of(made_of)} - {{L_w}}" if dead else _sum_of(made_of),
            terms=(*made_of, Term("L_w", "what stays on the drum", "m", dead or None)),
        ),
    )


def _needed_slips(situation: Situation, plan: LinePlan) -> Iterator[Slip]:
    straight, way = plan.lengths[0], unit_vector(situation.stuck.exit or 0.0)
    ahead = sum(
        abs(dot(direction, way)) * length
        for direction, length in zip(plan.directions, plan.lengths, strict=True)
    )
    if plan.line.pulleys:
        yield Slip(
            "first-part-only",
            "only the first part of the line counted",
            lambda _v: straight,
            "{given} is the way to the first pulley; the whole path is {truth}.",
            PART_LEFT_OUT,
        )
    yield Slip(
        "aside-left-out",
        "what lies to the side left out",
        lambda _v: ahead,
        "{given} counts only what lies ahead; a part that also runs to the side is longer, "
        "{truth} in all.",
        PART_LEFT_OUT,
    )


def _line_at_hand_slips(gear: Sequence[Item], dead: float) -> Iterator[Slip]:
    lengths = sum(item.line_length for item in gear)
    if dead:
        yield Slip(
            "dead-wraps-left-out",
            "the wraps that stay on the drum left out",
            lambda _v: lengths,
            "{given} is the whole line; with the wraps that must stay on the drum {truth} "
            "can be used.",
            PART_LEFT_OUT,
        )


def _sum_of(terms: Iterable[Term]) -> str:
    return " + ".join(f"{{{term.symbol}}}" for term in terms)


def winch_of(situation: Situation, plan: LinePlan) -> Winch | None:
    """Return the winch that a line starts at."""
    vehicle = situation.vehicle_at(plan.line.start)
    return vehicle.winch if vehicle and plan.line.starts_at_winch else None


def dead_length(situation: Situation, winch: Winch) -> float:
    """Return the length of line that has to stay on a winch's drum."""
    wraps = winch.dead_wraps
    if wraps is None:
        own = situation.gear.get(winch.line)
        is_wire = own is not None and own.is_surely_wire
        wraps = DEAD_WRAPS["wire" if is_wire else "synthetic"]
    return drum_rules.dead_wrap_length(winch.drum, winch.rope, wraps)


def drum_steps(situation: Situation, plan: LinePlan, prefix: str = "") -> tuple[Step, ...]:
    """Return the steps from the line paid out to the pull on the working layer."""
    winch = winch_of(situation, plan)
    if winch is None:
        return ()
    own = situation.gear[winch.line]
    others = sum(situation.gear[i].line_length for i in plan.line.made_of if i != winch.line)
    steps = [_paid_out(prefix, others), _layer(winch, own, prefix), _available(winch, prefix)]
    if prefix:
        return tuple(steps)
    steps += [_stall(), *fleet_step(winch, plan)]
    travel = situation.stuck.travel
    if travel is not None:
        steps.append(_available_at_end(winch, own, travel, plan.parts_on("stuck_vehicle")))
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
        expression=f"{{{needed}}} - {{L_o}}",
        terms=(Term("L_o", "length of the other lines and slings", "m", others),),
    )


def _layer(winch: Winch, own: Item, prefix: str) -> Step:
    paid, layer = f"{prefix}winch.paid_out", f"{prefix}winch.layer"
    full = float(_layer_at(winch, own, 0.0))
    return Step(
        layer,
        "working layer on the drum",
        "n",
        "-",
        "layer of the outermost wrap left; a wrap on layer n is pi (B + (2n - 1) d) long",
        "geometry of the drum",
        lambda v: float(_layer_at(winch, own, v[paid])),
        (paid,),
        (
            Slip(
                "layers-from-the-wrong-end",
                "layers counted from the outside",
                lambda v: full - v[layer] + 1.0,
                "Layer 1 lies on the drum. Counted from the outside it comes to {given} in "
                "place of {truth}.",
                DANGEROUS,
            ),
            Slip(
                "full-drum",
                "the drum taken as full",
                lambda _v: full,
                "With the whole line on the drum it would be {given}; what is paid out has left "
                "the drum: {truth}.",
            ),
        ),
        limits="wraps laid side by side; on a drum wound loosely the layers stand higher",
        terms=(
            Term("L_d", "length of the winch line", "m", own.length, "given"),
            Term("w", "wraps on a layer", "count", winch.wraps_per_layer),
            *_drum(winch),
        ),
    )


def _available(winch: Winch, prefix: str) -> Step:
    layer = f"{prefix}winch.layer"
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
        ),
        "down",
        limits="a motor at its rated voltage; a hot or weak one gives less",
        expression=f"{{F_1}} * ({{B}} + {{d}}) / ({{B}} + (2 * {{{layer}}} - 1) * {{d}})",
        terms=(Term("F_1", "pull on the first layer", "N", winch.pull, "down"), *_drum(winch)),
    )


def _drum(winch: Winch) -> tuple[Term, Term]:
    return (
        Term("B", "diameter of the drum", "m", winch.drum),
        Term("d", "diameter of the rope", "m", winch.rope),
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
        (
            Slip(
                "pull-for-stall",
                "the pull that is needed taken for the stall",
                lambda v: v["pull"],
                "{given} is what the winch must give while the vehicle moves; should it hang up, "
                "the winch goes on to {truth}.",
                DANGEROUS,
            ),
        ),
        expression="{pull.available}",
    )


def _available_at_end(winch: Winch, own: Item, travel: float, parts: int) -> Step:
    def pull_after(taken_in: float) -> Callable[[Values], float]:
        return lambda v: _pull_on(winch, _layer_at(winch, own, v["winch.paid_out"] - taken_in))

    return Step(
        "pull.available.end",
        "pull the winch has left at the end of the travel",
        "F_e",
        "N",
        "F_n on the layer reached when travel times line parts has come in",
        LAYER_SOURCE,
        pull_after(travel * parts),
        ("winch.paid_out",),
        (
            Slip(
                "start-for-end",
                "the pull at the start taken for that at the end",
                lambda v: v["pull.available"],
                "{given} is what the winch has at the start; line that comes in builds layers, "
                "and at the end {truth} is left.",
                DANGEROUS,
            ),
            Slip(
                "travel-once",
                "the travel taken in once, whatever the parts",
                pull_after(travel),
                "Each metre of travel takes in a metre for every part of line: at the end the "
                "winch has {truth}, not {given}.",
                DANGEROUS,
            ),
        ),
        "down",
        terms=(Term("L_i", "line that comes in on the way", "m", travel * parts),),
    )
