"""Limit, use and safety factor of each item."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coursekit.mechanics import item as item_rules
from coursekit.mechanics.sling import CHOKER
from coursekit.mechanics.tables import WET_NYLON
from coursekit.rigging.chains.mounts import Mount, factor_of_hitch, limit_of, strength
from coursekit.rigging.gear import Item
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, Slip, Step

RATING_SOURCE = "the rating as marked; hitch factors of ASME B30.9; the maker's label always wins"
FACTOR_SOURCE = "breaking strength over the school's factor: common practice, no source"
WET_FACTOR_SOURCE = (
    "wet nylon keeps 85 % of its strength: UFC 4-159-03, Moorings, 2005, table 6-8; "
    "breaking strength over the school's factor: common practice, no source"
)

# Two legs side by side carry twice what one does.
PARALLEL_BASKET = 2.0


def item_steps(situation: Situation, mounts: Sequence[Mount]) -> Iterator[Step]:
    """Yield load, limit, use and safety factor of each item.

    An item named twice in a rig is held to its larger load and lower limit.
    """
    for name in dict.fromkeys(mount.item.id for mount in mounts):
        here = [mount for mount in mounts if mount.item.id == name]
        yield from _steps_of(situation, name, here)


def _steps_of(situation: Situation, name: str, mounts: Sequence[Mount]) -> Iterator[Step]:
    keys = tuple(dict.fromkeys(mount.load_key for mount in mounts))
    ruling = min(mounts, key=lambda mount: factor_of_hitch(situation, mount) or 0.0)
    load, limit = f"item.{name}.load", f"item.{name}.limit"
    yield Step(
        load,
        "load on {item}",
        f"F_{name}",
        "N",
        "the load of the chain of gear it stands in",
        "every item of a chain carries the load of the chain",
        lambda v: max(v[key] for key in keys),
        keys,
        words={"item": name},
    )
    yield _limit_step(situation, ruling, limit)
    yield _use_step(name, load, limit)
    yield _safety_step(situation, ruling, load, limit)


def _limit_step(situation: Situation, mount: Mount, key: str) -> Step:
    item = mount.item
    factor = situation.policy.factor(item.kind)
    if item.wll is not None:
        formula, source = "limit = WLL x hitch factor", RATING_SOURCE
    elif item.is_wet_nylon:
        formula, source = "limit = {wet} x MBS x hitch factor / {factor}", WET_FACTOR_SOURCE
    else:
        formula, source = "limit = MBS x hitch factor / {factor}", FACTOR_SOURCE
    return Step(
        key,
        "limit of {item}",
        f"L_{item.id}",
        "N",
        formula,
        source,
        lambda _v: limit_of(situation, mount),
        slips=_limit_slips(situation, mount, factor),
        rounds="down",
        words={"item": item.id, "factor": f"{factor:g}", "wet": f"{WET_NYLON:g}"},
    )


def _limit_slips(situation: Situation, mount: Mount, factor: float) -> tuple[Slip, ...]:
    item, hitch = mount.item, factor_of_hitch(situation, mount)
    if hitch is None or (item.wll is None and item.mbs is None):
        return ()
    slips = []
    mbs = strength(item)
    if mbs is not None:
        slips.append(
            Slip(
                "mbs-for-limit",
                "breaking strength taken as the limit",
                lambda _v: mbs * hitch,
                "{given} is where it may break, not what it may carry: the limit is {truth}.",
                DANGEROUS,
            )
        )
    slips.extend(_wet_slips(item, hitch, factor))
    slips.extend(_hitch_slips(item, mount, hitch, factor))
    if item.wll is not None:
        wll = item.wll
        slips.append(
            Slip(
                "wll-times-factor",
                "the WLL multiplied by the factor",
                lambda _v: wll * hitch * factor,
                "The WLL already holds its factor; multiplying it gives {given}, which is no "
                "limit. It may carry {truth}.",
                DANGEROUS,
            )
        )
    slips.append(
        Slip(
            "factor-twice",
            "the factor applied twice",
            lambda v: v[f"item.{item.id}.limit"] / factor,
            "{given} comes out when the factor is applied once more; the limit is {truth}.",
        )
    )
    return tuple(slips)


def _wet_slips(item: Item, hitch: float, factor: float) -> Iterator[Slip]:
    marked = item.mbs
    if item.wll is None and marked is not None and item.is_wet_nylon:
        yield Slip(
            "wet-left-out",
            "the water in the rope left out",
            lambda _v: marked * hitch / factor,
            "{given} is the limit of the dry rope; soaked nylon has lost a share of its "
            "strength, and {truth} is left.",
            DANGEROUS,
        )


def _hitch_slips(item: Item, mount: Mount, hitch: float, factor: float) -> Iterator[Slip]:
    base = item.wll if item.wll is not None else (strength(item) or 0.0) / factor
    if mount.hitch == "straight":
        return
    if mount.hitch == "choker":
        yield Slip(
            "choker-not-reduced",
            "the choker not taken off",
            lambda _v: base,
            "Choked it may carry less than straight: {truth}, not {given}.",
            DANGEROUS,
        )
    elif hitch != PARALLEL_BASKET:
        yield Slip(
            "basket-doubled",
            "the basket doubled whatever the angle",
            lambda _v: PARALLEL_BASKET * base,
            "A basket doubles only with parallel legs; at this angle it may carry {truth}.",
            DANGEROUS,
        )
    other = PARALLEL_BASKET if mount.hitch == "choker" else CHOKER
    yield Slip(
        "hitch-swapped",
        "another hitch taken",
        lambda _v: other * base,
        "{given} is the figure of another hitch; as it is rigged here it may carry {truth}.",
        DANGEROUS,
    )


def _use_step(name: str, load: str, limit: str) -> Step:
    return Step(
        f"item.{name}.use",
        "use of {item}",
        f"u_{name}",
        "-",
        "use = load / limit",
        "definition",
        lambda v: item_rules.use(v[load], v[limit]),
        (load, limit),
        (use_inverted(load, limit),),
        words={"item": name},
    )


def use_inverted(load: str, limit: str) -> Slip:
    """Return the mistake of a use that is taken the wrong way round."""
    return Slip(
        "use-inverted",
        "limit over load",
        lambda v: v[limit] / v[load] if v[load] else None,
        "Use is load over limit, {truth}; the other way round it is {given}.",
    )


def _safety_step(situation: Situation, mount: Mount, load: str, limit: str) -> Step:
    name, mbs = mount.item.id, strength(mount.item)
    hitch = factor_of_hitch(situation, mount)
    slips = [
        Slip(
            "safety-factor-inverted",
            "load over breaking strength",
            lambda v: v[load] / (mbs * hitch) if mbs and hitch else None,
            "A safety factor is strength over load, {truth}; the other way round it is {given}.",
        ),
        Slip(
            "wll-over-load",
            "limit over load",
            lambda v: v[limit] / v[load] if v[limit] and v[load] else None,
            "{given} is limit over load; the safety factor is breaking strength over load, "
            "{truth}.",
        ),
    ]
    if mount.item.wll and mbs:
        ratio = mbs / mount.item.wll
        slips.append(
            Slip(
                "mbs-over-wll",
                "breaking strength over WLL",
                lambda _v: ratio,
                "{given} is the maker's own factor; against this load it is {truth}.",
                DANGEROUS,
            )
        )
    return Step(
        f"item.{name}.safety_factor",
        "safety factor of {item}",
        f"N_{name}",
        "-",
        "safety factor = MBS x hitch factor / load",
        "definition; ASME B30.26 for shackles",
        lambda v: item_rules.safety_factor(mbs, hitch, v[load]),
        (load,),
        tuple(slips),
        "down",
        {"item": name},
    )
