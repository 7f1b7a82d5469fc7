"""Load, limit, use and safety factor of each item."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from coursekit.mechanics import item as item_rules
from coursekit.rigging.chains.legs import leg_steps
from coursekit.rigging.chains.limits import breaking_strength, hitch_term, limit_step, times_shares
from coursekit.rigging.chains.mounts import Mount, factor_of, strength
from coursekit.rigging.chains.shares import factor_at, rating_keys, share_keys, share_steps
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, Slip, Step, Values

# By whether shares of the rating stand beside the hitch factor.
OF_STRENGTH = {
    False: "safety factor = MBS x hitch factor / load",
    True: "safety factor = MBS x hitch factor x shares kept / load",
}


def item_steps(situation: Situation, mounts: Sequence[Mount]) -> Iterator[Step]:
    """Yield load, limit, use and safety factor of each item.

    An item named twice in a rig is held to its larger load and lower limit.
    """
    for name in dict.fromkeys(mount.item.id for mount in mounts):
        here = [mount for mount in mounts if mount.item.id == name]
        yield from _steps_of(situation, name, here)


def _steps_of(situation: Situation, name: str, mounts: Sequence[Mount]) -> Iterator[Step]:
    keys = tuple(dict.fromkeys(mount.load_key for mount in mounts))
    ruling = min(mounts, key=lambda mount: factor_of(situation, mount) or 0.0)
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
        expression=_largest_of(keys),
    )
    yield from leg_steps(situation, ruling)
    yield from share_steps(ruling)
    yield limit_step(situation, ruling)
    yield _use_step(name, load, limit)
    yield _safety_step(situation, ruling, load, limit)


def _largest_of(keys: Sequence[str]) -> str:
    places = ", ".join(f"{{{key}}}" for key in keys)
    return f"max({places})" if len(keys) > 1 else places


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
        expression=f"{{{load}}} / {{{limit}}}",
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
    name, mbs, keys = mount.item.id, strength(mount.item), share_keys(mount)

    def strength_left(v: Values) -> float | None:
        factor = factor_at(situation, mount, v)
        return mbs * factor if mbs and factor else None

    slips = [
        Slip(
            "safety-factor-inverted",
            "load over breaking strength",
            lambda v: v[load] / left if (left := strength_left(v)) else None,
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
        OF_STRENGTH[bool(keys)],
        "definition; ASME B30.26 for shackles",
        lambda v: item_rules.safety_factor(mbs, factor_at(situation, mount, v), v[load]),
        (load, *rating_keys(mount)),
        tuple(slips),
        "down",
        {"item": name},
        expression=f"{times_shares('{MBS} * {h}', mount)} / {{{load}}}",
        terms=(breaking_strength(mount), hitch_term(situation, mount)),
    )
