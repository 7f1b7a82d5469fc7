"""Everything in a rig that carries load: where it stands, and what it may carry there."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from coursekit.mechanics import item as item_rules
from coursekit.mechanics.bend import bent_share
from coursekit.mechanics.nomenclature import Metre, Radian, Ratio
from coursekit.mechanics.shackle import off_line_share
from coursekit.mechanics.sling import basket_angle, choke_share, hitch_factor
from coursekit.mechanics.tables import WET_NYLON
from coursekit.rigging.chains.joints import LoadedLine, Meeting, place_key
from coursekit.rigging.gear import LINES, Item
from coursekit.rigging.rig import Line, Piece
from coursekit.rigging.site import Situation

CHOKE, OFF_LINE, BEND = "choke_share", "off_line_share", "bend_share"


@dataclass(frozen=True)
class Bend:
    """A line over a pulley: what it keeps, and for wire the sheave over the line."""

    share: Ratio | None
    ratio: Ratio | None = None


@dataclass(frozen=True)
class Wrap:
    """A sling laid round a trunk, from which the angle between its legs follows."""

    length: Metre
    girth: Metre

    @property
    def angle(self) -> Radian | None:
        """The angle between the legs; None where their ends do not meet."""
        return basket_angle(self.length, self.girth)


@dataclass(frozen=True)
class Mount:
    """Where one item stands in a rig: its place, its hitch, the key of its load."""

    item: Item
    load_key: str
    at: str | None
    hitch: str = "straight"
    # Between the legs of a basket or bridle; None where they do not meet round a trunk.
    angle: Radian | None = 0.0
    choke: Radian | None = None
    off_line: Radian | None = None
    bend: Bend | None = None
    wrap: Wrap | None = None

    @property
    def shares(self) -> dict[str, Ratio | None]:
        """The share of its rating that each angle leaves, by the last part of its key.

        None is a share that nothing may be counted on.
        """
        shares: dict[str, Ratio | None] = {}
        if self.choke is not None:
            shares[CHOKE] = choke_share(self.choke)
        if self.off_line is not None:
            shares[OFF_LINE] = off_line_share(self.off_line)
        if self.bend is not None:
            shares[BEND] = self.bend.share
        return shares


def mounts_of(
    situation: Situation, loaded: Sequence[LoadedLine], meetings: Sequence[Meeting]
) -> tuple[Mount, ...]:
    """Return everything that carries load: lines, then each place's gear, its point last."""
    mounts = [
        Mount(
            situation.gear[name],
            line.key,
            None,
            bend=_bend_of(situation, line.plan.line, situation.gear[name]),
        )
        for line in loaded
        for name in line.plan.line.made_of
    ]
    for meeting in meetings:
        mounts.extend(_gear_at(situation, meeting))
    for at in dict.fromkeys(meeting.at for meeting in meetings):
        point = situation.point_at(at)
        if point is not None:
            mounts.append(Mount(point, place_key(at), at))
    return tuple(mounts)


def _bend_of(situation: Situation, line: Line, item: Item) -> Bend | None:
    """Return how a part of a line bends, as if it came to lie on the smallest sheave.

    None without a pulley, or where a diameter or the school's figure is not known.  Of a
    line that may be wire or synthetic the one that keeps less counts.
    """
    if not line.pulleys or item.kind not in LINES:
        return None
    bends = [_wire_bend(situation, line, item)] if item.is_wire else []
    kept = situation.policy.bent_synthetic
    if kept is not None and item.is_textile:
        bends.append(Bend(kept))
    return min(filter(None, bends), key=lambda bend: bend.share or 0.0, default=None)


def _wire_bend(situation: Situation, line: Line, item: Item) -> Bend | None:
    sheaves = [situation.gear[pulley.by].sheave for pulley in line.pulleys]
    smallest = min((sheave for sheave in sheaves if sheave is not None), default=None)
    diameter = situation.diameter_of(item)
    if smallest is None or diameter is None:
        return None
    return Bend(bent_share(smallest, diameter), smallest / diameter)


def _gear_at(situation: Situation, meeting: Meeting) -> Iterator[Mount]:
    line, station = meeting.loaded.plan.line, meeting.station
    pieces: tuple[Piece, ...] = line.to.joined_with
    if station == 0:
        pieces = line.joined_with
    elif meeting.is_turn:
        pieces = line.pulleys[station - 1].joined_with
    for piece in pieces:
        yield mount_of(situation, piece, meeting.key, meeting.at)
    if meeting.is_turn:
        yield Mount(situation.gear[line.pulleys[station - 1].by], meeting.key, meeting.at)


def mount_of(situation: Situation, piece: Piece, load_key: str, at: str | None) -> Mount:
    """Return a piece of a joint as it stands at a place."""
    item = situation.gear[piece.item]
    wrap = _wrap_of(situation, piece, item, at)
    return Mount(
        item,
        load_key,
        at,
        piece.hitch,
        (piece.angle or 0.0) if wrap is None else wrap.angle,
        piece.choke,
        piece.off_line,
        wrap=wrap,
    )


def _wrap_of(situation: Situation, piece: Piece, item: Item, at: str | None) -> Wrap | None:
    """Return how a basket lies whose angle nobody states, where girth and length are known."""
    anchor = situation.anchors.get(at or "")
    if anchor is None or piece.hitch != "basket" or piece.angle is not None:
        return None
    if anchor.girth is None or item.length is None:
        return None
    return Wrap(item.length, anchor.girth)


def factor_of_hitch(situation: Situation, mount: Mount) -> float | None:
    """Return what the hitch does to the rating, None where it has none as it lies."""
    return None if mount.angle is None else factor_at_angle(situation, mount, mount.angle)


def factor_at_angle(situation: Situation, mount: Mount, angle: Radian) -> Ratio | None:
    """Return what the hitch does at an angle; a bridle counts as a two-leg basket."""
    hitch = "basket" if has_legs(mount) else mount.hitch
    return hitch_factor(hitch, angle, situation.policy.sling_factors)


def has_legs(mount: Mount) -> bool:
    """Whether two legs share its load: those of a basket or of a bridle."""
    return mount.hitch == "basket" or mount.item.kind == "bridle"


def factor_of(situation: Situation, mount: Mount) -> Ratio | None:
    """Return what hitch and angles together leave of the rating, None where it has none."""
    factor = factor_of_hitch(situation, mount)
    for share in mount.shares.values():
        factor = None if factor is None or share is None else factor * share
    return factor


def strength(item: Item) -> float | None:
    """Return the breaking strength that counts: wet nylon has lost a share of it."""
    if item.mbs is None:
        return None
    return item.mbs * WET_NYLON if item.is_wet_nylon else item.mbs


def limit_of(situation: Situation, mount: Mount) -> float | None:
    """Return the most that an item may carry where it stands."""
    return limit_by(situation, mount.item, factor_of(situation, mount))


def limit_by(situation: Situation, item: Item, factor: Ratio | None) -> float | None:
    """Return the most that an item may carry, with a factor on its rating."""
    design_factor = situation.policy.factor(item.kind)
    return item_rules.item_limit(item.wll, strength(item), factor, design_factor)


def strength_of(situation: Situation, mount: Mount) -> float | None:
    """Return what an item breaks at where it stands, its hitch counted; None where unknown."""
    mbs, hitch = strength(mount.item), factor_of_hitch(situation, mount)
    return None if mbs is None or hitch is None else mbs * hitch
