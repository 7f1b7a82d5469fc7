"""What may stand in a slot, how it is hitched there, and the share of its limit it uses."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from coursekit.rigging.chains.mounts import limit_of, mount_of
from coursekit.rigging.gear import Item
from coursekit.rigging.rig import Piece
from coursekit.rigging.rules.joints import HOLDS_RING
from coursekit.rigging.search.forces import Forces
from coursekit.rigging.search.pattern import CONNECTOR, PULLEY, SLING, Pattern, Slot
from coursekit.rigging.search.stock import Alike, Stock, Turn, turn_of
from coursekit.rigging.site import Situation

# The included angle at which a basket is reckoned where nothing gives it: common practice,
# no source.  Its factor is 1.732 by the cosine; legs closer together carry more.
BASKET_ANGLE = math.radians(60.0)


@dataclass(frozen=True)
class Demand:
    """What one slot asks: the load there, and the alike items that may stand in it."""

    slot: Slot
    load: float
    uses: Mapping[str, float]
    hitches: Mapping[str, Piece]
    groups: Mapping[str, Alike]


@dataclass(frozen=True)
class Fitting:
    """Judges gear against the slots of one layout with its turns chosen."""

    situation: Situation
    stock: Stock
    pattern: Pattern
    turns: Mapping[Slot, Turn]

    def demand(self, slot: Slot, load: float) -> Demand:
        """Return what may stand in a slot under a load, within its limit."""
        uses, hitches, groups = {}, {}, {}
        for group in self._candidates(slot):
            piece = self._piece(slot, group.item)
            use = self._use(slot, piece, load) if piece else None
            if piece is not None and use is not None and use <= 1.0:
                uses[group.name], hitches[group.name], groups[group.name] = use, piece, group
        return Demand(slot, load, uses, hitches, groups)

    def _candidates(self, slot: Slot) -> tuple[Alike, ...]:
        if slot.part == PULLEY:
            turn = self.turns[slot]
            return tuple(group for group in self.stock.pulleys if turn_of(group.item) == turn)
        return self.stock.slings if slot.part == SLING else self.stock.joiners

    def _piece(self, slot: Slot, item: Item) -> Piece | None:
        """Return an item as it is rigged in a slot; None where it may not stand there."""
        if slot.part == SLING:
            return self._hitched(slot, item)
        if slot.part == CONNECTOR:
            flies = self.pattern.method == "kinetic" and slot.line == 0 and item.is_metal
            return None if flies else Piece(item.id)
        if slot.part == PULLEY:
            return Piece(item.id)
        return Piece(item.id) if self._joins(slot, item) else None

    def _joins(self, slot: Slot, item: Item) -> bool:
        at = slot.at or ""
        if not self.situation.is_wrapped(at) and item.is_cut_by(self.situation.edge_at(at)):
            return False
        turn = self.turns.get(Slot(slot.line, slot.number, PULLEY, slot.at))
        return turn is None or turn[0] != "pulley-ring" or item.kind == HOLDS_RING

    def _hitched(self, slot: Slot, item: Item) -> Piece | None:
        """Return a sling in the hitch that carries most there."""
        anchor = self.situation.anchors[slot.at or ""]
        is_bare = item.kind == "chain" and anchor.kind == "tree"
        if is_bare or item.is_cut_by(anchor.edge):
            return None
        follows = anchor.girth is not None and item.length is not None
        angle = None if follows else BASKET_ANGLE
        hitched = (Piece(item.id, "choker"), Piece(item.id, "basket", angle))
        return max(hitched, key=lambda piece: self._limit(slot, piece) or 0.0)

    def _limit(self, slot: Slot, piece: Piece) -> float | None:
        return limit_of(self.situation, mount_of(self.situation, piece, "", slot.at))

    def _use(self, slot: Slot, piece: Piece, load: float) -> float | None:
        limit = self._limit(slot, piece)
        return None if limit is None else load / limit


def fixed_uses(forces: Forces) -> Iterator[float]:
    """Yield the use of all that a layout has whatever its gear: lines, points, anchors.

    A force without meaning is taken as past every limit.
    """
    situation, layout = forces.layout.situation, forces.layout
    pulleys = {pulley.by for line in layout.rig.lines for pulley in line.pulleys}
    for mount in layout.mounts:
        if mount.item.id not in pulleys:
            yield _share(forces.values[mount.load_key], limit_of(situation, mount))
    for at in layout.places:
        if at in situation.anchors:
            use = forces.values[f"place.{at}.use"]
            yield math.inf if use is None else use


def _share(load: float | None, limit: float | None) -> float:
    return math.inf if load is None or not limit else load / limit
