"""The limit of each item as it is rigged, and the usual mistakes about it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from coursekit.mechanics.nomenclature import Newton
from coursekit.mechanics.sling import CHOKER
from coursekit.mechanics.tables import WET_NYLON
from coursekit.rigging.chains.mounts import (
    Mount,
    factor_of,
    factor_of_hitch,
    limit_by,
    strength,
)
from coursekit.rigging.chains.shares import factor_at, rating_keys, share_keys
from coursekit.rigging.gear import Item
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, Rule, Slip, Step, Term

RATING_SOURCE = "the rating as marked; hitch factors of ASME B30.9; the maker's label always wins"
FACTOR_SOURCE = "breaking strength over the school's factor: common practice, no source"
WET_FACTOR_SOURCE = (
    "wet nylon keeps 85 % of its strength: UFC 4-159-03, Moorings, 2005, table 6-8; "
    "breaking strength over the school's factor: common practice, no source"
)

# By whether shares of the rating stand beside the hitch factor.
OF_WLL = {
    False: "limit = WLL x hitch factor",
    True: "limit = WLL x hitch factor x shares kept",
}
OF_MBS = {
    False: "limit = MBS x hitch factor / {factor}",
    True: "limit = MBS x hitch factor x shares kept / {factor}",
}
OF_WET_MBS = {
    False: "limit = {wet} x MBS x hitch factor / {factor}",
    True: "limit = {wet} x MBS x hitch factor x shares kept / {factor}",
}

# Two legs side by side carry twice what one does.
PARALLEL_BASKET = 2.0


def limit_step(situation: Situation, mount: Mount) -> Step:
    """Return the most that an item may carry as it is rigged."""
    item = mount.item
    factor = situation.policy.factor(item.kind)
    keys = share_keys(mount)
    if item.wll is not None:
        formula, source = OF_WLL[bool(keys)], RATING_SOURCE
    elif item.is_wet_nylon:
        formula, source = OF_WET_MBS[bool(keys)], WET_FACTOR_SOURCE
    else:
        formula, source = OF_MBS[bool(keys)], FACTOR_SOURCE
    return Step(
        f"item.{item.id}.limit",
        "limit of {item}",
        f"L_{item.id}",
        "N",
        formula,
        source,
        lambda v: limit_by(situation, item, factor_at(situation, mount, v)),
        rating_keys(mount),
        tuple(_limit_slips(situation, mount)),
        rounds="down",
        words={"item": item.id, "factor": f"{factor:g}", "wet": f"{WET_NYLON:g}"},
        limits="for gear that passed its inspection; the maker's label always wins",
        expression=times_shares("{WLL} * {h}", mount)
        if item.wll is not None
        else f"{times_shares('{MBS} * {h}', mount)} / {factor:g}",
        terms=(
            breaking_strength(mount)
            if item.wll is None
            else Term("WLL", "working load limit as marked", "N", item.wll, "down"),
            hitch_term(situation, mount),
        ),
    )


def times_shares(product: str, mount: Mount) -> str:
    """Return an expression times each share of the rating that the item keeps."""
    return " * ".join([product, *(f"{{{key}}}" for key in share_keys(mount))])


def breaking_strength(mount: Mount) -> Term:
    """Return the breaking strength as a number of a formula, the loss of wet nylon off it."""
    return Term("MBS", "breaking strength that counts", "N", strength(mount.item), "down")


def hitch_term(situation: Situation, mount: Mount) -> Term:
    """Return the hitch factor as a number of a formula."""
    return Term("h", "hitch factor", "-", factor_of_hitch(situation, mount), "down")


@dataclass(frozen=True)
class _Rated:
    """An item with a rating, and what its hitch and angles leave of that."""

    situation: Situation
    mount: Mount

    @property
    def item(self) -> Item:
        return self.mount.item

    @property
    def design_factor(self) -> float:
        return self.situation.policy.factor(self.item.kind)

    def times_factor(self, rating: Newton) -> Rule:
        """Return the rule that multiplies a rating by the hitch factor and the shares."""
        return lambda v: rating * (factor_at(self.situation, self.mount, v) or 0.0)

    def as_straight(self, hitch: float) -> Rule:
        """Return the rule of another hitch factor, with the shares that are kept."""
        item = self.item
        base = item.wll if item.wll is not None else (strength(item) or 0.0) / self.design_factor
        keys = share_keys(self.mount)
        return lambda v: hitch * base * math.prod(v[key] for key in keys)


def _limit_slips(situation: Situation, mount: Mount) -> Iterator[Slip]:
    item = mount.item
    if factor_of(situation, mount) is None or (item.wll is None and item.mbs is None):
        return
    rated = _Rated(situation, mount)
    factor, mbs = rated.design_factor, strength(item)
    if mbs is not None:
        yield Slip(
            "mbs-for-limit",
            "breaking strength taken as the limit",
            rated.times_factor(mbs),
            "{given} is where it may break, not what it may carry: the limit is {truth}.",
            DANGEROUS,
        )
    yield from _wet_slips(rated)
    yield from _hitch_slips(rated)
    if item.wll is not None:
        yield Slip(
            "wll-times-factor",
            "the WLL multiplied by the factor",
            rated.times_factor(item.wll * factor),
            "The WLL already holds its factor; multiplying it gives {given}, which is no "
            "limit. It may carry {truth}.",
            DANGEROUS,
        )
    yield Slip(
        "factor-twice",
        "the factor applied twice",
        lambda v: _once_more(v[f"item.{item.id}.limit"], factor),
        "{given} comes out when the factor is applied once more; the limit is {truth}.",
    )


def _once_more(limit: Newton | None, factor: float) -> Newton | None:
    """Return a limit with the factor taken off again; none where the angle allows no such hitch."""
    return None if limit is None else limit / factor


def _wet_slips(rated: _Rated) -> Iterator[Slip]:
    item = rated.item
    if item.wll is None and item.mbs is not None and item.is_wet_nylon:
        yield Slip(
            "wet-left-out",
            "the water in the rope left out",
            rated.times_factor(item.mbs / rated.design_factor),
            "{given} is the limit of the dry rope; soaked nylon has lost a share of its "
            "strength, and {truth} is left.",
            DANGEROUS,
        )


def _hitch_slips(rated: _Rated) -> Iterator[Slip]:
    mount = rated.mount
    if mount.hitch == "straight":
        return
    if mount.hitch == "choker":
        yield Slip(
            "choker-not-reduced",
            "the choker not taken off",
            rated.as_straight(1.0),
            "Choked it may carry less than straight: {truth}, not {given}.",
            DANGEROUS,
        )
    elif factor_of_hitch(rated.situation, mount) != PARALLEL_BASKET:
        yield Slip(
            "basket-doubled",
            "the basket doubled whatever the angle",
            rated.as_straight(PARALLEL_BASKET),
            "{given} is for a basket with parallel legs; at this angle it may carry {truth}.",
            DANGEROUS,
        )
    yield Slip(
        "hitch-swapped",
        "another hitch taken",
        rated.as_straight(PARALLEL_BASKET if mount.hitch == "choker" else CHOKER),
        "{given} is the figure of another hitch; as it is rigged here it may carry {truth}.",
        DANGEROUS,
    )
