"""How far away everyone stays, and the usual mistakes about it: each is on the unsafe side."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from coursekit.mechanics.clearance import KINETIC_LENGTHS, kinetic_stand_off, line_stand_off
from coursekit.rigging.plan import LinePlan, farthest_apart
from coursekit.rigging.rig import Rig
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, Slip, Step, Term

KINETIC_STAND_OFF = (
    "1.5 x the rigged length, never in its line: instructions of the Australian Consumer Goods "
    "(Motor Vehicle Recovery Straps) Safety Standard 2017, second-hand"
)
LINE_STAND_OFF = (
    "the larger of the two farthest points of the rig (FM 21-305 ch. 22, second-hand) and the "
    "line in use (TM 9-2320-356-BD p. 4-4); twice the line in use on wire, second-hand"
)

# A straight line is as long as the span of its ends, but for float dust.
_SAME = 1.0 - 1e-9


def stand_off_step(situation: Situation, rig: Rig, plans: Sequence[LinePlan]) -> Step:
    """Return the step for the distance that everyone keeps; `plans` are the rig's lines."""
    gear = situation.gear
    rigged = sum(gear[i].line_length for i in rig.pull_line.made_of)
    farthest = farthest_apart([position for plan in plans for position in plan.positions])
    is_wire = any(gear[i].is_wire for line in rig.lines for i in line.made_of)
    in_use = max(plan.length for plan in plans)
    if rig.method != "winch":
        in_use = max(in_use, rigged)
    along_line = line_stand_off(farthest, in_use, is_wire)
    # A chain that states no length is found too short; the distance is then that of its ends.
    if rig.method == "kinetic" and rigged:
        distance = kinetic_stand_off(rigged)
        distance = max(distance, along_line) if len(rig.lines) > 1 else distance
        formula, source = "1.5 x the rigged length", KINETIC_STAND_OFF
        return replace(
            _stand_off(formula, source, distance),
            slips=tuple(_kinetic_slips(rigged, farthest)),
            expression="1.5 * {L_r}" if len(rig.lines) == 1 else "",
            terms=(Term("L_r", "rigged length", "m", rigged, "up"),),
        )
    formula, source = "the larger of both", LINE_STAND_OFF
    return replace(
        _stand_off(formula, source, along_line),
        slips=tuple(_line_slips(farthest, in_use, along_line, is_wire=is_wire)),
        expression="max({D_f}, 2 * {L_u})" if is_wire else "max({D_f}, {L_u})",
        terms=(
            Term("D_f", "the two farthest points of the rig apart", "m", farthest, "up"),
            Term("L_u", "length of line in use", "m", in_use, "up"),
        ),
    )


def _kinetic_slips(rigged: float, apart: float) -> Iterator[Slip]:
    yield Slip(
        "one-length",
        "one length of the rope",
        lambda _v: rigged,
        "{given} is the rope's own length; everyone stays {truth} away, and never in line.",
        DANGEROUS,
    )
    yield Slip(
        "gap-for-rope",
        "the gap between the vehicles taken for the rope",
        lambda _v: KINETIC_LENGTHS * apart,
        "{given} is reckoned from the gap between the vehicles; the rope is longer, and "
        "reaches farther when it parts: {truth}.",
        DANGEROUS,
    )


def _line_slips(
    farthest: float, in_use: float, distance: float, *, is_wire: bool
) -> Iterator[Slip]:
    if farthest < in_use * _SAME:
        yield Slip(
            "farthest-points-only",
            "only the farthest points of the rig taken",
            lambda _v: farthest,
            "{given} lies between the farthest points of the rig; the line in use is longer, and "
            "the larger counts: {truth}.",
            DANGEROUS,
        )
    if is_wire and in_use < distance:
        yield Slip(
            "wire-not-doubled",
            "wire taken like synthetic line",
            lambda _v: in_use,
            "{given} is the line in use; on wire everyone keeps twice as far, {truth}.",
            DANGEROUS,
        )


def _stand_off(formula: str, source: str, distance: float) -> Step:
    return Step(
        "stand_off",
        "distance that everyone keeps",
        "D",
        "m",
        formula,
        source,
        lambda _v: distance,
    )
