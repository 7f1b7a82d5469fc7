"""What may stand in a slot, how it is hitched there, and the share of its limit it uses."""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, field, replace

from coursekit.rigging.chains.mounts import limit_of, mount_of
from coursekit.rigging.gear import Item
from coursekit.rigging.rig import Piece
from coursekit.rigging.rules.joints import HOLDS_RING
from coursekit.rigging.search.forces import Forces
from coursekit.rigging.search.pattern import CONNECTOR, PULLEY, SLING, Slot
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

    def single_items(self, taken: Container[str], most: int) -> dict[str, float]:
        """Return the single items that may stand here, and their use; of alike ones so many."""
        return {
            item: use
            for name, use in self.uses.items()
            for item in [i for i in self.groups[name].ids if i not in taken][:most]
        }

    def item(self, name: str) -> Item:
        """Return what a single item is."""
        return self._group_of(name).item

    def piece(self, name: str) -> Piece:
        """Return a single item as it is rigged here."""
        return replace(self.hitches[self._group_of(name).name], item=name)

    def without(self, name: str | None) -> Demand:
        """Return the demand with an item, and all that are like it, ruled out."""
        kept = {one: use for one, use in self.uses.items() if name not in self.groups[one].ids}
        return replace(self, uses=kept)

    def _group_of(self, name: str) -> Alike:
        return next(group for group in self.groups.values() if name in group.ids)


@dataclass(frozen=True)
class Offer:
    """Alike items as they may be rigged in a kind of slot, and what they may carry there."""

    group: Alike
    piece: Piece
    limit: float


@dataclass(frozen=True)
class Fitting:
    """Judges gear against slots; what it found once for a kind of slot it keeps."""

    situation: Situation
    stock: Stock
    _kept: dict[tuple[object, ...], tuple[Offer, ...]] = field(default_factory=dict)

    def demand(self, slot: Slot, load: float, turn: Turn | None, *, kinetic: bool) -> Demand:
        """Return what may stand in a slot under a load, within its limit.

        `turn` is the kind of pulley that stands there, or that the slot holds.
        """
        offers = [
            offer for offer in self._offers(slot, turn, kinetic=kinetic) if load <= offer.limit
        ]
        return Demand(
            slot,
            load,
            {offer.group.name: load / offer.limit for offer in offers},
            {offer.group.name: offer.piece for offer in offers},
            {offer.group.name: offer.group for offer in offers},
        )

    def _offers(self, slot: Slot, turn: Turn | None, *, kinetic: bool) -> tuple[Offer, ...]:
        key = (slot.part, slot.at, turn, kinetic)
        if key not in self._kept:
            pieces = (
                (group, self._piece(slot, group.item, turn, kinetic=kinetic))
                for group in self._candidates(slot, turn)
            )
            self._kept[key] = tuple(
                Offer(group, piece, limit)
                for group, piece in pieces
                if piece is not None and (limit := self._limit(slot, piece))
            )
        return self._kept[key]

    def _candidates(self, slot: Slot, turn: Turn | None) -> tuple[Alike, ...]:
        if slot.part == PULLEY:
            return tuple(group for group in self.stock.pulleys if turn_of(group.item) == turn)
        return self.stock.slings if slot.part == SLING else self.stock.joiners

    def _piece(self, slot: Slot, item: Item, turn: Turn | None, *, kinetic: bool) -> Piece | None:
        """Return an item as it is rigged in a slot; None where it may not stand there."""
        if slot.part == SLING:
            return self._hitched(slot, item)
        if slot.part == CONNECTOR:
            return None if kinetic and item.is_metal else Piece(item.id)
        if slot.part == PULLEY:
            return Piece(item.id)
        return Piece(item.id) if self._joins(slot, item, turn) else None

    def _joins(self, slot: Slot, item: Item, turn: Turn | None) -> bool:
        at = slot.at or ""
        if not self.situation.is_wrapped(at) and item.is_cut_by(self.situation.edge_at(at)):
            return False
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
