"""What the angles that an item is loaded at leave of its rating, as steps."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator

from coursekit.mechanics.elementary import cos, degrees
from coursekit.mechanics.nomenclature import Radian, Ratio
from coursekit.mechanics.shackle import OFF_LINE_STEPS
from coursekit.rigging.chains.mounts import BEND, CHOKE, OFF_LINE, Bend, Mount, factor_at_angle
from coursekit.rigging.site import Situation
from coursekit.rigging.steps import DANGEROUS, Slip, Step, Term, Values

CHOKE_SOURCE = "share of the choker rating by the angle of choke: ASME B30.9, second-hand"
OFF_LINE_SOURCE = (
    "steps of ASME B30.26, bands as in WAC 296-155-33905, percentages from memory; "
    "never read between them"
)
WIRE_SOURCE = "IMCA M 179 formula, in 0027/ND rev 11, table 7-1"
RATIO = "diameter of the sheave over that of the line"
SYNTHETIC_SOURCE = (
    "the school's figure; no readable standard gives one for synthetic line: common practice, "
    "no source"
)


def share_keys(mount: Mount) -> tuple[str, ...]:
    """Return the keys of the shares that are left of an item's rating."""
    return tuple(f"item.{mount.item.id}.{last}" for last in mount.shares)


def angle_key(mount: Mount) -> str:
    """Return the key of the angle between the legs of an item."""
    return f"item.{mount.item.id}.angle"


def rating_keys(mount: Mount) -> tuple[str, ...]:
    """Return the keys that the factor on an item's rating rests on."""
    angle = () if mount.wrap is None else (angle_key(mount),)
    return (*angle, *share_keys(mount))


def factor_at(situation: Situation, mount: Mount, values: Values) -> Ratio | None:
    """Return what multiplies the rating of an item, by folded values."""
    angle = mount.angle if mount.wrap is None else values[angle_key(mount)]
    factor = None if angle is None else factor_at_angle(situation, mount, angle)
    if factor is None:
        return None
    shares: tuple[Ratio, ...] = tuple(values[key] for key in share_keys(mount))
    return factor * math.prod(shares)


def share_steps(mount: Mount) -> Iterator[Step]:
    """Yield the share of its rating that each angle leaves to an item."""
    if mount.choke is not None:
        yield _choke_step(mount, mount.choke)
    if mount.off_line is not None:
        yield _off_line_step(mount, mount.off_line)
    if mount.bend is not None:
        yield _bend_step(mount, mount.bend)


def _choke_step(mount: Mount, choke: Radian) -> Step:
    share = mount.shares[CHOKE]
    return Step(
        f"item.{mount.item.id}.{CHOKE}",
        "share of its choker rating that {item} keeps",
        f"k_{mount.item.id}",
        "-",
        "choked at {angle}: 1 over 120 deg, 0.87 from 90, 0.74 from 60, 0.62 from 30, else 0.49",
        CHOKE_SOURCE,
        lambda _v: share,
        slips=_choke_slips(share, choke),
        rounds="down",
        words=_words(mount, choke),
        limits="a choker that nobody beats down lies at over 120 deg",
        terms=(Term("a", "angle of choke", "rad", choke, "down"),),
    )


def _choke_slips(share: Ratio | None, choke: Radian) -> tuple[Slip, ...]:
    if share is None or share >= 1.0:
        return ()
    return (
        Slip(
            "choke-ignored",
            "the angle of choke ignored",
            lambda _v: 1.0,
            "Beaten down to an angle of choke of {angle} it keeps {truth} of its choker rating, "
            "not {given}.",
            DANGEROUS,
            {"angle": _degrees(choke)},
        ),
    )


def _off_line_step(mount: Mount, off: Radian) -> Step:
    share = mount.shares[OFF_LINE]
    return Step(
        f"item.{mount.item.id}.{OFF_LINE}",
        "share of its rating that {item} keeps off its line",
        f"k_{mount.item.id}",
        "-",
        "{angle} off its line: 1 up to 5 deg, 0.7 up to 45, 0.5 up to 90, nothing beyond",
        OFF_LINE_SOURCE,
        lambda _v: share,
        slips=_off_line_slips(share, off),
        rounds="down",
        words=_words(mount, off),
        limits="a steel shackle with its pin home, loaded on its bow",
        terms=(Term("a", "angle off its line", "rad", off, "up"),),
    )


def _off_line_slips(share: Ratio | None, off: Radian) -> tuple[Slip, ...]:
    if share is None or share >= 1.0:
        return ()
    angle = {"angle": _degrees(off)}
    slips = [
        Slip(
            "off-line-ignored",
            "the angle off its line ignored",
            lambda _v: 1.0,
            "Pulled {angle} off its line a shackle keeps {truth} of its rating, not {given}.",
            DANGEROUS,
            angle,
        ),
        Slip(
            "off-line-cosine",
            "the cosine of the angle off its line",
            lambda _v: cos(off),
            "The side load bends the shackle: the table gives {truth} at {angle}, not the cosine, "
            "{given}.",
            DANGEROUS,
            angle,
        ),
    ]
    between = _interpolated(off)
    if between > share:
        slips.append(
            Slip(
                "off-line-interpolated",
                "the share read between two steps",
                lambda _v: between,
                "The table has steps, and nothing between them: at {angle} it is {truth}, not "
                "{given}.",
                DANGEROUS,
                angle,
            )
        )
    return tuple(slips)


def _bend_step(mount: Mount, bend: Bend) -> Step:
    if bend.ratio is None:
        formula, source = "the school's share of a synthetic line over a pulley", SYNTHETIC_SOURCE
    else:
        formula, source = "1 - 0.5 / sqrt(q), q = D / d of sheave and line", WIRE_SOURCE
    return Step(
        f"item.{mount.item.id}.{BEND}",
        "share of its strength that {item} keeps over its pulleys",
        f"k_{mount.item.id}",
        "-",
        formula,
        source,
        lambda _v: bend.share,
        slips=tuple(_bend_slips(bend)),
        rounds="down",
        words={"item": mount.item.id},
        limits="any part of the line may come to lie on the smallest sheave",
        expression="" if bend.ratio is None else "1 - 0.5 / sqrt({q})",
        terms=() if bend.ratio is None else (Term("q", RATIO, "-", bend.ratio, "down"),),
    )


def _bend_slips(bend: Bend) -> Iterator[Slip]:
    share = bend.share
    if share is None or share >= 1.0:
        return
    yield Slip(
        "bend-ignored",
        "the bend over the pulley ignored",
        lambda _v: 1.0,
        "A bent line is weaker than a straight one: over its pulleys it keeps {truth}, not "
        "{given}.",
        DANGEROUS,
    )
    if bend.ratio is not None:
        yield Slip(
            "bend-loss-for-share",
            "the share that is lost taken for the share that is kept",
            lambda _v: 1.0 - share,
            "{given} is what the bend takes; {truth} is what it leaves.",
        )


def _interpolated(off: Radian) -> Ratio:
    """Return the share on straight lines between the ends of the steps."""
    ends = ((0.0, 1.0), *OFF_LINE_STEPS[1:])
    for (low, more), (high, less) in itertools.pairwise(ends):
        if off <= high:
            return more + (less - more) * (off - low) / (high - low)
    return ends[-1][1]


def _words(mount: Mount, angle: Radian) -> dict[str, object]:
    return {"item": mount.item.id, "angle": _degrees(angle)}


def _degrees(angle: Radian) -> str:
    return f"{degrees(angle):.0f} deg"
