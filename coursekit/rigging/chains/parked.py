"""A parked vehicle as an anchor: what its tyres must hold, and what they can."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coursekit.mechanics import anchor as hold_rules
from coursekit.mechanics.nomenclature import Kilogram
from coursekit.mechanics.resistance import weight
from coursekit.rigging.chains.joints import Meeting, force_on_place, place_key
from coursekit.rigging.site import Anchor, Situation
from coursekit.rigging.steps import DANGEROUS, PART_LEFT_OUT, Slip, Step, Term, Values

NEED, GRIP = "tyres_need", "tyres_hold"
SOURCE = (
    "Coulomb friction, all wheels braked: Tree Rescue Manual, Arboriculture Australia, 2022, p. 214"
)
PARKED = "weight of the parked vehicle"


def parked_steps(
    situation: Situation, anchor: Anchor, mass: Kilogram, meetings: Sequence[Meeting]
) -> Iterator[Step]:
    """Yield what the tyres of a parked vehicle must hold, and what they can hold."""
    yield _need_step(situation, anchor, mass, meetings)
    yield _grip_step(situation, anchor, mass)


def _need_step(
    situation: Situation, anchor: Anchor, mass: Kilogram, meetings: Sequence[Meeting]
) -> Step:
    downhill = situation.ground.downhill or 0.0
    lines = dict.fromkeys(m.loaded.key for m in meetings if m.at == anchor.id)

    def need(v: Values) -> float | None:
        force = force_on_place(anchor.id, meetings, v)
        if force is None:
            return None
        return hold_rules.tyre_force(*force, weight(mass), v["slope"], downhill)

    return Step(
        f"place.{anchor.id}.{NEED}",
        "what the tyres of {place} must hold",
        f"T_{anchor.id}",
        "N",
        "|F + W sin(theta) downhill|, as vectors",
        SOURCE,
        need,
        (place_key(anchor.id), *lines, "slope"),
        _need_slips(situation, anchor, mass),
        words={"place": anchor.id},
        limits="a line that runs along the ground",
        terms=(Term("W", PARKED, "N", weight(mass), "down"),),
    )


def _need_slips(situation: Situation, anchor: Anchor, mass: Kilogram) -> tuple[Slip, ...]:
    if not situation.ground.slope:
        return ()
    load = place_key(anchor.id)
    return (
        Slip(
            "own-slope-left-out",
            "the slope that the parked vehicle stands on left out",
            lambda v: v[load],
            "{given} is the rig's force alone; the vehicle hangs on its brakes as well, together "
            "{truth}.",
            DANGEROUS,
        ),
        Slip(
            "forces-added-as-numbers",
            "forces of two directions added as numbers",
            lambda v: v[load] + hold_rules.tyre_force(0.0, 0.0, weight(mass), v["slope"], 0.0),
            "{given} adds two forces that point in different ways as numbers; added as vectors "
            "they come to {truth}.",
            PART_LEFT_OUT,
        ),
    )


def _grip_step(situation: Situation, anchor: Anchor, mass: Kilogram) -> Step:
    grip = situation.grip(anchor)
    return Step(
        f"place.{anchor.id}.{GRIP}",
        "what the tyres of {place} can hold",
        f"G_{anchor.id}",
        "N",
        "mu W cos(theta)",
        SOURCE,
        lambda v: hold_rules.grip_capacity(weight(mass), v["slope"], grip),
        ("slope",),
        (
            Slip(
                "parked-weight-for-grip",
                "the weight of the parked vehicle taken for what its tyres hold",
                lambda _v: weight(mass),
                "{given} is the weight of the vehicle; its tyres hold a share of it, {truth}.",
                DANGEROUS,
            ),
        ),
        "down",
        {"place": anchor.id},
        limits="all wheels braked and none chocked; a line that rises takes weight off them",
        expression="{mu} * {W} * cos({slope})",
        terms=(
            Term("mu", "tyre grip", "-", grip, "down"),
            Term("W", PARKED, "N", weight(mass), "down"),
        ),
    )
