"""What each anchor of a rig may carry, and its use."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coursekit.mechanics import anchor as hold_rules
from coursekit.mechanics import item as item_rules
from coursekit.rigging.chains.joints import place_key
from coursekit.rigging.chains.loads import use_inverted
from coursekit.rigging.site import Anchor, Situation
from coursekit.rigging.steps import DANGEROUS, Slip, Step, Values


def anchor_limit_of(situation: Situation, anchor: Anchor) -> float:
    """Return the most that an anchor may carry."""
    return hold_rules.anchor_limit(anchor.holds, situation.policy.anchor(anchor))


def anchor_steps(situation: Situation, places: Sequence[str]) -> Iterator[Step]:
    """Yield what each anchor of a rig may carry, and its use."""
    for at in places:
        if at in situation.anchors:
            yield from _anchor_steps(situation, situation.anchors[at])


def _anchor_steps(situation: Situation, anchor: Anchor) -> Iterator[Step]:
    holds, load = f"place.{anchor.id}.holds", place_key(anchor.id)
    factor = situation.policy.anchor(anchor)

    def assessed(_v: Values) -> float:
        return anchor.holds

    yield Step(
        holds,
        "what {place} may carry",
        f"A_{anchor.id}",
        "N",
        "the assessor's figure / {factor}",
        "the assessor's figure; factor for an anchor: common practice, no source",
        lambda _v: anchor_limit_of(situation, anchor),
        slips=(
            Slip(
                "anchor-factor-left-out",
                "the factor on the anchor left out",
                assessed,
                "{given} is the assessor's figure; untested it may carry {truth}.",
                DANGEROUS,
            ),
        )
        if factor != 1.0
        else (),
        rounds="down",
        words={"place": anchor.id, "factor": f"{factor:g}"},
    )
    yield Step(
        f"place.{anchor.id}.use",
        "use of {place}",
        f"u_{anchor.id}",
        "-",
        "use = load / what it may carry",
        "definition",
        lambda v: item_rules.use(v[load], v[holds]),
        (load, holds),
        (use_inverted(load, holds),),
        words={"place": anchor.id},
    )
