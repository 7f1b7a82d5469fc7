"""What each anchor of a rig may carry, and its use."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from coursekit.mechanics import anchor as hold_rules
from coursekit.mechanics import item as item_rules
from coursekit.rigging.chains.holdfasts import HOLDFAST, holdfast_step
from coursekit.rigging.chains.joints import Meeting, place_key
from coursekit.rigging.chains.parked import GRIP, NEED, parked_steps
from coursekit.rigging.site import Anchor, Situation
from coursekit.rigging.steps import DANGEROUS, Slip, Step, Term, Values

BY_ASSESSOR = "the assessor's figure / {factor}"
BY_TABLE = "what the table gives / {factor}"
FACTOR_SOURCE = "the figure as stated; factor for an anchor: common practice, no source"

LIMITS = {
    False: "no more than the assessor's judgement of the ground, the roots and the trunk; a "
    "tie-back counts only in that figure",
    True: "the soil of the table and no other; a tie-back counts for nothing",
}


def anchor_steps(situation: Situation, meetings: Sequence[Meeting]) -> Iterator[Step]:
    """Yield what each anchor of a rig may carry, and its use.

    An anchor is held to by itself: a tie-back to a second one counts for nothing here but
    in the assessor's figure.
    """
    for at in dict.fromkeys(meeting.at for meeting in meetings):
        if at in situation.anchors:
            anchor = situation.anchors[at]
            if anchor.holdfast is not None:
                yield holdfast_step(anchor.id, anchor.holdfast)
            yield _holds_step(situation, anchor)
            if anchor.mass is not None:
                yield from parked_steps(situation, anchor, anchor.mass, meetings)
            yield _use_step(anchor)


def _holds_step(situation: Situation, anchor: Anchor) -> Step:
    factor = situation.policy.anchor(anchor)

    key = f"place.{anchor.id}.{HOLDFAST}"
    needs = () if anchor.holdfast is None else (key,)

    def assessed(v: Values) -> Any:
        return v[key] if needs else anchor.holds

    return Step(
        f"place.{anchor.id}.holds",
        "what {place} may carry",
        f"A_{anchor.id}",
        "N",
        BY_TABLE if needs else BY_ASSESSOR,
        FACTOR_SOURCE,
        lambda v: hold_rules.anchor_limit(assessed(v), factor),
        needs,
        (
            Slip(
                "anchor-factor-left-out",
                "the factor on the anchor left out",
                assessed,
                "{given} is what it is said to hold; untested it may carry {truth}.",
                DANGEROUS,
            ),
        )
        if factor != 1.0
        else (),
        rounds="down",
        words={"place": anchor.id, "factor": f"{factor:g}"},
        limits=LIMITS[bool(needs)],
        expression=f"{{{key}}} / {{f}}" if needs else "{A} / {f}",
        terms=(
            *_assessed(anchor),
            Term("f", "factor on an anchor", "-", factor),
        ),
    )


def _assessed(anchor: Anchor) -> tuple[Term, ...]:
    if anchor.holdfast is not None:
        return ()
    return (Term("A", "what the assessor says it holds", "N", anchor.holds, "down"),)


def _use_step(anchor: Anchor) -> Step:
    holds, load = f"place.{anchor.id}.holds", place_key(anchor.id)
    needed, grip = f"place.{anchor.id}.{NEED}", f"place.{anchor.id}.{GRIP}"

    by_limit = f"{{{load}}} / {{{holds}}}"
    by_both = f"max({by_limit}, {{{needed}}} / {{{grip}}})"

    def of_limit(v: Values) -> float | None:
        return item_rules.use(v[load], v[holds])

    def of_both(v: Values) -> float | None:
        by_limit, by_tyres = item_rules.use(v[load], v[holds]), item_rules.use(v[needed], v[grip])
        return None if by_limit is None or by_tyres is None else max(by_limit, by_tyres)

    is_parked = anchor.mass is not None
    return Step(
        f"place.{anchor.id}.use",
        "use of {place}",
        f"u_{anchor.id}",
        "-",
        USE[is_parked],
        "definition",
        of_both if is_parked else of_limit,
        (load, holds, needed, grip) if is_parked else (load, holds),
        words={"place": anchor.id},
        expression=by_both if is_parked else by_limit,
    )


# By whether the anchor is a vehicle that its tyres hold.
USE = {
    False: "use = load / what it may carry",
    True: "use = the larger of load / what it may carry and of what its tyres must hold / can hold",
}
