"""The two legs of a basket or a bridle: the angle between them, and the load on each.

A rig joins a bridle to one place: a second point for its other leg can't be written, and
the point is held to the whole load, which is the safe side.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from coursekit.mechanics.elementary import asin, cos, sin
from coursekit.mechanics.nomenclature import Radian
from coursekit.mechanics.sling import leg_load
from coursekit.rigging.chains.mounts import Mount, Wrap, factor_of_hitch, has_legs
from coursekit.rigging.chains.shares import angle_key
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, Slip, Step, Term, Values

WRAP_SOURCE = (
    "geometry, derived: two tangents to a round trunk and the arc on its far side; a stretched "
    "sling and the bow of the shackle make the true angle smaller"
)
LEG_SOURCE = "equilibrium of two equal legs; as in tables of sling angles"
# Below this angle two legs share evenly, and no slip about the angle shows.
NEARLY_PARALLEL = math.radians(5.0)


def leg_steps(situation: Situation, mount: Mount) -> Iterator[Step]:
    """Yield the angle that follows from trunk and sling, and the load on each leg.

    Legs that lie wider than any rating goes have no load that could be counted on.
    """
    if mount.wrap is not None:
        yield _angle_step(mount, mount.wrap)
    if has_legs(mount) and factor_of_hitch(situation, mount) is not None:
        yield _leg_step(mount)


def _angle_step(mount: Mount, wrap: Wrap) -> Step:
    return Step(
        angle_key(mount),
        "angle between the legs of {item}",
        f"2 a_{mount.item.id}",
        "rad",
        "L = r (pi + 2 a + 2 / tan a), r = girth / 2 pi, solved for 2 a",
        WRAP_SOURCE,
        lambda _v: wrap.angle,
        slips=tuple(_angle_slips(wrap)),
        words={"item": mount.item.id},
        limits="a round trunk, a thin sling, both of its ends in one shackle",
        terms=(
            Term("L", "length of the sling", "m", wrap.length, "down"),
            Term("U", "girth of the trunk", "m", wrap.girth, "up"),
        ),
    )


def _angle_slips(wrap: Wrap) -> Iterator[Slip]:
    angle = wrap.angle
    if angle is None:
        return
    yield Slip(
        "half-for-included",
        "half of the angle taken for the angle between the legs",
        lambda _v: angle / 2.0,
        "{given} lies between one leg and the middle; between both legs it is {truth}.",
        DANGEROUS,
    )
    yield Slip(
        "wrap-left-out",
        "the sling round the far side of the trunk left out",
        lambda _v: 2.0 * asin(wrap.girth / (math.pi * wrap.length)),
        "{given} counts half the way round the trunk as leg; the legs are shorter, and open to "
        "{truth}.",
        DANGEROUS,
    )


def _leg_step(mount: Mount) -> Step:
    load = f"item.{mount.item.id}.load"
    needs = (load,) if mount.wrap is None else (load, angle_key(mount))

    def angle(v: Values) -> Any:
        return mount.angle if mount.wrap is None else v[angle_key(mount)]

    return Step(
        f"item.{mount.item.id}.leg",
        "load on each leg of {item}",
        f"T_{mount.item.id}",
        "N",
        "F / (2 cos(gamma / 2)), gamma between the legs",
        LEG_SOURCE,
        lambda v: leg_load(v[load], angle(v)),
        needs,
        tuple(_leg_slips(load, mount.angle or 0.0)),
        words={"item": mount.item.id},
        limits="two equal legs to one place; what they end in is held to the whole load",
        expression=f"{{{load}}} / (2 * cos({{gamma}} / 2))",
        terms=(Term("gamma", "angle between the legs", "rad", angle),),
    )


def _leg_slips(load: str, angle: Radian) -> Iterator[Slip]:
    yield Slip(
        "whole-load-on-a-leg",
        "the whole load taken for that of one leg",
        lambda v: v[load],
        "{given} is what both legs carry together; each carries {truth}.",
    )
    if angle <= NEARLY_PARALLEL:
        return
    yield Slip(
        "legs-share-evenly",
        "half of the load for each leg, whatever the angle",
        lambda v: v[load] / 2.0,
        "Half each, {given}, is for parallel legs alone; the wider they open, the more: here "
        "{truth}.",
        DANGEROUS,
    )
    yield Slip(
        "sine-for-cosine-of-legs",
        "sine for cosine of half the angle",
        lambda v: v[load] / (2.0 * sin(angle / 2.0)),
        "Divide by twice the cosine of half the angle between the legs: {truth}, not {given}.",
    )
    if angle < math.radians(85.0):
        yield Slip(
            "full-angle-of-legs-for-half",
            "the full angle between the legs taken for its half",
            lambda v: v[load] / (2.0 * cos(angle)),
            "Take half of the angle between the legs: each carries {truth}, not {given}.",
        )
